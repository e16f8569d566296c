"""A phone as web/src/store has it: base rows, an outbox replayed over them, and tabs that share one disk.

Names follow the TypeScript: `Screen` is what a page holds in memory and shows (view.ts, open.ts, tabs.ts, phone.ts).
"""

from collections.abc import Awaitable, Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Any, Protocol, TypeVar

from makegood.domain.row import types
from tests.simulate.kernel import Chance, Clock, Task, iso, pause
from tests.simulate.phone.disk import Disk, Key, Stores

Row = dict[str, Any]
Op = dict[str, Any]
T = TypeVar("T")
FIELDS = {of: list(spec["fields"]) for of, spec in types().items()}


class Watcher(Protocol):
    """Who looks on; see judge.py."""

    def see(self, tab: "Screen", keys: Iterable[Key]) -> None:
        """Rows of a tab are on the screen anew."""

    def wrote(self, tab: "Screen", op: Op) -> None:
        """An op was stored."""

    def resolved(self, op: Op) -> None:
        """The person was told that an op is stored."""

    def let_go(self, op: Op) -> None:
        """The person threw a parked op away or sent it anew."""

    def pulled_all(self, tab: "Screen") -> None:
        """A pull came to its end."""


@dataclass
class Habits:
    """What differs between phones of one seed only for the simulation's sake: sizes and clock."""

    most_ops: int = 200
    page: int = 500
    chunk: int = 64
    skew: timedelta = timedelta(0)


@dataclass(eq=False)
class Phone:
    """One device: its disk, its session and its tabs."""

    number: int
    session: str
    clock: Clock
    chance: Chance
    habits: Habits
    watch: Watcher
    disk: Disk = field(default_factory=Disk)
    tabs: list["Screen"] = field(default_factory=list)

    def local(self) -> datetime:
        """Return what this phone's clock says, right or wrong."""
        return self.clock.now + self.habits.skew


@dataclass(eq=False)
class Turn:
    """A place in a tab's queue of deeds that change what is shown."""

    tab: "Screen"

    @property
    def has_come(self) -> bool:
        """Whether every earlier deed has ended."""
        return self.tab.turns[0] is self


