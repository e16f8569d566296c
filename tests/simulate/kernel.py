"""Tasks that stop at every await, and the one who decides which of them goes on: all of it follows from the seed."""

import hashlib
import itertools
import random
import types
from collections.abc import Coroutine, Generator
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import Any
from uuid import UUID

START = datetime(2026, 11, 25, 9, 0, tzinfo=UTC)


class Killed(BaseException):
    """The page died at an await. Not an Exception: nothing in the phone may catch it."""


_commits = itertools.count()


class Committed:
    """A transaction is done and its promise about to resolve: browsers resolve them in order, before anything else."""

    def __init__(self) -> None:
        self.place = next(_commits)


@types.coroutine
def pause(why: object = None) -> Generator[object, Any, Any]:
    """Stop here until the kernel goes on with this task; returns what it is then given."""
    return (yield why)


def iso(instant: datetime) -> str:
    """Return an instant as phones write it."""
    return instant.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


@dataclass(eq=False)
class Task:
    """One line of execution on a page; `waits_for` is what it yielded last."""

    name: str
    coro: Coroutine[Any, Any, Any]
    waits_for: Any = None
    ended: bool = False

    def go_on(self, given: Any = None, error: Exception | None = None) -> None:
        """Run to the next await."""
        self.ended = True  # also if an error comes out
        try:
            self.waits_for = self.coro.throw(error) if error else self.coro.send(given)
            self.ended = False
        except StopIteration:
            pass

    def kill(self) -> None:
        """Die at the present await; what `finally` still wants to wait for dies as well."""
        while not self.ended:
            try:
                self.coro.throw(Killed())
            except (Killed, StopIteration):
                self.ended = True


@dataclass
class Clock:
    """The true time, which only the server knows."""

    now: datetime = START

    def pass_by(self, **how_long: float) -> None:
        """Let time pass."""
        self.now += timedelta(**how_long)


@dataclass
class Trace:
    """Everything that happened, as one hash, and the last lines of it for a person to read."""

    digest: Any = field(default_factory=hashlib.sha256)
    lines: list[str] = field(default_factory=list)
    keep: bool = False

    def note(self, *what: object) -> None:
        """Add one line."""
        line = " ".join(str(one) for one in what)
        self.digest.update(line.encode())
        self.digest.update(b"\n")
        if self.keep:
            self.lines.append(line)


class Chance(random.Random):
    """The seed's own dice."""

    def uuid(self) -> str:
        """Return a fresh id as phones make them."""
        return str(UUID(int=self.getrandbits(128), version=4))

    def happens(self, share: float) -> bool:
        """Return true that often."""
        return self.random() < share

    def weighted(self, shares: dict[Any, float]) -> Any:
        """Return one of the keys, each as often as its share says."""
        return self.choices(list(shares), list(shares.values()))[0]
