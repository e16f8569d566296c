"""A fresh app on a temporary database for each test; the tables are made once and copied.

SQLite by default; with MAKEGOOD_TEST_DATABASE=postgresql the same tests run on a PostgreSQL server of their own.
"""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from flask import Flask

from makegood.app import bring_up_to_date, create_app
from makegood.settings import Settings
from makegood.store import clock
from makegood.store.database import writing
from tests import postgres
from tests.make import Grounds, make_grounds, make_id

_EMPTY = "makegood_empty"


@pytest.fixture(scope="session")
def postgres_server() -> Iterator[postgres.Postgres]:
    """A PostgreSQL server for this run."""
    server = postgres.start()
    yield server
    server.stop()


@pytest.fixture(scope="session")
def empty_postgres(postgres_server, tmp_path_factory) -> postgres.Postgres:
    """The server, with a database of empty tables to copy."""
    _make_tables(Settings(data=tmp_path_factory.mktemp("empty"), database_url=postgres_server.create(_EMPTY)))
    return postgres_server


@pytest.fixture
def postgres_settings(empty_postgres, tmp_path) -> Iterator[Settings]:
    """Settings on a PostgreSQL database of the test's own."""
    name = empty_postgres.fresh(_EMPTY)
    address = empty_postgres.address(name)
    yield Settings(data=tmp_path / "data", database_url=address, enrols_per_minute=1000, syncs_per_minute=100_000)
    empty_postgres.drop(name)


@pytest.fixture(scope="session")
def empty_data(tmp_path_factory) -> Path:
    """A data folder with empty tables."""
    folder = tmp_path_factory.mktemp("empty")
    _make_tables(Settings(data=folder))
    return folder


@pytest.fixture
def sqlite_settings(empty_data, tmp_path) -> Settings:
    """Settings on a data folder of the test's own."""
    return copied(empty_data, tmp_path)


def copied(empty_data: Path, folder: Path) -> Settings:
    """Return settings on a copy of the empty tables."""
    shutil.copytree(empty_data, folder / "data")
    return Settings(data=folder / "data", enrols_per_minute=1000, syncs_per_minute=100_000)


def _make_tables(settings: Settings) -> None:
    app = create_app(settings)
    bring_up_to_date(app)
    with app.app_context():
        app.extensions["sqlalchemy"].engine.dispose()


@pytest.fixture
def settings(request) -> Settings:
    """Settings on the database this run is about."""
    found: Settings = request.getfixturevalue("postgres_settings" if postgres.WANTED else "sqlite_settings")
    return found


@pytest.fixture
def app(settings) -> Flask:
    """The app on its own database."""
    return create_app(settings)


@pytest.fixture
def grounds(app) -> Grounds:
    """A site with one wall, and its keeper's phone."""
    return make_grounds(app)


@pytest.fixture
def site(app) -> Iterator[str]:
    """The id of an empty site, with the app's context open."""
    with app.app_context():
        site_id = make_id()
        with writing():
            clock.start_site(site_id)
        yield site_id
