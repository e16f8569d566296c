"""Give a phone what it lacks: for every site it has a part in, the rows its role sees, by rising revision."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from makegood.domain import roles
from makegood.domain.row import Key, Row
from makegood.domain.scope import Scope
from makegood.store import clock
from makegood.store.change import changed_since
from makegood.store.device import Device
from makegood.store.people.coverage import fresh_rev, whole_scope
from makegood.store.row import fetch

_SCANNED_AT_ONCE = 2000


@dataclass(frozen=True)
class Page:
    """One page: `since` has the new cursor of every site, `drop` the sites to clear before `rows` are taken in."""

    rows: list[Row]
    since: dict[str, int]
    drop: list[str]
    more: bool


@dataclass(frozen=True)
class _Share:
    """What a page brings of one site."""

    rows: list[Row]
    cursor: int
    more: bool = False
    anew: bool = False


def send_changes(device: Device, since: Mapping[str, int], limit: int) -> Page:
    """Return the next page of at most `limit` rows after these cursors; a limited device's fresh start comes whole."""
    rows: list[Row] = []
    cursors: dict[str, int] = {}
    drop = set(since) - set(device.grants)
    more = False
    for site_id in sorted(device.grants):
        room = max(0, limit - len(rows))
        share = _share(device, site_id, since.get(site_id, 0), room)
        rows += share.rows
        cursors[site_id] = share.cursor
        more = more or share.more
        if share.anew and site_id in since:
            drop.add(site_id)
    return Page(rows, cursors, sorted(drop), more)


def _share(device: Device, site_id: str, cursor: int, room: int) -> _Share:
    if site_id in device.limited:
        return _limited_share(device, site_id, cursor, room)
    role = device.grants[site_id]
    found = changed_since(site_id, cursor, roles.visible_types(role), room + 1)
    keys = [key for _, key in found[:room]]
    rows = fetch(keys)
    seen = [
        replace(row, fields=roles.without_hidden(role, row.type, row.fields))
        for row in map(rows.get, keys)
        if row
    ]
    return _Share(seen, found[:room][-1][0] if found[:room] else cursor, len(found) > room)


def _limited_share(device: Device, site_id: str, start: int, room: int) -> _Share:
    """Return what a device limited to hand-outs gets; all of it at once where it begins anew.

    A fresh start in pages would never end: the cursor in the midst of it is below `fresh_rev` again. And whole, a
    helper never looks at half a list.
    """
    known = device.limited[site_id]
    # What is committed by now. A row that comes while the scope is read is not in it and waits for the next pull.
    upto, _, _ = clock.counters(site_id)
    anew = start < known
    if not anew and start >= upto:
        return _Share([], start)
    scope = whole_scope(site_id, device.id)
    keys, cursor = _scan(scope, (site_id, 0 if anew else start, upto), None if anew else room)
    rows = fetch(keys)
    if fresh_rev(site_id, device.id) != known:
        return _Share([], start)  # what it covers changed meanwhile: the next pull begins anew
    seen = [
        replace(row, fields=roles.as_limited_sees(row.type, row.fields, scope.show_place))
        for row in map(rows.get, keys)
        if row
    ]
    return _Share(seen, cursor, cursor < upto, anew)


def _scan(scope: Scope, span: tuple[str, int, int], room: int | None) -> tuple[list[Key], int]:
    """Return the keys in scope that changed in a span of revisions, and up to where it was read."""
    site_id, cursor, upto = span
    keys: list[Key] = []
    while found := changed_since(site_id, cursor, roles.limited_types(), _SCANNED_AT_ONCE):
        for rev, key in found:
            if rev > upto:
                return keys, upto
            if scope.holds(key):
                if len(keys) == room:
                    return keys, cursor
                keys.append(key)
            cursor = rev
    return keys, upto
