"""The database: one `db`, SQLite made safe for several threads, and the two kinds of transaction.

Reading is the default. Whoever writes says `with writing():`, which on SQLite starts with BEGIN IMMEDIATE: a
transaction that reads first and writes later can fail there in a way no waiting cures. Outside `writing()`
SQLite refuses writes.
"""

import logging
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any, TypeVar

from flask_sqlalchemy import SQLAlchemy
from sqlalchemy import Connection, Engine, MetaData, event
from sqlalchemy.exc import IntegrityError, OperationalError
from sqlalchemy.orm import DeclarativeBase, Session

# Explicit names, so that a later migration can find a constraint again on every database.
_NAMES = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s",
    "pk": "pk_%(table_name)s",
}
WRITES = "makegood_writes"
_TRIES = 3
T = TypeVar("T")
log = logging.getLogger(__name__)


class Base(DeclarativeBase):
    """Parent of every table."""

    metadata = MetaData(naming_convention=_NAMES)


db = SQLAlchemy(model_class=Base, disable_autonaming=True)


def hold_to_rules(engine: Engine) -> None:
    """Make SQLite connections safe; other databases need nothing."""
    if engine.dialect.name == "sqlite":
        event.listen(engine, "connect", _on_connect)
        event.listen(engine, "begin", _on_begin)


def _on_connect(connection: sqlite3.Connection, _entry: Any) -> None:
    # The driver must not begin transactions by itself: it would do so late, and deferred.
    connection.isolation_level = None
    for pragma in ("busy_timeout=5000", "journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON"):
        connection.execute(f"PRAGMA {pragma}")


def _on_begin(connection: Connection) -> None:
    writes = bool(connection.get_execution_options().get(WRITES))
    connection.exec_driver_sql(f"PRAGMA query_only={'OFF' if writes else 'ON'}")
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")


@contextmanager
def writing() -> Iterator[Session]:
    """Run the block as one write transaction: committed at its end, rolled back on any error."""
    session = db.session()
    if session.info.get(WRITES):
        raise RuntimeError("writing() inside writing(): one deed is one transaction")
    # Ends a read transaction begun earlier in this request: SQLite could not turn it into a writing one.
    session.rollback()
    session.info[WRITES] = True
    try:
        session.connection(execution_options={WRITES: True})
        yield session
        session.commit()
    except BaseException:
        session.rollback()
        raise
    finally:
        session.info[WRITES] = False


def retried(deed: Callable[[], T]) -> T:
    """Run a deed that opens `writing()` itself; up to twice more if two writers got in each other's way."""
    for _ in range(_TRIES - 1):
        try:
            return deed()
        except (IntegrityError, OperationalError):
            log.warning("a write transaction met another one; it is tried again", exc_info=True)
    return deed()
