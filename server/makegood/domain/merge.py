"""Which of two edits made without knowing of each other stands.

A tiny pure rule; the phone has the same in web/src/model/merge.ts, held by shared/vectors/merge.json.
It guarantees:
- fields merge one by one: a field clashes only if another device changed it to another value after the
  revision the editor saw;
- a clash loses nothing: the losing answer comes back as `Lost`;
- an edit always leaves the row alive, whatever deletion it met;
- the winner does not depend on the order of arrival (larger `at`, ties by op id); a wrong clock picks badly,
  but loses no work.
"""

from dataclasses import dataclass, field, replace
from typing import Any

from makegood.domain.row import Key, Row

DELETED = "deleted"
# Stands in a row's fv for "somebody put a child below it": a delete that had not seen the child must meet it.
CHILD = "+"
_REV, _DEVICE, _AT, _OP = range(4)


@dataclass(frozen=True)
class Edit:
    """One op as far as merging needs it; `base` is the revision its editor saw, `set` the checked fields."""

    op: str
    device: str
    base: int
    at: str
    set: dict[str, Any] = field(default_factory=dict)

    @property
    def stamp(self) -> list[Any]:
        """Return what fv keeps of this edit; the revision follows when the transaction ends."""
        return [0, self.device, self.at, self.op]


@dataclass(frozen=True)
class Lost:
    """The answer that did not stand, and the one that did; `of` is the row, `*_by` are devices."""

    of: Key
    field: str
    kept: Any
    lost: Any
    kept_by: str
    lost_by: str


def merge(row: Row, edit: Edit) -> tuple[Row, list[Lost]]:
    """Put an edit onto a row; return the row as it stands now (itself if nothing changed) and what lost."""
    fields, fv, lost = dict(row.fields), dict(row.fv), list[Lost]()
    for name, value in edit.set.items():
        held = fields.get(name)
        if held == value:
            continue
        last = fv.get(name)
        clashes = _unseen(last, edit)
        if clashes and last is not None and (last[_AT], last[_OP]) > (edit.at, edit.op):
            lost.append(Lost(row.key, name, held, value, last[_DEVICE], edit.device))
            continue
        if clashes and last is not None:
            lost.append(Lost(row.key, name, value, held, edit.device, last[_DEVICE]))
        fields[name], fv[name] = value, edit.stamp
    if row.deleted:
        _revive(row, fv, edit, lost)
    if fields == row.fields and fv == row.fv:
        return row, lost
    return replace(row, fields=fields, fv=fv, deleted=False), lost


def drop(row: Row, edit: Edit) -> tuple[Row, list[Lost]]:
    """Delete a row, unless another device changed it after the revision the editor saw."""
    if row.deleted:
        return row, []
    newer = [last for last in row.fv.values() if _unseen(last, edit)]
    if newer:
        last = max(newer, key=lambda one: (one[_AT], one[_OP]))
        return row, [Lost(row.key, DELETED, False, True, last[_DEVICE], edit.device)]
    return replace(row, deleted=True, fv={**row.fv, DELETED: edit.stamp}), []


def touch(row: Row, edit: Edit) -> tuple[Row, list[Lost]]:
    """Note that a child was put below this row; revives it if it was deleted."""
    fv, lost = {**row.fv, CHILD: edit.stamp}, list[Lost]()
    if row.deleted:
        _revive(row, fv, edit, lost)
    return replace(row, fv=fv, deleted=False), lost


def _unseen(last: list[Any] | None, edit: Edit) -> bool:
    return last is not None and last[_REV] > edit.base and last[_DEVICE] != edit.device


def _revive(row: Row, fv: dict[str, list[Any]], edit: Edit, lost: list[Lost]) -> None:
    last = fv.get(DELETED)
    if last is not None and _unseen(last, edit):
        lost.append(Lost(row.key, DELETED, False, True, edit.device, last[_DEVICE]))
    fv[DELETED] = edit.stamp
