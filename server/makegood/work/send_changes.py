"""Give a phone what it lacks: for every site it has a part in, the rows its role sees, by rising revision."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from makegood.domain import roles
from makegood.domain.row import Key, Row
from makegood.store.change import changed_since
from makegood.store.device import Device
from makegood.store.row import fetch


@dataclass(frozen=True)
class Page:
    """One page: `since` has the new cursor of every site, `drop` the sites the device may no longer see."""

    rows: list[Row]
    since: dict[str, int]
    drop: list[str]
    more: bool


def send_changes(device: Device, since: Mapping[str, int], limit: int) -> Page:
    """Return the next page of at most `limit` rows after these cursors."""
    cursors = {site_id: since.get(site_id, 0) for site_id in device.grants}
    drop = sorted(set(since) - set(cursors))
    keys: list[Key] = []
    more = False
    for site_id, role in sorted(device.grants.items()):
        room = limit - len(keys)
        found = changed_since(site_id, cursors[site_id], roles.visible_types(role), room + 1)
        more = more or len(found) > room
        for rev, key in found[:room]:
            cursors[site_id] = rev
            keys.append(key)
    rows = fetch(keys)
    return Page([_as_seen(rows[key], device.grants) for key in keys], cursors, drop, more)


def _as_seen(row: Row, grants: Mapping[str, str]) -> Row:
    return replace(row, fields=roles.without_hidden(grants[row.site_id], row.type, row.fields))
