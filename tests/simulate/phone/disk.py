"""What a phone keeps when its page dies: IndexedDB as far as the store uses it, transactions all or nothing."""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, TypeVar

from tests.simulate.kernel import Committed, pause

T = TypeVar("T")
Key = tuple[str, str, str]  # site, type, id: the order of the phone's own key path


class StoreTrouble(Exception):
    """The phone could not store: quota, or a lost connection."""


@dataclass
class Stores:
    """The object stores. Values are never changed in place: every write puts a new one."""

    base: dict[Key, dict[str, Any]] = field(default_factory=dict)
    outbox: dict[int, dict[str, Any]] = field(default_factory=dict)
    parked: dict[str, dict[str, Any]] = field(default_factory=dict)
    meta: dict[str, Any] = field(default_factory=dict)
    photo_bytes: dict[str, bytes] = field(default_factory=dict)
    photo_jobs: dict[tuple[str, str], dict[str, Any]] = field(default_factory=dict)
    next_n: int = 1

    def add_to_outbox(self, op: dict[str, Any]) -> dict[str, Any]:
        """Put an op at the end; the counter never goes back."""
        kept = {**op, "n": self.next_n}
        self.outbox[self.next_n] = kept
        self.next_n += 1
        return kept

    def copied(self) -> "Stores":
        """Return the stores for a transaction to work on."""
        plain = [dict(getattr(self, name)) for name in list(vars(self))[:-1]]
        return Stores(*plain, next_n=self.next_n)


@dataclass
class Disk:
    """One phone's storage, shared by its tabs. `fails` says whether the next transaction breaks down."""

    stores: Stores = field(default_factory=Stores)
    fails: Callable[[], bool] = lambda: False
    on_commit: Callable[[], None] = lambda: None
    lock: object = None  # the Web Lock of syncing: the tab that holds it

    async def transact(self, deed: Callable[[Stores], T], writes: bool = True) -> T:
        """Run a transaction: a page may die before it, or after it and before its promise resolves."""
        await pause("transaction")
        if not writes:
            result = deed(self.stores)
        else:
            if self.fails():
                raise StoreTrouble
            result = self._commit(deed)
        await pause(Committed())
        return result

    def _commit(self, deed: Callable[[Stores], T]) -> T:
        working = self.stores.copied()
        result = deed(working)
        self.stores = working
        self.on_commit()
        return result
