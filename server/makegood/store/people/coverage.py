"""What the hand-outs of limited devices cover: one query for each type of row, whatever the size of the site."""

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator
from typing import Any

from sqlalchemy import ColumnElement, Row, select, update

from makegood.domain import row as domain
from makegood.domain.scope import COVERING, Handed, Scope, Ties, needs_fresh_start, scope_of
from makegood.store import clock
from makegood.store.attached import Note, Photo
from makegood.store.building import Elevation, Finish
from makegood.store.database import db
from makegood.store.device import DeviceGrant, HandoutGrant
from makegood.store.row_table import SyncedRow
from makegood.store.survey import Defect, Reading
from makegood.store.ticket import Handout, Step, Ticket

# Below the number of bound values any supported SQLite takes.
_IDS_PER_QUERY = 500
_PHOTOS_ON = ("elevation", "defect", "ticket", "step")
_NOTES_ON = ("defect", "ticket")


def scopes(site_id: str) -> dict[str, Scope]:
    """Return what each limited device of a site covers, without what hangs on it (readings, steps, photos, notes)."""
    handouts: dict[str, list[str]] = {
        one: [] for one in db.session.scalars(select(DeviceGrant.device_id).where(*_limited(site_id)))
    }
    if not handouts:
        return {}
    for device_id, handout_id in db.session.execute(
        select(HandoutGrant.device_id, HandoutGrant.handout_id).where(HandoutGrant.site_id == site_id)
    ):
        if device_id in handouts:
            handouts[device_id].append(handout_id)
    ties = _ties(site_id, {one for ids in handouts.values() for one in ids})
    return {device_id: scope_of(site_id, ids, ties) for device_id, ids in handouts.items()}


class Watch:
    """Looks at what limited devices cover before rows are written, and has those fetch anew whose cover has moved."""

    def __init__(self, rows: Iterable[domain.Row]) -> None:
        self._rows = [row for row in rows if row.type in COVERING]
        self._new = [row.key for row in self._rows if row.rev == 0]
        self._before = {site_id: scopes(site_id) for site_id in {row.site_id for row in self._rows}}

    def settle(self) -> None:
        """Compare with how it is now; call it after the rows were written, in the same transaction."""
        for site_id, before in self._before.items():
            now = scopes(site_id)
            stale = [one for one, scope in now.items() if self._moved(before.get(one), scope, site_id)]
            rev, _, _ = clock.counters(site_id)
            freshen(site_id, stale, rev)

    def _moved(self, before: Scope | None, now: Scope, site_id: str) -> bool:
        return before is None or needs_fresh_start(before, now, self._new, site_id)


def whole_scope(site_id: str, device_id: str) -> Scope:
    """Return every row that a limited device sees."""
    handouts = db.session.scalars(
        select(HandoutGrant.handout_id).where(
            HandoutGrant.site_id == site_id, HandoutGrant.device_id == device_id
        )
    ).all()
    scope = scope_of(site_id, handouts, _ties(site_id, set(handouts)))
    steps = _hanging(Step, site_id, Step.ticket_id, scope.rows["ticket"])
    rows = {**scope.rows, "step": steps}
    rows["reading"] = _hanging(Reading, site_id, Reading.defect_id, scope.rows["defect"])
    rows["photo"] = _attached(Photo, site_id, {name: rows[name] for name in _PHOTOS_ON})
    rows["note"] = _attached(Note, site_id, {name: rows[name] for name in _NOTES_ON})
    return Scope(rows, scope.show_place)


def scope_if_limited(site_id: str, device_id: str) -> Scope | None:
    """Return every row that a device sees if it is limited on a site; None if it is not."""
    return None if fresh_rev(site_id, device_id) is None else whole_scope(site_id, device_id)


def freshen(site_id: str, device_ids: Collection[str], rev: int) -> None:
    """Have these devices fetch the site anew: for them a cursor below `rev` counts as 0."""
    for some in _portions(device_ids):
        here = (DeviceGrant.site_id == site_id, DeviceGrant.device_id.in_(some))
        db.session.execute(update(DeviceGrant).where(*here).values(fresh_rev=rev))


def fresh_rev(site_id: str, device_id: str) -> int | None:
    """Return below which cursor a limited device begins anew; None if it has no such part on the site any more."""
    query = select(DeviceGrant.fresh_rev).where(*_limited(site_id), DeviceGrant.device_id == device_id)
    return db.session.scalars(query).one_or_none()


def is_open(site_id: str, handout_id: str) -> bool:
    """Tell whether there is such a hand-out that was neither ended nor deleted."""
    return handout_id in _handed(site_id, [handout_id])


def _limited(site_id: str) -> tuple[ColumnElement[bool], ...]:
    return DeviceGrant.site_id == site_id, DeviceGrant.limited.is_(True)


def _ties(site_id: str, handout_ids: Collection[str]) -> Ties:
    handouts = _handed(site_id, handout_ids)
    tickets = {
        one.id: () if one.deleted else tuple(_ids(one.defect_ids))
        for one in _rows(Ticket, site_id, Ticket.id, {t for h in handouts.values() for t in h.ticket_ids})
    }
    defects = _refer(Defect, site_id, Defect.id, {d for ids in tickets.values() for d in ids}, "elevation_id")
    walls = set(defects.values())
    return Ties(
        handouts,
        tickets,
        defects,
        _refer(Elevation, site_id, Elevation.id, walls, "structure_id"),
        _refer(Finish, site_id, Finish.elevation_id, walls, "elevation_id"),
    )


def _handed(site_id: str, handout_ids: Collection[str]) -> dict[str, Handed]:
    return {
        one.id: Handed(tuple(_ids(one.ticket_ids)), bool(one.show_place))
        for one in _rows(Handout, site_id, Handout.id, handout_ids)
        if not one.deleted and one.ended_on is None
    }


def _ids(value: object) -> list[str]:
    return [str(one) for one in value] if isinstance(value, list) else []


def _refer(table: type[SyncedRow], site_id: str, by: Any, ids: Collection[str], to: str) -> dict[str, str]:
    return {one.id: getattr(one, to) for one in _rows(table, site_id, by, ids)}


def _rows(table: type[SyncedRow], site_id: str, by: Any, ids: Collection[str]) -> Iterator[Row[Any]]:
    for some in _portions(ids):
        yield from db.session.execute(
            select(*table.__table__.columns).where(table.site_id == site_id, by.in_(some))
        )


def _hanging(table: type[SyncedRow], site_id: str, by: Any, ids: Collection[str]) -> frozenset[str]:
    return frozenset(
        one
        for some in _portions(ids)
        for one in db.session.scalars(select(table.id).where(table.site_id == site_id, by.in_(some)))
    )


def _attached(table: type[Photo] | type[Note], site_id: str, on: dict[str, frozenset[str]]) -> frozenset[str]:
    types: dict[str, set[str]] = defaultdict(set)
    for row_type, ids in on.items():
        for one in ids:
            types[one].add(row_type)
    return frozenset(
        row_id
        for some in _portions(types)
        for row_id, of_type, of_id in db.session.execute(
            select(table.id, table.of_type, table.of_id).where(
                table.site_id == site_id, table.of_id.in_(some)
            )
        )
        if of_type in types[of_id]
    )


def _portions(ids: Iterable[str]) -> Iterator[list[str]]:
    ordered = sorted(ids)
    for start in range(0, len(ordered), _IDS_PER_QUERY):
        yield ordered[start : start + _IDS_PER_QUERY]
