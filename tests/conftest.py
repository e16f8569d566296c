"""A fresh app on a temporary database for each test; the tables are made once and copied."""

import shutil
from pathlib import Path

import pytest
from flask import Flask

from makegood.app import bring_up_to_date, create_app
from makegood.settings import Settings
from tests.make import Grounds, make_grounds


@pytest.fixture(scope="session")
def empty_data(tmp_path_factory) -> Path:
    """A data folder with empty tables."""
    folder = tmp_path_factory.mktemp("empty")
    app = create_app(Settings(data=folder))
    bring_up_to_date(app)
    with app.app_context():
        app.extensions["sqlalchemy"].engine.dispose()
    return folder


@pytest.fixture
def settings(empty_data, tmp_path) -> Settings:
    """Settings on a data folder of the test's own."""
    shutil.copytree(empty_data, tmp_path / "data")
    return Settings(data=tmp_path / "data", enrols_per_minute=1000)


@pytest.fixture
def app(settings) -> Flask:
    """The app on its own database."""
    return create_app(settings)


@pytest.fixture
def grounds(app) -> Grounds:
    """A site with one wall, and its keeper's phone."""
    return make_grounds(app)
