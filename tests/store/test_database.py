"""Both databases are held to their rules, and writing happens only where it says so."""

import sqlite3
import threading

import pytest
from sqlalchemy import event, insert, text
from sqlalchemy.exc import DBAPIError, IntegrityError, OperationalError

from makegood.errors import StorageFull
from makegood.store.clock import Meta
from makegood.store.database import db, retried, writing
from tests import postgres

on_sqlite = pytest.mark.skipif(postgres.WANTED, reason="a rule of SQLite; this run is on PostgreSQL")
on_postgres = pytest.mark.skipif(not postgres.WANTED, reason="a rule of PostgreSQL; this run is on SQLite")


@pytest.fixture
def session(app):
    with app.app_context():
        yield db.session


@on_sqlite
@pytest.mark.parametrize(
    ("pragma", "value"),
    [("journal_mode", "wal"), ("synchronous", 2), ("foreign_keys", 1), ("busy_timeout", 5000)],
)
def test_pragmas_hold_on_every_connection(session, pragma, value):
    assert session.execute(text(f"PRAGMA {pragma}")).scalar() == value


def said(deed):
    """Return the statements that begin or end transactions while the deed runs."""
    heard = []

    def hear(_connection, _cursor, statement, *_more):
        heard.append(statement)

    event.listen(db.engine, "before_cursor_execute", hear)
    try:
        deed()
    finally:
        event.remove(db.engine, "before_cursor_execute", hear)
    return [one for one in heard if one.startswith("BEGIN")]


def write_one():
    with writing() as session:
        session.execute(insert(Meta).values(key="a", value="b"))


@on_sqlite
def test_write_transaction_begins_immediate(session):
    assert said(write_one) == ["BEGIN IMMEDIATE"]


@on_sqlite
def test_read_transaction_begins_deferred(session):
    assert said(lambda: session.execute(text("SELECT 1"))) == ["BEGIN"]


@on_sqlite
def test_write_lock_is_taken_at_the_start_and_not_at_the_first_write(app, settings):
    with app.app_context(), writing():
        other = sqlite3.connect(settings.data / "makegood.sqlite", timeout=0, isolation_level=None)
        with pytest.raises(sqlite3.OperationalError, match="locked"):
            other.execute("BEGIN IMMEDIATE")
        other.close()


def test_writing_outside_a_write_transaction_is_refused(session):
    with pytest.raises(DBAPIError, match=r"readonly|read-only"):
        session.execute(insert(Meta).values(key="a", value="b"))


@on_postgres
def test_a_read_sees_one_moment_and_a_write_the_present(app, session):
    count = text("SELECT count(*) FROM meta WHERE key = 'a'")
    assert session.execute(count).scalar() == 0
    other = threading.Thread(target=lambda: with_context(app, write_one))
    other.start()
    other.join()
    assert session.execute(count).scalar() == 0
    with writing() as again:
        assert again.execute(count).scalar() == 1


def with_context(app, deed):
    """Do something as another request would, with a connection of its own."""
    with app.app_context():
        deed()


def test_reading_before_writing_in_the_same_request_is_no_trouble(session):
    session.execute(text("SELECT count(*) FROM meta"))
    write_one()
    assert session.get(Meta, "a").value == "b"


def test_error_undoes_everything(session):
    def broken():
        with writing() as inner:
            inner.execute(insert(Meta).values(key="a", value="b"))
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        broken()
    assert session.get(Meta, "a") is None


@on_sqlite
def test_database_without_room_is_a_sentence_and_keeps_what_it_had(session):
    def write_much():
        with writing() as inner:
            pages = inner.execute(text("PRAGMA page_count")).scalar()
            inner.execute(text(f"PRAGMA max_page_count={pages}"))
            for n in range(500):
                inner.execute(insert(Meta).values(key=f"k{n}", value="x" * 200))

    with pytest.raises(StorageFull) as told:
        write_much()
    assert told.value.code == "server_full"
    assert session.execute(text("SELECT count(*) FROM meta WHERE value LIKE 'xx%'")).scalar() == 0


def test_full_disk_of_a_database_server_is_the_same_sentence(session):
    full = Exception("could not extend file")
    full.sqlstate = "53100"
    with pytest.raises(StorageFull), writing():
        raise OperationalError("INSERT", {}, full)


def test_write_transaction_inside_another_is_a_mistake(session):
    with writing(), pytest.raises(RuntimeError, match="one deed"), writing():
        pass


def test_deed_that_met_another_writer_is_tried_again(session):
    tries = []

    def deed():
        tries.append(1)
        if len(tries) < 3:
            raise IntegrityError("INSERT", {}, Exception("taken"))
        return "done"

    assert retried(deed) == "done"
    assert len(tries) == 3


def test_deed_that_always_fails_says_so(session):
    def deed():
        raise OperationalError("INSERT", {}, Exception("broken"))

    with pytest.raises(OperationalError):
        retried(deed)


def test_two_threads_writing_wait_for_each_other(app):
    def add(name):
        with app.app_context():
            for n in range(20):
                with writing() as session:
                    session.execute(insert(Meta).values(key=f"{name}{n}", value="x"))

    threads = [threading.Thread(target=add, args=(name,)) for name in "abcd"]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    with app.app_context():
        assert db.session.execute(text("SELECT count(*) FROM meta WHERE value = 'x'")).scalar() == 80
