"""Writes shared/vectors/merge.json: `python -m tests.contract.make_merge_vectors`.

Hand-written cases carry their answers. The seeded ones get theirs from the model below, which knows nothing
of `domain.merge`: it keeps every answer ever given to a field and looks for the one that stands.
"""

import json
import random
from pathlib import Path
from typing import Any

TARGET = Path(__file__).resolve().parents[2] / "shared" / "vectors" / "merge.json"
NOTE = (
    "Merging edits into one row. in: row (null: not there yet) and ops in order of arrival, each with the "
    "revision `rev` its transaction gets; replay: all ops are one phone's own, made on this very base row, "
    "so its screen must show the same before sending. out: fields as shown (null: deleted or never made), "
    "fv, and what lost."
)
DELETED = "deleted"
_EARLY, _LATE = "2026-11-25T08:00:00.000Z", "2026-11-25T09:00:00.000Z"


class Answer:
    """One answer to one question: a value, who gave it, and when."""

    def __init__(self, value: Any, rev: int, device: str, at: str, op: str) -> None:
        self.value, self.rev, self.device, self.at, self.op = value, rev, device, at, op

    def stamp(self) -> list[Any]:
        """As fv keeps it."""
        return [self.rev, self.device, self.at, self.op]


class Book:
    """Every answer that ever stood, newest last; whether the row is there is one more question."""

    def __init__(self, row: dict[str, Any] | None) -> None:
        self.pages: dict[str, list[Answer]] = {}
        self.written: list[str] = []
        self.lost: list[dict[str, Any]] = []
        self.exists = row is not None
        if row:
            values = {**row["fields"], DELETED: row["deleted"]}
            for name, value in values.items():
                last = row["fv"].get(name)
                self.pages[name] = [Answer(value, *last) if last else Answer(value, 0, "", "", "")]

    def take(self, op: dict[str, Any]) -> None:
        """Enter one op."""
        if op["kind"] == "del":
            self._delete(op)
            return
        was_there, was_deleted = self.exists, self.gone()
        self.exists = True
        for name, value in op["set"].items():
            self._write(op, name, value, was_there)
        if was_deleted:
            before = self.pages[DELETED][-1]
            if self._apart(before, op):
                self.lost.append(_loss(op, DELETED, (False, op["device"]), (True, before.device)))
            self._stand(op, DELETED, False)

    def _write(self, op: dict[str, Any], name: str, value: Any, was_there: bool) -> None:
        before = self.pages.get(name, [Answer(None, 0, "", "", "")])[-1]
        if was_there and before.value == value:
            return
        if was_there and self._apart(before, op):
            if max((before.at, before.op), (op["at"], op["op"])) == (before.at, before.op):
                self.lost.append(_loss(op, name, (before.value, before.device), (value, op["device"])))
                return
            self.lost.append(_loss(op, name, (value, op["device"]), (before.value, before.device)))
        self._stand(op, name, value)

    def _delete(self, op: dict[str, Any]) -> None:
        if not self.exists or self.gone():
            return
        apart = [pages[-1] for pages in self.pages.values() if self._apart(pages[-1], op)]
        if apart:
            last = sorted(apart, key=lambda one: (one.at, one.op))[-1]
            self.lost.append(_loss(op, DELETED, (False, last.device), (True, op["device"])))
        else:
            self._stand(op, DELETED, True)

    def _apart(self, before: Answer, op: dict[str, Any]) -> bool:
        return before.device not in ("", op["device"]) and not before.rev <= op["base"]

    def _stand(self, op: dict[str, Any], name: str, value: Any) -> None:
        self.pages.setdefault(name, []).append(Answer(value, op["rev"], op["device"], op["at"], op["op"]))

    def gone(self) -> bool:
        """Whether the row is deleted."""
        return DELETED in self.pages and self.pages[DELETED][-1].value

    def out(self) -> dict[str, Any]:
        """What the case expects."""
        shown = {name: pages[-1].value for name, pages in self.pages.items() if name != DELETED}
        fv = {name: pages[-1].stamp() for name, pages in self.pages.items() if pages[-1].device}
        return {"fields": shown if self.exists and not self.gone() else None, "fv": fv, "lost": self.lost}


def _loss(op: dict[str, Any], name: str, kept: tuple[Any, str], lost: tuple[Any, str]) -> dict[str, Any]:
    return {
        "op": op["op"],
        "field": name,
        "kept": kept[0],
        "lost": lost[0],
        "kept_by": kept[1],
        "lost_by": lost[1],
    }


