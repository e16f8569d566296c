"""Forget for good what was deleted long ago; phones that were away even longer begin that site anew."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from datetime import datetime, timedelta

from makegood.domain import merge
from makegood.domain.lineage import parents
from makegood.domain.row import Key, Row, is_append_only, read_instant
from makegood.store import clock
from makegood.store.change import forget
from makegood.store.database import retried, writing
from makegood.store.row import TABLES, erase, fetch_deleted_too

KEEP_DAYS = 400


def tidy(now: datetime, keep_days: int = KEEP_DAYS) -> int:
    """Erase rows deleted more than `keep_days` ago with all that hangs on them; return how many rows went."""
    return sum(_tidy_site(site_id, now - timedelta(days=keep_days)) for site_id in clock.sites())


def _tidy_site(site_id: str, before: datetime) -> int:
    def deed() -> int:
        with writing():
            rows = {row.key: row for row in _all_rows(site_id)}
            gone = _erasable(rows, before)
            if gone:
                # In one order with every other writer: the rows first, the counter of the site last.
                erase(gone)
                forget(gone)
                clock.set_horizon(site_id, max(rows[key].rev for key in gone))
            return len(gone)

    return retried(deed)


def _all_rows(site_id: str) -> Iterable[Row]:
    for row_type in TABLES:
        yield from fetch_deleted_too(row_type, site_id)


def _erasable(rows: Mapping[Key, Row], before: datetime) -> list[Key]:
    """Return the keys of old tombstones and of what hangs on them, if all of it can go.

    A row deleted with something on it that still stands and can be changed (a ticket on a deleted defect) stays as
    a tombstone: what stands must not lose what it names.
    """
    hanging: dict[Key, list[Key]] = defaultdict(list)
    for row in rows.values():
        for above in parents(row.type, row.site_id, row.fields):
            hanging[above].append(row.key)
    gone: dict[Key, None] = {}
    for row in rows.values():
        if _is_old_tombstone(row, before):
            family = _family(row.key, hanging)
            if all(_may_go(rows[key], before) for key in family if key in rows):
                gone.update(dict.fromkeys(key for key in family if key in rows))
    return list(gone)


def _family(top: Key, hanging: Mapping[Key, list[Key]]) -> list[Key]:
    found: dict[Key, None] = {top: None}
    open_keys = [top]
    while open_keys:
        for key in hanging.get(open_keys.pop(), ()):
            if key not in found:
                found[key] = None
                open_keys.append(key)
    return list(found)


def _may_go(row: Row, before: datetime) -> bool:
    return is_append_only(row.type) or row.type == "clash" or _is_old_tombstone(row, before)


def _is_old_tombstone(row: Row, before: datetime) -> bool:
    if not row.deleted or merge.DELETED not in row.fv:
        return False
    at = read_instant(row.fv[merge.DELETED][2])
    return at is not None and at < before
