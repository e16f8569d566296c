"""Taking in new rows, 200 a transaction, beside plain sqlite3 `executemany` of the same rows: WAL, synchronous=FULL.

The store writes each row with its number and revision and an entry in the log; it is held against the same rows and
entries, and shown beside the rows alone. A push does more than insert: it reads and checks every field and shape, settles
its parents, merges, and keeps the op with its answer; it is shown beside all that it writes and beside the rows alone.
"""

import sqlite3
import tempfile
import time
from collections import Counter
from collections.abc import Iterable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from unittest.mock import patch

from flask import Flask
from sqlalchemy.orm import Session

from makegood.app import bring_up_to_date, create_app
from makegood.domain.row import Row
from makegood.settings import Settings
from makegood.store import change, device
from makegood.store.database import writing
from makegood.store.desk import Desk
from makegood.store.row import fetch_all
from makegood.work.receive_changes import receive_changes
from tests.bench import Line, best_in_turn_s
from tests.make import Grounds, make_grounds, make_id

ROWS, AT_ONCE, RUNS = 2_000, 200, 8
AIM = 3.0
_ROWS_ALONE, _WITH_LOG, _ALL_WRITTEN = ("defect",), ("defect", "change"), ("defect", "change", "op")
_PARTS = (
    (change, "kept_ops", "looking up earlier answers"),
    (Desk, "lay_out", "reading rows"),
    (Desk, "finish", "writing rows and log"),
    (change, "keep_ops", "writing ops"),
    (Session, "commit", "commit"),
)


def cases() -> Iterable[Line]:
    """Return receiving and the store alone beside plain inserts, then where the time of receiving goes."""
    with _intake() as intake:
        shares = intake.shares()
        plain = (intake.plain(tables) for tables in (_ROWS_ALONE, _WITH_LOG, _ALL_WRITTEN))
        received, stored, rows, with_log, all_written = best_in_turn_s((intake.receive, intake.store, *plain), RUNS)
    name = f"{ROWS:,} new rows"
    yield Line(f"{name} with their log through the store, beside plain inserts of both", stored, with_log, "s", "peer", AIM)
    yield Line(f"{name} with their log through the store, beside plain inserts of the rows", stored, rows, "s", "peer", None)
    yield Line(f"{name} through receive_changes, beside plain inserts of all it writes", received, all_written, "s", "peer", None)
    yield Line(f"{name} through receive_changes, beside plain inserts of the rows", received, rows, "s", "peer", None)
    whole = shares.pop("")
    for part, took_s in sorted(shares.items(), key=lambda one: -one[1]):
        yield Line(f"... of receive_changes: {part}", took_s, whole, "s", "limit", None)


@contextmanager
def _intake() -> Iterator["_Intake"]:
    with tempfile.TemporaryDirectory() as folder:
        settings = Settings(data=Path(folder) / "data")
        settings.data.mkdir()
        app = create_app(settings)
        bring_up_to_date(app)
        grounds = make_grounds(app)
        with app.app_context():
            yield _Intake(app, grounds, settings.database_file)


@dataclass
class _Intake:
    app: Flask
    grounds: Grounds
    database: Path

    def __post_init__(self) -> None:
        # Made beforehand: a phone makes them, not the server.
        self._pushes = [self._ops() for _ in range(RUNS + 1)]
        self._sheets = iter([self._rows() for _ in range(RUNS)])

    def receive(self) -> None:
        """Push one lot of rows."""
        pushes, now = self._pushes.pop(), datetime.now(UTC)
        sender = device.device(self.grounds.keeper.device_id)
        for ops in pushes:
            refused = [one for one in receive_changes(sender, ops, now) if one.st != "applied"]
            if refused:
                raise RuntimeError(str(refused[0]))

    def store(self) -> None:
        """Write one lot of rows, with their numbers, revisions and log, without asking whether they are right."""
        for rows in next(self._sheets):
            with writing():
                desk = Desk()
                desk.lay_out(row.key for row in rows)
                for row in rows:
                    desk.put(row)
                desk.finish()

    def shares(self) -> dict[str, float]:
        """Push one more lot; return the seconds spent in each part, "" for the whole."""
        spent: Counter[str] = Counter()
        with ExitStack() as stack:
            for owner, name, part in _PARTS:
                stack.enter_context(patch.object(owner, name, _clocked(getattr(owner, name), part, spent)))
            begun = time.perf_counter()
            self.receive()
            whole = time.perf_counter() - begun
        return {**spent, "reading, checking and merging ops": whole - spent.total(), "": whole}

    def plain(self, tables: tuple[str, ...]) -> "_Plain":
        """Return what writes the rows of one lot to an empty database of the same tables."""
        return _Plain(self.database, tables)

    def _ops(self) -> list[list[dict[str, Any]]]:
        told = {"kind": "spalling", "note": "what was seen at the foot of the wall"}
        return [[self.grounds.op("defect", **told) for _ in range(AT_ONCE)] for _ in range(ROWS // AT_ONCE)]

    def _rows(self) -> list[list[Row]]:
        self.grounds.add("defect", kind="spalling", note="what was seen at the foot of the wall")
        model = fetch_all("defect", self.grounds.site)[0]
        fields = {**model.fields, "number": None}
        made = [replace(model, id=make_id(), rev=0, fields=fields) for _ in range(ROWS)]
        return [made[start : start + AT_ONCE] for start in range(0, ROWS, AT_ONCE)]


class _Plain:
    def __init__(self, database: Path, tables: tuple[str, ...]) -> None:
        with sqlite3.connect(database) as source:
            self._ddl = [_ddl(source, table) for table in tables]
            self._lots = [_lot(source, table) for table in tables]
        source.close()

    def __call__(self) -> None:
        """Write all of it into a new file."""
        with tempfile.TemporaryDirectory() as folder:
            target = sqlite3.connect(Path(folder) / "plain.sqlite", isolation_level=None)
            target.execute("PRAGMA journal_mode=WAL")
            target.execute("PRAGMA synchronous=FULL")
            for words in self._ddl:
                target.executescript(words)
            for start in range(0, ROWS, AT_ONCE):
                target.execute("BEGIN IMMEDIATE")
                for statement, rows in self._lots:
                    target.executemany(statement, rows[start : start + AT_ONCE])
                target.execute("COMMIT")
            target.close()


def _ddl(source: sqlite3.Connection, table: str) -> str:
    """Return the statements that make a table and its indexes."""
    found = source.execute("SELECT sql FROM sqlite_master WHERE tbl_name=? AND sql IS NOT NULL ORDER BY type DESC", (table,))
    return ";".join(words for (words,) in found)


def _lot(source: sqlite3.Connection, table: str) -> tuple[str, list[tuple[Any, ...]]]:
    """Return the insert of a table, and the rows it got last."""
    rows = source.execute(f"SELECT * FROM {table} ORDER BY rowid DESC LIMIT {ROWS}").fetchall()
    return f"INSERT INTO {table} VALUES ({','.join('?' * len(rows[0]))})", rows


def _clocked(deed: Any, part: str, spent: Counter[str]) -> Any:
    def timed(*given: Any, **named: Any) -> Any:
        begun = time.perf_counter()
        try:
            return deed(*given, **named)
        finally:
            spent[part] += time.perf_counter() - begun  # type: ignore[assignment]

    return timed
