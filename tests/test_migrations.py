"""From every earlier version, with a site in it, to the present one: every row still there and given to phones.

tests/recorded/<revision>.json is what tests/write_site.py wrote of a database at that version: rows of every table as
they stood then. Each new migration is preceded by a file of the version before it; none is ever changed.
"""

import json
from datetime import UTC, datetime
from pathlib import Path

import pytest
from alembic import command
from alembic.script import ScriptDirectory
from sqlalchemy import MetaData, Table, insert, select

from makegood.app import bring_up_to_date, create_app
from makegood.settings import Settings
from makegood.store.database import WRITES, db
from makegood.work.keeping.check_site import check_site
from tests import postgres
from tests.make import Phone
from tests.write_site import SESSION

RECORDED = Path(__file__).parent / "recorded"
FOLDER = Path(__file__).resolve().parents[1] / "server" / "makegood" / "migrations"
REVISIONS = [one.revision for one in reversed(list(ScriptDirectory(str(FOLDER)).walk_revisions()))]
FILES = sorted(RECORDED.glob("*.json"))
NOT_ROWS = {"alembic_version"}


@pytest.fixture
def bare(tmp_path, request):
    """An app whose database has no tables at all."""
    address = ""
    if postgres.WANTED:
        server = request.getfixturevalue("postgres_server")
        address = server.create(f"bare_{request.node.callspec.indices['recorded']}_{server.made}")
        server.made += 1
    return create_app(Settings(data=tmp_path / "data", database_url=address, enrols_per_minute=1000))


def tables_now():
    """Return the tables as they are in the database, not as the models have them."""
    found = MetaData()
    found.reflect(db.engine)
    return {table.name: table for table in found.sorted_tables if table.name not in NOT_ROWS}


def fill(rows_of: dict[str, list[dict]]) -> None:
    with db.engine.connect().execution_options(**{WRITES: True}) as connection, connection.begin():
        for name, table in tables_now().items():
            if rows_of.get(name):
                connection.execute(insert(table), rows_of[name])


def rows_in(table: Table) -> list[dict]:
    with db.engine.connect() as connection:
        return [dict(row) for row in connection.execute(select(table)).mappings()]


def test_every_version_but_the_last_has_a_recorded_site():
    assert [path.stem for path in FILES] == REVISIONS[:-1]


@pytest.mark.parametrize("recorded", FILES, ids=lambda path: path.stem)
def test_site_of_an_earlier_version_is_there_whole_after_the_way_up(bare, recorded):
    rows_of = json.loads(recorded.read_text("utf-8"))
    assert all(rows_of.values()), "a table without a row proves nothing"
    config = bare.extensions["migrate"].migrate.get_config
    with bare.app_context():
        command.upgrade(config(), recorded.stem)
        assert set(rows_of) == set(tables_now()), "every table of that version is recorded"
        fill(rows_of)
    bring_up_to_date(bare)
    with bare.app_context():
        for name, table in tables_now().items():
            before, after = rows_of.get(name, []), rows_in(table)
            assert len(after) == len(before), name
            kept = [{key: row[key] for key in before[0] if key in row} for row in after] if before else []
            missing = [row for row in before if {k: v for k, v in row.items() if k in table.c} not in kept]
            assert not missing, (name, missing)
        site = rows_of["site"][0]["site_id"]
        troubles = check_site(site, bare.config["PHOTO_BYTES"], datetime.now(UTC).date()).troubles
        # The recorded site has its photos' rows, not their bytes.
        assert [one for one in troubles if not one.startswith("photo bytes")] == []


@pytest.mark.parametrize("recorded", FILES, ids=lambda path: path.stem)
def test_phone_of_an_earlier_version_fetches_what_is_there(bare, recorded):
    rows_of = json.loads(recorded.read_text("utf-8"))
    with bare.app_context():
        command.upgrade(bare.extensions["migrate"].migrate.get_config(), recorded.stem)
        fill(rows_of)
    bring_up_to_date(bare)
    client = bare.test_client()
    client.set_cookie("makegood", SESSION, domain="localhost")
    me = client.get("/api/me")
    assert me.status_code == 200, me.json
    phone = Phone(client, me.json["csrf"], me.json["device_id"]).pull()
    named = {(name, row["id"]) for name, rows in rows_of.items() for row in rows if "fv" in row and not row["deleted"]}
    assert set(phone.rows) == named
