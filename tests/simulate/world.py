"""The world of one seed: phones and tabs, a line and a server, and one thing happening after another."""

from collections.abc import Awaitable, Mapping
from dataclasses import dataclass, field
from datetime import timedelta

from makegood.store.device import hashed
from tests.simulate.judge.judge import Judge
from tests.simulate.kernel import Chance, Clock, Committed, Task, Trace
from tests.simulate.line import STRANGE, Letter, NotReached, choose_fate, cut_short, strange
from tests.simulate.people import Person
from tests.simulate.phone.disk import StoreTrouble
from tests.simulate.phone.screen import Habits, Phone, Turn
from tests.simulate.phone.sync import Syncing
from tests.simulate.phone.tab import Tab
from tests.simulate.phone.transport import Refused
from tests.simulate.server import DEVICES, ELEVATION, SITES, STRUCTURE, Backup, Reply, Server

ROLES = {"keeper": 5, "surveyor": 4, "helper": 2, "reader": 1}
# How much of what goes over the line is slow, on either way, and how many steps that may take.
_SLOW, _SLOWEST_STEPS = 0.15, 60


@dataclass(frozen=True)
class Outcome:
    """How a seed went: `fault` is None if every invariant held."""

    seed: int
    trace: str
    requests: int
    fault: str | None
    lines: tuple[str, ...] = ()


@dataclass(frozen=True)
class How:
    """How a story is told: its length, how much of it is trouble, and what happens more often than usual (name: factor).

    Without a length each seed has its own: most faults need few steps, a few need many.
    """

    steps: int | None = None
    trouble: float = 0.025
    more: Mapping[str, float] = field(default_factory=dict, hash=False)
    keep_lines: bool = False


STANDARD = How()
LENGTHS = (40, 240)


