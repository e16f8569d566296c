"""No reader may step over a row that is not visible yet: eight writers, one polling reader, on both databases.

The same race is run on revisions handed out before the commit, as a database sequence does it. There rows must be
missed, or the race would prove nothing. MAKEGOOD_RACE_S sets how long each race lasts (default 3 s).
"""

import itertools
import os
import random
import threading
import time
from collections.abc import Callable

from flask import Flask
from sqlalchemy import text

from makegood.domain.row import Key, Row
from makegood.store.change import changed_since
from makegood.store.clock import start_site
from makegood.store.database import db, retried, writing
from makegood.store.desk import Desk
from tests.make import NOW, make_id

SECONDS = float(os.environ.get("MAKEGOOD_RACE_S", "3"))
WRITERS, POLL_S, LONGEST_WORK_S = 8, 0.003, 0.02
Write = Callable[[list[str], random.Random], None]
Read = Callable[[int], list[tuple[int, str]]]


class Undone(Exception):
    """Rolls a transaction back on purpose."""


class Race:
    """Writers that commit out of order and sometimes not at all, and a reader that keeps a cursor."""

    def __init__(self, app: Flask, write: Write, read: Read) -> None:
        self.app, self.write, self.read = app, write, read
        self.written: list[str] = []
        self.seen: set[str] = set()
        self.faults: list[Exception] = []
        self.over = threading.Event()

    def run(self) -> set[str]:
        """Race; return the rows that were committed and never read."""
        writers = [threading.Thread(target=self._keep_writing, args=(n,)) for n in range(WRITERS)]
        reader = threading.Thread(target=self._keep_reading)
        for thread in [*writers, reader]:
            thread.start()
        time.sleep(SECONDS)
        self.over.set()
        for thread in [*writers, reader]:
            thread.join()
        assert not self.faults, self.faults
        assert len(self.written) > 50
        return set(self.written) - self.seen

    def _keep_writing(self, seed: int) -> None:
        chance = random.Random(seed)
        while not self.over.is_set():
            ids = [make_id() for _ in range(chance.randint(1, 5))]
            try:
                with self.app.app_context():
                    retried(lambda ids=ids: self.write(ids, chance))
                self.written.extend(ids)
            except Undone:
                pass
            except Exception as fault:  # noqa: BLE001  whatever it is, the main thread raises it
                self.faults.append(fault)
                return

    def _keep_reading(self) -> None:
        cursor, last_round = 0, False
        while not last_round:
            last_round = self.over.is_set() and not any(
                t.name.endswith("(_keep_writing)") for t in threading.enumerate()
            )
            with self.app.app_context():
                for rev, row_id in self.read(cursor):
                    cursor = rev
                    self.seen.add(row_id)
            time.sleep(POLL_S)


def work(chance: random.Random) -> None:
    """Take some time; one transaction in ten is then given up."""
    time.sleep(chance.random() * LONGEST_WORK_S)
    if chance.random() < 0.1:
        raise Undone


def test_reader_misses_no_row_that_racing_writers_commit(app):
    site = make_id()
    with app.app_context(), writing():
        start_site(site)
        put_down(
            site,
            [
                Row(
                    "site",
                    site,
                    site,
                    {"name": "Hollow Farm"},
                    made_at=NOW,
                    made_by="Kit",
                    made_on_device=site,
                )
            ],
        )

    def write(ids: list[str], chance: random.Random) -> None:
        with writing():
            put_down(site, [note(site, one) for one in ids])
            work(chance)

    def read(cursor: int) -> list[tuple[int, str]]:
        return [(rev, key.id) for rev, key in changed_since(site, cursor, ["note"], 500)]

    assert Race(app, write, read).run() == set()


def put_down(site: str, rows: list[Row]) -> None:
    """Write rows as a push does it: the counter moves as the last step."""
    desk = Desk()
    desk.lay_out([Key("site", site, site), *[row.key for row in rows]])
    for row in rows:
        desk.put(row)
    desk.finish()


def note(site: str, row_id: str) -> Row:
    """Return a note on the site itself."""
    fields = {"of_type": "site", "of_id": site, "at": NOW, "text": "Seen."}
    return Row("note", site, row_id, fields, made_at=NOW, made_by="Kit", made_on_device=site)


def test_the_race_does_catch_revisions_given_out_before_the_commit(app):
    given_out = itertools.count(1)
    on_postgres = bool(app.config["SETTINGS"].database_url)
    kind = "BIGSERIAL" if on_postgres else "INTEGER"
    with app.app_context(), writing() as session:
        session.execute(text(f"CREATE TABLE early (rev {kind} PRIMARY KEY, id VARCHAR(36) NOT NULL)"))

    def write(ids: list[str], chance: random.Random) -> None:
        # SQLite has no sequence: a counter beside the database stands in for one.
        revs = {} if on_postgres else {one: next(given_out) for one in ids}
        if not on_postgres:
            time.sleep(chance.random() * LONGEST_WORK_S)
        with writing() as session:
            for one in ids:
                columns, values = ("id", ":id") if on_postgres else ("rev, id", ":rev, :id")
                session.execute(
                    text(f"INSERT INTO early ({columns}) VALUES ({values})"),
                    {"id": one, "rev": revs.get(one)},
                )
            work(chance)

    def read(cursor: int) -> list[tuple[int, str]]:
        query = text("SELECT rev, id FROM early WHERE rev > :cursor ORDER BY rev LIMIT 500")
        return [(row.rev, row.id) for row in db.session.execute(query, {"cursor": cursor})]

    assert len(Race(app, write, read).run()) > 0
