"""Reading and writing synced rows of every type; takes and returns `domain.row.Row`."""

from collections import defaultdict
from collections.abc import Iterable
from functools import cache
from typing import Any

from sqlalchemy import Select, bindparam, delete, insert, select, update

from makegood.domain.row import Key, Row
from makegood.store import attached, building, survey, ticket
from makegood.store.database import db
from makegood.store.row_table import SyncedRow

# In the order in which parents come before children.
TABLES: dict[str, type[SyncedRow]] = {
    table.__tablename__: table
    for table in (
        building.Site,
        building.Structure,
        building.Elevation,
        survey.Storm,
        survey.Survey,
        survey.Defect,
        survey.Reading,
        ticket.Ticket,
        ticket.Step,
        ticket.WorkDay,
        ticket.Handout,
        building.Finish,
        survey.Score,
        attached.Photo,
        attached.Note,
        attached.Clash,
    )
}
_ORDER = {name: place for place, name in enumerate(TABLES)}
_OWN = ("site_id", "id", "rev", "deleted", "fv", "made_at", "made_by", "made_on_device")
# Below the number of bound values any supported SQLite takes.
_IDS_PER_QUERY = 500


def type_order(row_type: str) -> int:
    """Return the place of a type where parents come first."""
    return _ORDER[row_type]


def fetch(keys: Iterable[Key], for_update: bool = False) -> dict[Key, Row]:
    """Return the rows of these keys that exist, deleted ones too."""
    wanted: dict[tuple[str, str], list[str]] = defaultdict(list)
    for key in keys:
        if key.type in TABLES:
            wanted[key.type, key.site_id].append(key.id)
    found: dict[Key, Row] = {}
    for (row_type, site_id), ids in wanted.items():
        for start in range(0, len(ids), _IDS_PER_QUERY):
            for row in _fetch_some(row_type, site_id, ids[start : start + _IDS_PER_QUERY], for_update):
                found[row.key] = row
    return found


def _fetch_some(row_type: str, site_id: str, ids: list[str], for_update: bool) -> list[Row]:
    found = db.session.connection().execute(_by_ids(row_type, for_update), {"b_site": site_id, "b_ids": ids})
    return [_row(row_type, dict(one)) for one in found.mappings()]


@cache
def _by_ids(row_type: str, for_update: bool) -> Select[Any]:
    # Written out once: putting the same words together anew would take longer than the database does.
    table = TABLES[row_type].__table__
    ids = table.c.id.in_(bindparam("b_ids", expanding=True))
    query = select(*table.columns).where(table.c.site_id == bindparam("b_site"), ids)
    if for_update:
        # In one order, so that two writers rarely wait for each other; not against the ties of children.
        query = query.order_by(table.c.id).with_for_update(key_share=True)
    return query


def fetch_all(row_type: str, site_id: str, **equal: str) -> list[Row]:
    """Return the rows of a site that are not deleted and whose columns equal what is given."""
    table = TABLES[row_type]
    columns = table.__table__.columns
    query = select(*columns).where(table.site_id == site_id, table.deleted.is_(False))
    query = query.where(*(columns[name] == value for name, value in equal.items()))
    return [_row(row_type, dict(found)) for found in db.session.execute(query.order_by(table.id)).mappings()]


def fetch_deleted_too(row_type: str, site_id: str) -> list[Row]:
    """Return every row of a type that a site has or had."""
    table = TABLES[row_type]
    query = select(*table.__table__.columns).where(table.site_id == site_id).order_by(table.id)
    return [_row(row_type, dict(found)) for found in db.session.execute(query).mappings()]


def _row(row_type: str, found: dict[Any, Any]) -> Row:
    own = {name: found.pop(name) for name in _OWN}
    return Row(type=row_type, fields=found, **own)


def save(rows: Iterable[Row], known: Iterable[Key]) -> None:
    """Write rows with one statement per type: those in `known` are changed, the others are new."""
    there = set(known)
    new: dict[str, list[dict[str, object]]] = defaultdict(list)
    changed: dict[str, list[dict[str, object]]] = defaultdict(list)
    for row in rows:
        (changed if row.key in there else new)[row.type].append(_columns(row))
    for row_type, table in TABLES.items():
        if new[row_type]:
            db.session.connection().execute(insert(table.__table__), new[row_type])  # type: ignore[arg-type]
        if changed[row_type]:
            _update(table, changed[row_type])


def _update(table: type[SyncedRow], rows: list[dict[str, object]]) -> None:
    columns = table.__table__.columns
    statement = (
        update(table.__table__)  # type: ignore[arg-type]
        .where(columns["site_id"] == bindparam("b_site_id"), columns["id"] == bindparam("b_id"))
        .values({name: bindparam(f"b_{name}") for name in columns.keys() if name not in ("site_id", "id")})  # noqa: SIM118
    )
    db.session.connection().execute(
        statement, [{f"b_{name}": value for name, value in row.items()} for row in rows]
    )


def erase(keys: Iterable[Key]) -> None:
    """Remove rows for good, children before their parents."""
    by_type: dict[str, list[Key]] = defaultdict(list)
    for key in keys:
        by_type[key.type].append(key)
    for row_type in reversed(TABLES):
        table = TABLES[row_type].__table__
        gone = delete(table).where(table.c.site_id == bindparam("b_site"), table.c.id == bindparam("b_id"))  # type: ignore[arg-type]
        if by_type[row_type]:
            doomed = [{"b_site": key.site_id, "b_id": key.id} for key in by_type[row_type]]
            db.session.connection().execute(gone, doomed)


def _columns(row: Row) -> dict[str, object]:
    return {**row.fields, **{name: getattr(row, name) for name in _OWN}}
