"""SQLite is held to its rules, and writing happens only where it says so."""

import sqlite3
import threading

import pytest
from sqlalchemy import event, insert, text
from sqlalchemy.exc import IntegrityError, OperationalError

from makegood.store.clock import Meta
from makegood.store.database import db, retried, writing


@pytest.fixture
def session(app):
    with app.app_context():
        yield db.session


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


def test_write_transaction_begins_immediate(session):
    assert said(write_one) == ["BEGIN IMMEDIATE"]


def test_read_transaction_begins_deferred(session):
    assert said(lambda: session.execute(text("SELECT 1"))) == ["BEGIN"]


def test_write_lock_is_taken_at_the_start_and_not_at_the_first_write(app, settings):
    with app.app_context(), writing():
        other = sqlite3.connect(settings.data / "makegood.sqlite", timeout=0, isolation_level=None)
        with pytest.raises(sqlite3.OperationalError, match="locked"):
            other.execute("BEGIN IMMEDIATE")
        other.close()


def test_writing_outside_a_write_transaction_is_refused(session):
    with pytest.raises(OperationalError, match="readonly"):
        session.execute(insert(Meta).values(key="a", value="b"))


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