class World:
    """The world of one seed."""

    def __init__(self, server: Server, seed: int, how: How = STANDARD) -> None:
        self.server, self.seed, self.how = server, seed, how
        self.chance, self.clock, self.trace = Chance(seed), Clock(), Trace(keep=how.keep_lines)
        server.begin(self.clock)
        self.judge = Judge(server)
        self.judge.begin_with(
            [("site", one, one) for one in SITES]
            + [("structure", SITES[0], STRUCTURE), ("elevation", SITES[0], ELEVATION)]
        )
        self.person = Person(self.chance, self.judge.garbage, how.more)
        self.syncings: dict[Tab, Syncing] = {}
        self.line = self.chance.choice(["good", "shaky", "shaky"])
        self.late: list[tuple[Letter, str]] = []
        self.backups: list[Backup] = []
        self.sessions = 0
        self.wild = True
        self.phones = [
            self._phone(n) for n in range(self.chance.randint(2, 4) + (self.chance.random() < 0.2))
        ]

    def _phone(self, number: int) -> Phone:
        habits = Habits(
            most_ops=self.chance.choice([1, 3, 200, 200]),
            page=self.chance.choice([2, 5, 9, 500]),
            chunk=self.chance.choice([50, 1000]),
            skew=self.some_skew(),
        )
        phone = Phone(number, f"session-{number}", self.clock, self.chance, habits, self.judge)
        role = "keeper" if number == 0 else self.chance.weighted(ROLES)
        grants = {SITES[0]: role}
        if number == 0 or self.chance.happens(0.4):
            grants[SITES[1]] = "keeper" if number == 0 else self.chance.weighted(ROLES)
        for site, of in grants.items():
            self.server.grant(DEVICES[number], site, of)
        phone.disk.stores.meta["me"] = {
            "device_id": DEVICES[number], "person": f"Person {number}", "may_found": number == 0, "grants": grants,
            "csrf": self.server.headers_for(phone.session)["X-CSRF"],
        }  # fmt: skip
        phone.disk.on_commit = lambda: self.judge.committed(phone)
        phone.disk.fails = lambda: self.wild and self.chance.happens(0.004)
        self.open_tab(phone)
        return phone

    def some_skew(self) -> timedelta:
        """Return how far off a phone's clock may be: mostly little, sometimes up to two years."""
        return timedelta(seconds=self.chance.choice([0, 0, 1, -40, self.chance.uniform(-730, 730) * 86_400]))

    # Tabs

    def open_tab(self, phone: Phone) -> Tab:
        """Open the app once more."""
        self.judge.step += 1
        tab = Tab(phone, born=self.judge.step)
        phone.tabs.append(tab)
        self.syncings[tab] = Syncing(tab)
        tab.spawn("open", tab.open_up())
        return tab

    def close_tab(self, tab: Tab) -> None:
        """Kill a page; what it had in memory is gone."""
        for task in tab.tasks:
            task.kill()
        tab.phone.tabs.remove(tab)
        if tab.phone.disk.lock is tab:
            tab.phone.disk.lock = None
        del self.syncings[tab]

    def tabs(self) -> list[Tab]:
        """Return every open tab."""
        return [tab for phone in self.phones for tab in phone.tabs]

    # Steps

    def run(self) -> None:
        """Let things happen, as many as this story is long."""
        for _ in range(self.how.steps or self.chance.randint(*LENGTHS)):
            self.happen()

    def happen(self) -> None:
        """Let one thing happen."""
        self.judge.step += 1
        self.clock.pass_by(milliseconds=self.chance.randint(1, 900))
        what = self.chance.random()
        if what < self.how.trouble:
            self.befall()
        elif what < self.how.trouble + 0.045:
            tabs = self.tabs()
            self.sync(self.chance.choice([tab for tab in tabs if tab.kicked] or tabs))
        elif what < self.how.trouble + 0.175 or not self.go_on():
            self.act()

    def ready(self) -> list[tuple[Tab, Task]]:
        """Return the tasks that can go on."""
        found = []
        for tab in self.tabs():
            tab.tasks = [task for task in tab.tasks if not task.ended]
            found += [(tab, task) for task in _next_on(tab.tasks)]
        quick = [
            (tab, task) for tab, task in found if getattr(task.waits_for, "not_before", 0) <= self.judge.step
        ]
        return quick or found

    def go_on(self) -> bool:
        """Let one task go on to its next await; False if there is none."""
        ready = self.ready()
        if not ready:
            return False
        tab, task = self.chance.choice(ready)
        letter = task.waits_for
        self.trace.note(
            tab.phone.number,
            tab.born,
            task.name,
            letter if isinstance(letter, str) else type(letter).__name__,
        )
        try:
            if not isinstance(letter, Letter):
                task.go_on()
                self._slow_down(task.waits_for)
            elif letter.outcome is None:
                self.carry(letter)
                self._slow_down(letter)
            elif isinstance(letter.outcome, NotReached):
                task.go_on(error=letter.outcome)
            else:
                task.go_on(letter.outcome)
        except StoreTrouble:  # the person is told, the page goes on
            self.trace.note("not stored")
        return True

    def _slow_down(self, letter: object) -> None:
        if self.wild and isinstance(letter, Letter) and self.chance.happens(_SLOW):
            letter.not_before = self.judge.step + self.chance.randint(1, _SLOWEST_STEPS)

    def act(self) -> None:
        """Let a person do something."""
        open_tabs = [tab for tab in self.tabs() if tab.open]
        if open_tabs:
            tab = self.chance.choice(open_tabs)
            self.trace.note("person", tab.phone.number, tab.born, self.person.act(tab))

    def sync(self, tab: Tab) -> None:
        """The loop wakes up: a timer, a write, the person."""
        if tab.open:
            tab.kicked = False
            self.trace.note("sync", tab.phone.number, tab.born)
            tab.spawn("sync", self.syncings[tab].sync_now())

    # The line

    def carry(self, letter: Letter) -> None:
        """Take a request to the server, or let something happen to it."""
        fate = choose_fate(self.line, self.chance)
        if fate == "413" and letter.body.count(b'"base"') < 2:
            fate = "arrives"  # no proxy finds a single op too large
        if (
            fate == "arrives"
            and letter.method in ("PUT", "PATCH")
            and letter.body
            and self.wild
            and self.chance.happens(0.2)
        ):
            place = self.chance.randrange(len(letter.body))
            letter.body = letter.body[:place] + bytes([letter.body[place] ^ 1]) + letter.body[place + 1 :]
            fate = "arrives damaged"
        if fate in STRANGE:
            letter.outcome = strange(fate)
        elif fate in ("request lost", "stalls"):
            letter.outcome = NotReached(fate)
        else:
            letter.outcome = self.arrive(letter)
        if fate == "twice":
            letter.outcome = self.arrive(letter)
        if fate in ("stalls", "again later"):
            self.late.append((letter, fate))
        if fate == "answer lost":
            letter.outcome = NotReached(fate)
        if fate == "cut short" and isinstance(letter.outcome, Reply):
            letter.outcome = cut_short(letter.outcome, self.chance)
        told = (
            (letter.outcome.status, len(letter.outcome.body))
            if isinstance(letter.outcome, Reply)
            else letter.outcome
        )
        self.trace.note(letter.method, letter.url, fate, told)

    def arrive(self, letter: Letter) -> Reply:
        """Have the server answer a request, before the eyes of the judge."""
        reply = self.server.handle(letter.method, letter.url, letter.headers, letter.body)
        self.trace.note(letter.body, reply.status, reply.body)
        session = letter.headers["Cookie"].partition("=")[2]
        self.judge.after_request(session, letter.method, letter.url, letter.body, reply)
        return reply

    # Sessions

    async def quietly(self, deed: Awaitable[None]) -> None:
        """Run a deed of a person's that may fail: they are told, and may try again."""
        try:
            await deed
        except (NotReached, Refused) as error:
            self.trace.note("failed", type(error).__name__)

    def is_enrolled(self, phone: Phone) -> bool:
        """Tell whether the server knows a phone's session."""
        query = "SELECT 1 FROM device WHERE session_hash=? AND ended_at IS NULL"
        return bool(self.server.query(query, hashed(phone.session)))

    def enrol_anew(self, phone: Phone) -> None:
        """A new link after the session was lost: to the server this is another device."""
        self.sessions += 1
        grants = self.server.grants(self.device_of(phone))
        device, phone.session = self.chance.uuid(), f"session-{phone.number}-{self.sessions}"
        self.server.add_device(device, f"Person {phone.number}", phone.session, founder=phone.number == 0)
        for site, role in grants.items():
            self.server.grant(device, site, role)
        if phone.tabs[0].open:
            phone.tabs[0].spawn("enrol", self.quietly(self.syncings[phone.tabs[0]].refresh_me()))

    @staticmethod
    def device_of(phone: Phone) -> str:
        """Return which device a phone takes itself for."""
        device: str = phone.disk.stores.meta["me"]["device_id"]
        return device


def _next_on(tasks: list[Task]) -> list[Task]:
    """Return the tasks of a page that can go on: promises that have resolved come first, in their order."""
    resolved = [(task.waits_for.place, task) for task in tasks if isinstance(task.waits_for, Committed)]
    if resolved:
        return [min(resolved, key=lambda one: one[0])[1]]
    turns = [task for task in tasks if isinstance(task.waits_for, Turn)]
    come = [task for task in turns if task.waits_for.has_come]
    return come or [task for task in tasks if task not in turns]
