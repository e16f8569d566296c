"""What the judge keeps in mind, and what everybody may ask."""

from dataclasses import dataclass, field
from typing import NamedTuple

from makegood.domain.vocabulary import shared
from tests.simulate.judge.ledger import Entry, Ledger, Place
from tests.simulate.phone.disk import Key
from tests.simulate.phone.screen import Op, Phone, Row
from tests.simulate.phone.tab import Tab
from tests.simulate.server import Server

TAKEN = ("applied", "clash")


class Broken(AssertionError):
    """An invariant does not hold."""


@dataclass(eq=False)
class Life:
    """One op from its writing on."""

    op: Op
    phone: int
    tab: Tab
    at_step: int
    # The epoch of the row that was on the screen: revisions of another epoch say nothing about this one's.
    epoch: str | None = None
    resolved: bool = False
    # Answered by a server that was then set back to before: nobody can know of it any more.
    lost_by_restore: bool = False


class Taken(NamedTuple):
    """An op the server took; `agreed` are fields that held its value already."""

    op: Op
    device: str
    rev: int
    agreed: frozenset[str]


@dataclass
class Past:
    """What the judge knows of the server; a restored backup brings back what was known then."""

    ledger: Ledger = field(default_factory=Ledger)
    answers: dict[str, Row] = field(default_factory=dict)
    taken: list[Taken] = field(default_factory=list)
    versions: dict[Place, list[tuple[int, Row | None]]] = field(default_factory=dict)
    revs: dict[str, int] = field(default_factory=dict)
    epoch: int = 0

    def copied(self) -> "Past":
        """Return a copy for a backup."""
        versions = {place: list(one) for place, one in self.versions.items()}
        return Past(
            self.ledger.copied(), dict(self.answers), list(self.taken), versions, dict(self.revs), self.epoch
        )


class Bench:
    """The judge's memory."""

    def __init__(self, server: Server) -> None:
        self.server = server
        self.past = Past()
        self.step = 0
        self.garbage: set[str] = set()
        self.lives: dict[str, Life] = {}
        self.unsettled: dict[int, set[str]] = {}
        self.last: dict[tuple[int, Key], dict[str, Life]] = {}
        self.marks: dict[Tab, dict[tuple[Key, str | None], int]] = {}
        # For each epoch, those it descends from, each with the revisions it had reached when the backup was made.
        self.left: dict[int, dict[int, dict[str, int]]] = {0: {}}
        self.sinces: dict[int, dict[str, int]] = {}

    @staticmethod
    def _check(holds: bool, fault: str) -> None:
        if not holds:
            raise Broken(fault)


def entry_of(row: Row) -> Entry:
    """Return the ledger's entry for a row that no op has made."""
    own = {"site_id", "id", "rev", "deleted", "fv", "made_at", "made_by", "made_on_device"}
    return Entry({name: value for name, value in row.items() if name not in own})


def founds(ops: list[Op], site: str) -> bool:
    """Tell whether a push sets up a site."""
    return any(op["type"] == "site" and op["site"] == site and op["kind"] == "put" for op in ops)


def visible(role: str) -> list[str]:
    """Return the row types a role gets to see, read past the code under test."""
    found: list[str] = shared("roles")["roles"][role]["see"]
    return found


def device_of(phone: Phone) -> str:
    """Return which device a phone takes itself for."""
    device: str = phone.disk.stores.meta["me"]["device_id"]
    return device


def seen_as(role: str, row_type: str, row: Row) -> Row | None:
    """Return a row of the tables as a role gets it; None if it was deleted."""
    if row["deleted"]:
        return None
    left_out = {"site_id", "id", "rev", "deleted", "fv", "made_on_device"}
    not_told = hidden(role, row_type)
    return {name: None if name in not_told else value for name, value in row.items() if name not in left_out}


def hidden(role: str, row_type: str) -> list[str]:
    """Return the fields that a role never gets."""
    found: list[str] = shared("roles")["roles"][role]["hides"].get(row_type, [])
    return found
