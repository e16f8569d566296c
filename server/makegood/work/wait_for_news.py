"""Tell a phone at once when somebody else has sent something, so that it need not ask over and over."""

import threading
import time
from collections.abc import Mapping
from contextlib import contextmanager
from typing import TYPE_CHECKING

from makegood.domain import roles
from makegood.store import clock
from makegood.store.change import changed_since
from makegood.store.database import db
from makegood.store.device import Device

if TYPE_CHECKING:
    from collections.abc import Iterator

# More would leave too few of the server's threads for those who have something to say.
MOST_WAITERS = 6
LONGEST_S = 25.0
# Another process may have taken a change in: the database is asked this often, the own process tells by itself.
_ASK_EVERY_S = 2.0

_told = threading.Condition()
_closing = threading.Event()
_seats = threading.BoundedSemaphore(MOST_WAITERS)


def tell_of_news() -> None:
    """Wake those who wait: something was just taken in."""
    with _told:
        _told.notify_all()


def send_waiters_home() -> None:
    """Have all who wait answered now, as the server is about to stop."""
    _closing.set()
    tell_of_news()


@contextmanager
def _seat() -> "Iterator[bool]":
    got = _seats.acquire(blocking=False)
    try:
        yield got
    finally:
        if got:
            _seats.release()


def has_news(device: Device, since: Mapping[str, int]) -> bool:
    """Tell whether a pull after these cursors would bring anything."""
    if set(since) != set(device.grants):
        return True
    return any(_brings(device, site_id, cursor) for site_id, cursor in since.items())


def _brings(device: Device, site_id: str, cursor: int) -> bool:
    if site_id in device.limited:
        return cursor < max(device.limited[site_id], clock.counters(site_id)[0])
    return bool(changed_since(site_id, cursor, roles.visible_types(device.grants[site_id]), 1))


def wait_for_news(device: Device, since: Mapping[str, int], longest_s: float = LONGEST_S) -> bool:
    """Return True as soon as there is news, False after `longest_s`; at once where too many wait already.

    No transaction is held while waiting. What the device may see is looked up once: a role that changes meanwhile
    shows at the next pull.
    """
    with _seat() as got:
        until = time.monotonic() + (longest_s if got else 0.0)
        while True:
            found = has_news(device, since)
            db.session.rollback()
            left = until - time.monotonic()
            if found or left <= 0 or _closing.is_set():
                return found
            with _told:
                _told.wait(min(left, _ASK_EVERY_S))
