"""What phones push and pull: every op with its result, and one entry per row with its last revision."""

from collections.abc import Container, Iterable, Sequence
from dataclasses import dataclass

from sqlalchemy import BigInteger, ForeignKey, String, UniqueConstraint, bindparam, delete, insert, select
from sqlalchemy.orm import Mapped, mapped_column
from sqlalchemy.types import JSON

from makegood.domain.row import Key, Row
from makegood.store.database import Base, db
from makegood.store.row_table import Choice, Instant, Uuid


class OpTable(Base):
    """One change sent by a phone, and the answer it got; the same op again gets the same answer."""

    __tablename__ = "op"

    op_id: Mapped[Uuid] = mapped_column(primary_key=True)
    site_id: Mapped[Uuid] = mapped_column(index=True)
    device: Mapped[Uuid]
    type: Mapped[Choice]
    id: Mapped[Uuid]
    kind: Mapped[Choice]
    body: Mapped[object] = mapped_column(JSON(none_as_null=True), nullable=True)
    base: Mapped[int] = mapped_column(BigInteger)
    at: Mapped[Instant]
    received_at: Mapped[Instant]
    status: Mapped[str] = mapped_column(String(10))
    result: Mapped[object] = mapped_column(JSON(none_as_null=True))


class Change(Base):
    """One entry per row: the revision at which it changed last."""

    __tablename__ = "change"
    __table_args__ = (UniqueConstraint("site_id", "type", "id"),)

    site_id: Mapped[Uuid] = mapped_column(ForeignKey("site_clock.site_id"), primary_key=True)
    rev: Mapped[int] = mapped_column(BigInteger, primary_key=True, autoincrement=False)
    type: Mapped[Choice]
    id: Mapped[Uuid]


@dataclass(frozen=True)
class KeptOp:
    """An op as it is kept: `body` is the set of fields it carried, `result` the answer it got."""

    op_id: str
    site_id: str
    device: str
    type: str
    id: str
    kind: str
    body: object
    base: int
    at: str
    received_at: str
    status: str
    result: object


def kept_ops(op_ids: Sequence[str]) -> dict[str, KeptOp]:
    """Return those of these ops that were answered before."""
    found = db.session.scalars(select(OpTable).where(OpTable.op_id.in_(op_ids)))
    return {
        one.op_id: KeptOp(**{name: getattr(one, name) for name in KeptOp.__dataclass_fields__})
        for one in found
    }


def keep_ops(ops: Iterable[KeptOp]) -> None:
    """Keep ops with their answers."""
    rows = [vars(one) for one in ops]
    if rows:
        # By the table: by the mapped class it takes a third longer.
        db.session.connection().execute(insert(OpTable.__table__), rows)  # type: ignore[arg-type]


def note_changes(rows: Sequence[Row], known: Container[Key]) -> None:
    """Move the entry of each of these rows to its present revision; only rows in `known` have an earlier one."""
    if not rows:
        return
    table = Change.__table__
    old = delete(Change).where(
        table.c.site_id == bindparam("b_site"),
        table.c.type == bindparam("b_type"),
        table.c.id == bindparam("b_id"),
    )
    connection = db.session.connection()
    if earlier := [{"b_site": r.site_id, "b_type": r.type, "b_id": r.id} for r in rows if r.key in known]:
        connection.execute(old, earlier)
    connection.execute(
        insert(Change), [{"site_id": r.site_id, "rev": r.rev, "type": r.type, "id": r.id} for r in rows]
    )


def changed_since(site_id: str, since: int, types: Sequence[str], limit: int) -> list[tuple[int, Key]]:
    """Return up to `limit` rows of these types that changed after `since`, by rising revision."""
    wanted = {"b_site": site_id, "b_since": since, "b_types": list(types), "b_limit": limit}
    found = db.session.connection().execute(_SINCE, wanted)
    return [(rev, Key(row_type, site_id, row_id)) for rev, row_type, row_id in found]


# Written out once: each pull asks it, and putting it together anew would take longer than the answer.
_SINCE = (
    select(Change.rev, Change.type, Change.id)
    .where(
        Change.site_id == bindparam("b_site"),
        Change.rev > bindparam("b_since"),
        Change.type.in_(bindparam("b_types", expanding=True)),
    )
    .order_by(Change.rev)
    .limit(bindparam("b_limit"))
)


def forget(keys: Iterable[Key]) -> None:
    """Take rows out of the log, as they are erased."""
    table = Change.__table__
    gone = delete(Change).where(
        table.c.site_id == bindparam("b_site"), table.c.type == bindparam("b_type"), table.c.id == bindparam("b_id")
    )
    db.session.connection().execute(gone, [{"b_site": k.site_id, "b_type": k.type, "b_id": k.id} for k in keys])


def last_revisions(site_id: str) -> dict[Key, int]:
    """Return the revision at which each row of a site changed last."""
    query = select(Change.rev, Change.type, Change.id).where(Change.site_id == site_id)
    return {Key(row_type, site_id, row_id): rev for rev, row_type, row_id in db.session.execute(query)}