class Screen:
    """What one page holds in memory; gone when it dies."""

    def __init__(self, phone: Phone, born: int) -> None:
        self.phone, self.disk, self.born = phone, phone.disk, born
        self.base: dict[Key, Row] = {}
        self.pending: list[Op] = []
        self.parked: list[Row] = []
        self.jobs: list[Row] = []
        self.me: Row | None = None
        self.signed_out = False
        self.offset = timedelta(0)
        self.shown_since: dict[str, int] = {}
        self.turns: list[Turn] = []
        self.tasks: list[Task] = []
        self.open = False
        self.kicked = False
        self.running = self.again = False

    # Tasks and turns

    def spawn(self, name: str, deed: Any) -> Task:
        """Begin a deed that goes on by itself."""
        task = Task(name, deed)
        self.tasks.append(task)
        task.go_on()
        return task

    async def in_turn(self, deed: Callable[[], Awaitable[T]]) -> T:
        """Run a deed after every earlier one has ended."""
        turn = Turn(self)
        self.turns.append(turn)
        try:
            while not turn.has_come:
                await pause(turn)
            return await deed()
        finally:
            self.turns.remove(turn)

    def tell_tabs(self, kind: str, keys: Sequence[Key] = ()) -> None:
        """Send word to the other tabs."""
        for tab in self.phone.tabs:
            if tab is not self and tab.open:
                tab.spawn(f"hear {kind}", tab.hear(kind, list(keys)))

    # view.ts

    def shown(self, key: Key) -> Row | None:
        """Return the row as the person sees it."""
        return self.replay_ops(self.base.get(key), [op for op in self.pending if key_of(op) == key])

    def replay_ops(self, base: Row | None, ops: Sequence[Op]) -> Row | None:
        """Lay waiting ops over a base row."""
        first = ops[0] if ops else None
        if base is None and (first is None or first["base"] > 0):
            return None
        fields = None if base and base["deleted"] and not first else replay(base["d"] if base else None, ops)
        if fields is None:
            return None
        row_type = base["type"] if base else ops[0]["type"]
        at = fields.get("made_at") or (first and first["at"])
        by = fields.get("made_by") or (self.me or {}).get("person", "")
        return {**dict.fromkeys(FIELDS[row_type]), **fields, "made_at": at, "made_by": by}

    def all_shown(self, site: str, row_type: str) -> dict[str, Row]:
        """Return every row of a type on a site as the person sees it."""
        keys = {key: None for key in self.base if key[:2] == (site, row_type)}
        keys |= {key_of(op): None for op in self.pending if key_of(op)[:2] == (site, row_type)}
        return {key[2]: row for key in keys if (row := self.shown(key)) is not None}

    def refresh(self, keys: Iterable[Key]) -> None:
        """Publish rows."""
        self.phone.watch.see(self, [key for key in dict.fromkeys(keys) if key[1] in FIELDS])

    def replace_pending(self, ops: Sequence[Op], folded: Mapping[Key, Row]) -> None:
        """Take over the outbox as read from the disk, with the rows of ops that have left it."""
        before = self.pending
        self.pending = list(ops)
        self.base.update(folded)
        self.refresh([*(key_of(op) for op in [*before, *ops]), *folded])

    def add_pending(self, ops: Sequence[Op]) -> None:
        """Add ops just kept, each once, at their places in the outbox."""
        there = {op["op"] for op in self.pending}
        fresh = [op for op in ops if op["op"] not in there]
        self.pending = sorted([*self.pending, *fresh], key=lambda op: op["n"])
        self.refresh(key_of(op) for op in ops)

    def settle_pending(self, answered: set[str], folded: Sequence[Row]) -> None:
        """Answered ops leave; the rows they were folded into come in the same breath."""
        gone = [op for op in self.pending if op["op"] in answered]
        self.base.update({key_of_row(row): row for row in folded})
        self.pending = [op for op in self.pending if op["op"] not in answered]
        self.refresh([*map(key_of, gone), *map(key_of_row, folded)])

    # open.ts and tabs.ts

    async def open_up(self) -> None:
        """Read everything from the disk."""
        self._load_phone(dict(await self.disk.transact(lambda stores: stores.meta, writes=False)))
        await self.load_queues()
        self.open = True
        await self.reload_all()
        self.kicked = True

    def _load_phone(self, cells: Mapping[str, Any]) -> None:
        self.me, self.signed_out = cells.get("me"), bool(cells.get("signed_out"))
        self.offset = cells.get("clock_offset", timedelta(0))

    async def load_queues(self) -> None:
        """Read the outbox, what is parked, and the photo jobs."""

        async def deed() -> None:
            outbox, self.parked, self.jobs, folded = await self.disk.transact(self.read_queues, writes=False)
            self.replace_pending(outbox, folded)

        await self.in_turn(deed)

    def read_queues(self, stores: Stores) -> tuple[list[Op], list[Row], list[Row], dict[Key, Row]]:
        """Read what waits, and the rows below it: what has left the outbox is in its base row by now."""
        waiting = {op["op"] for op in stores.outbox.values()}
        left = [key_of(op) for op in self.pending if op["op"] not in waiting]
        left += [key for op in stores.outbox.values() if (key := key_of(op)) not in self.base]
        folded = {key: stores.base[key] for key in left if key in stores.base}
        return (
            list(stores.outbox.values()),
            list(stores.parked.values()),
            list(stores.photo_jobs.values()),
            folded,
        )

    async def reload_all(self) -> None:
        """Read every row afresh."""

        async def deed() -> None:
            rows, since = await self.disk.transact(
                lambda stores: (dict(stores.base), stores.meta.get("since") or {}), writes=False
            )
            before, self.base, self.shown_since = self.base, rows, since
            self.refresh([*before, *rows, *map(key_of, self.pending)])

        await self.in_turn(deed)

    async def reread_rows(self, keys: Sequence[Key]) -> None:
        """Read some rows afresh."""

        async def deed() -> None:
            rows = await self.disk.transact(
                lambda stores: {key: stores.base[key] for key in keys if key in stores.base}, writes=False
            )
            self.base.update(rows)
            self.refresh(rows)

        await self.in_turn(deed)

    async def hear(self, kind: str, keys: list[Key]) -> None:
        """Another tab has kept or taken in something."""
        if kind == "rows":
            await self.reread_rows(keys)
        if kind == "everything":
            await self.reload_all()
        await self.load_queues()
        if kind == "outbox":
            self.kicked = True

    # phone.ts

    def now(self) -> str:
        """Return the time, corrected by what the server last said."""
        return iso(self.phone.local() + self.offset)

    def learn_clock(self, server_now: datetime, asked: datetime) -> None:
        """Learn how far this phone's clock is off."""
        local = self.phone.local()
        offset = server_now - (asked + (local - asked) / 2)
        if abs(offset - self.offset) < timedelta(seconds=2):
            return
        self.offset = offset
        self.spawn("cell", self.write_cell("clock_offset", offset))

    async def write_cell(self, name: str, value: Any) -> None:
        """Write one cell of `meta`."""
        await self.disk.transact(lambda stores: stores.meta.update({name: value}))


def replay(base: Row | None, ops: Sequence[Op]) -> Row | None:
    """Return a row's fields with waiting changes laid over them in order; None: not there, or deleted."""
    fields, alive = dict(base or {}), base is not None
    for op in ops:
        alive = op["kind"] == "put"
        if alive:
            fields |= given if isinstance(given := op.get("set"), dict) else {}
    return fields if alive else None


def key_of(op: Op) -> Key:
    """Return where the row of an op is found."""
    return op["site"], op["type"], op["id"]


def key_of_row(row: Row) -> Key:
    """Return where a base row is found."""
    return row["site"], row["type"], row["id"]