def _reckoned(name: str, given: dict[str, Any]) -> dict[str, Any]:
    book = Book(given["row"])
    for op in given["ops"]:
        book.take(op)
    return {"name": name, "in": given, "out": book.out()}


def _seeded(seed: int) -> dict[str, Any]:
    chance = random.Random(seed)
    replay = seed % 4 == 0
    row = _some_row(chance) if chance.random() < 0.8 else None
    rev, ops = 20, []
    for n in range(chance.randint(1, 6)):
        device = "A" if replay else chance.choice("ABC")
        kind = "del" if chance.random() < 0.2 and (row or n) else "put"
        names = chance.sample(["kind", "note", "mark", "signs"], chance.randint(1, 3))
        op = {
            "op": f"{chance.randrange(16**4):04x}-{n}",
            "kind": kind,
            "device": device,
            "base": (15 if row else 0) if replay else chance.choice([0, 5, 10, 15, rev - 1]),
            "at": f"2026-11-25T{chance.randint(6, 12):02}:{chance.choice([0, 30]):02}:00.000Z",
            "rev": rev,
        }
        ops.append(
            {**op, "set": {name: _some_value(chance, name) for name in names}} if kind == "put" else op
        )
        rev += chance.randint(1, 3)
    return _reckoned(f"seed {seed}", {"row": row, "ops": ops, "replay": replay})


def _some_row(chance: random.Random) -> dict[str, Any]:
    deleted = chance.random() < 0.25
    fields = {name: _some_value(chance, name) for name in ("kind", "note", "mark", "signs")}
    stamps = {
        name: [chance.choice([5, 10, 15]), chance.choice("ABC"), _EARLY, f"0-{name}"]
        for name in ("kind", "note")
    }
    return {
        "fields": fields,
        "fv": {**stamps, **({DELETED: [15, "B", _LATE, "0-gone"]} if deleted else {})},
        "deleted": deleted,
    }


def _some_value(chance: random.Random, name: str) -> Any:
    values: dict[str, list[Any]] = {
        "kind": ["crazing", "spalling", None],
        "note": ["by the door", "under the sill", "", None],
        "mark": [
            {"shape": "pin", "points_m": [[1, 2.5]]},
            {"points_m": [[1, 2.5]], "shape": "pin"},
            {"shape": "pin", "points_m": [[1, 2]]},
        ],
        "signs": [[], ["growing"], ["growing", "many"], ["many", "growing"]],
    }
    return chance.choice(values[name])


def _row(**fv: list[Any]) -> dict[str, Any]:
    return {"fields": {"kind": "crazing", "note": "by the door"}, "fv": fv, "deleted": DELETED in fv}


def _op(op: str, device: str, base: int, **more: Any) -> dict[str, Any]:
    how = {"kind": "put", "at": _LATE, "rev": 20, **more}
    given = {"set": how.pop("set")} if "set" in how else {}
    return {
        "op": op,
        "kind": how["kind"],
        "device": device,
        "base": base,
        "at": how["at"],
        "rev": how["rev"],
        **given,
    }


