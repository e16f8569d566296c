"""The database: one `db`, SQLite made safe for several threads, and the two kinds of transaction.

Reading is the default: it sees one moment, and writes are refused. Whoever writes says `with writing():`. On
SQLite that starts with BEGIN IMMEDIATE: a transaction that reads first and writes later can fail there in a way
no waiting cures. On PostgreSQL it sees what others have committed, and locks the rows it works on.
"""

import logging
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any, TypeVar

from flask_sqlalchemy import SQLAlchemy
from sqlalchemy import Connection, Engine, MetaData, event
from sqlalchemy.exc import DBAPIError, IntegrityError, OperationalError
from sqlalchemy.orm import DeclarativeBase, Session

from makegood.errors import StorageFull

# Explicit names, so that a later migration can find a constraint again on every database.
_NAMES = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s",
    "pk": "pk_%(table_name)s",
}
WRITES = "makegood_writes"
_TRIES = 3
_FULL_ON_POSTGRES = "53100"
T = TypeVar("T")
log = logging.getLogger(__name__)


class Base(DeclarativeBase):
    """Parent of every table."""

    metadata = MetaData(naming_convention=_NAMES)


db = SQLAlchemy(model_class=Base, disable_autonaming=True)


def hold_to_rules(engine: Engine) -> None:
    """Make connections keep the rules above."""
    if engine.dialect.name == "sqlite":
        event.listen(engine, "connect", _on_connect)
        event.listen(engine, "begin", _on_begin)
    elif engine.dialect.name == "postgresql":
        event.listen(engine, "begin", _on_begin_postgres)


def _on_connect(connection: sqlite3.Connection, _entry: Any) -> None:
    # The driver must not begin transactions by itself: it would do so late, and deferred.
    connection.isolation_level = None
    for pragma in ("busy_timeout=5000", "journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON"):
        connection.execute(f"PRAGMA {pragma}")


def _on_begin(connection: Connection) -> None:
    writes = bool(connection.get_execution_options().get(WRITES))
    connection.exec_driver_sql(f"PRAGMA query_only={'OFF' if writes else 'ON'}")
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")


def _on_begin_postgres(connection: Connection) -> None:
    # A page of rows takes several queries: they must see one moment, as they do on SQLite.
    if not connection.get_execution_options().get(WRITES):
        connection.exec_driver_sql("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")


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
    except DBAPIError as error:
        session.rollback()
        if _is_full(error.orig):
            raise storage_full() from error
        raise
    except BaseException:
        session.rollback()
        raise
    finally:
        session.info[WRITES] = False


def _is_full(error: BaseException | None) -> bool:
    # The extended codes of SQLite carry the plain one in their lowest byte.
    on_sqlite = getattr(error, "sqlite_errorcode", 0) & 0xFF == sqlite3.SQLITE_FULL
    return on_sqlite or getattr(error, "sqlstate", None) == _FULL_ON_POSTGRES


def storage_full() -> StorageFull:
    """Return the refusal for a full disk."""
    return StorageFull(
        "server_full",
        "The server has no room left, so this was not kept there. It stays on your phone; tell the keeper to make room.",
    )


def retried(deed: Callable[[], T]) -> T:
    """Run a deed that opens `writing()` itself; up to twice more if two writers got in each other's way."""
    for _ in range(_TRIES - 1):
        try:
            return deed()
        except (IntegrityError, OperationalError):
            log.warning("a write transaction met another one; it is tried again", exc_info=True)
    return deed()
