"""Both databases for every test here, whatever the run is about."""

import pytest
from flask import Flask

from makegood.app import create_app
from makegood.settings import Settings


@pytest.fixture(params=["sqlite", "postgresql"])
def settings(request) -> Settings:
    """Settings on a database of the test's own, one kind after the other."""
    found: Settings = request.getfixturevalue(
        "postgres_settings" if request.param == "postgresql" else "sqlite_settings"
    )
    return found


@pytest.fixture
def app(settings) -> Flask:
    """The app on its own database."""
    return create_app(settings)