_B_NOTE = [12, "B", _EARLY, "b0"]
_BY_HAND: list[tuple[str, dict[str, Any] | None, list[dict[str, Any]], dict[str, Any]]] = [
    (
        "a new row",
        None,
        [_op("a1", "A", 0, set={"kind": "spalling"})],
        {"fields": {"kind": "spalling"}, "fv": {"kind": [20, "A", _LATE, "a1"]}, "lost": []},
    ),
    (
        "another field than the other device's",
        _row(note=_B_NOTE),
        [_op("a1", "A", 10, set={"kind": "spalling"})],
        {
            "fields": {"kind": "spalling", "note": "by the door"},
            "fv": {"note": _B_NOTE, "kind": [20, "A", _LATE, "a1"]},
            "lost": [],
        },
    ),
    (
        "the same field, unseen, later: the newcomer stands",
        _row(note=_B_NOTE),
        [_op("a1", "A", 10, set={"note": "low"})],
        {
            "fields": {"kind": "crazing", "note": "low"},
            "fv": {"note": [20, "A", _LATE, "a1"]},
            "lost": [
                {
                    "op": "a1",
                    "field": "note",
                    "kept": "low",
                    "lost": "by the door",
                    "kept_by": "A",
                    "lost_by": "B",
                }
            ],
        },
    ),
    (
        "the same field, unseen, earlier: what is there stands",
        _row(note=[12, "B", _LATE, "b0"]),
        [_op("a1", "A", 10, at=_EARLY, set={"note": "low"})],
        {
            "fields": {"kind": "crazing", "note": "by the door"},
            "fv": {"note": [12, "B", _LATE, "b0"]},
            "lost": [
                {
                    "op": "a1",
                    "field": "note",
                    "kept": "by the door",
                    "lost": "low",
                    "kept_by": "B",
                    "lost_by": "A",
                }
            ],
        },
    ),
    (
        "the same instant: the larger op id stands",
        _row(note=[12, "B", _LATE, "b0"]),
        [_op("a1", "A", 10, set={"note": "low"})],
        {
            "fields": {"kind": "crazing", "note": "by the door"},
            "fv": {"note": [12, "B", _LATE, "b0"]},
            "lost": [
                {
                    "op": "a1",
                    "field": "note",
                    "kept": "by the door",
                    "lost": "low",
                    "kept_by": "B",
                    "lost_by": "A",
                }
            ],
        },
    ),
    (
        "the same field, seen: no clash, even with a clock behind",
        _row(note=[12, "B", _LATE, "b0"]),
        [_op("a1", "A", 12, at=_EARLY, set={"note": "low"})],
        {"fields": {"kind": "crazing", "note": "low"}, "fv": {"note": [20, "A", _EARLY, "a1"]}, "lost": []},
    ),
    (
        "one's own earlier edit is no clash",
        _row(note=[12, "A", _LATE, "a0"]),
        [_op("a1", "A", 10, at=_EARLY, set={"note": "low"})],
        {"fields": {"kind": "crazing", "note": "low"}, "fv": {"note": [20, "A", _EARLY, "a1"]}, "lost": []},
    ),
    (
        "the same answer twice is no clash",
        _row(note=_B_NOTE),
        [_op("a1", "A", 10, set={"note": "by the door"})],
        {"fields": {"kind": "crazing", "note": "by the door"}, "fv": {"note": _B_NOTE}, "lost": []},
    ),
    (
        "deleted, nobody else there",
        _row(note=_B_NOTE),
        [_op("a1", "A", 12, kind="del")],
        {"fields": None, "fv": {"note": _B_NOTE, "deleted": [20, "A", _LATE, "a1"]}, "lost": []},
    ),
    (
        "deleted without having seen an edit: the row stays",
        _row(note=_B_NOTE),
        [_op("a1", "A", 10, kind="del")],
        {
            "fields": {"kind": "crazing", "note": "by the door"},
            "fv": {"note": _B_NOTE},
            "lost": [
                {"op": "a1", "field": "deleted", "kept": False, "lost": True, "kept_by": "B", "lost_by": "A"}
            ],
        },
    ),
    (
        "edited without having seen the deletion: the row comes back",
        _row(deleted=[15, "B", _EARLY, "b0"]),
        [_op("a1", "A", 10, set={"note": "low"})],
        {
            "fields": {"kind": "crazing", "note": "low"},
            "fv": {"note": [20, "A", _LATE, "a1"], "deleted": [20, "A", _LATE, "a1"]},
            "lost": [
                {"op": "a1", "field": "deleted", "kept": False, "lost": True, "kept_by": "A", "lost_by": "B"}
            ],
        },
    ),
    (
        "deleting what was never there does nothing",
        None,
        [_op("a1", "A", 0, kind="del")],
        {"fields": None, "fv": {}, "lost": []},
    ),
]


def vectors() -> dict[str, Any]:
    """Return the whole file."""
    by_hand = [
        {"name": name, "in": {"row": row, "ops": ops, "replay": False}, "out": out}
        for name, row, ops, out in _BY_HAND
    ]
    return {"note": NOTE, "tolerance": 0, "cases": by_hand + [_seeded(seed) for seed in range(500)]}


def as_text() -> str:
    """Return the file as it is written: one case a line."""
    made = vectors()
    cases = ",\n  ".join(json.dumps(case, ensure_ascii=False) for case in made["cases"])
    head = json.dumps({"note": made["note"], "tolerance": made["tolerance"]}, ensure_ascii=False)
    return f'{head[:-1]},\n "cases": [\n  {cases}\n ]}}\n'


if __name__ == "__main__":
    TARGET.write_text(as_text(), encoding="utf-8")
