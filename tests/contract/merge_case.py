"""Runs one case of shared/vectors/merge.json through `domain.merge`, op after op, as the server would."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from makegood.domain.merge import Edit, Lost, drop, merge
from makegood.domain.row import Row


def run_merge_case(given: Mapping[str, Any]) -> dict[str, Any]:
    """Return the case's `out` as the code under test has it."""
    row = Row("defect", "s", "r", **given["row"]) if given["row"] else None
    told: list[dict[str, Any]] = []
    for op in given["ops"]:
        row, lost = _one(row, op)
        told += [{"op": op["op"], **_told(one)} for one in lost]
        row = _stamped(row, op["rev"])
    shown = row.fields if row and not row.deleted else None
    return {"fields": shown, "fv": row.fv if row else {}, "lost": told}


def _one(row: Row | None, op: Mapping[str, Any]) -> tuple[Row | None, list[Lost]]:
    edit = Edit(op["op"], op["device"], op["base"], op["at"], op.get("set", {}))
    if row is None:
        new = Row("defect", "s", "r", dict(edit.set), dict.fromkeys(edit.set, edit.stamp))
        return (None if op["kind"] == "del" else new), []
    return drop(row, edit) if op["kind"] == "del" else merge(row, edit)


def _stamped(row: Row | None, rev: int) -> Row | None:
    return row and replace(row, fv={name: [last[0] or rev, *last[1:]] for name, last in row.fv.items()})


def _told(lost: Lost) -> dict[str, Any]:
    return {name: getattr(lost, name) for name in ("field", "kept", "lost", "kept_by", "lost_by")}
