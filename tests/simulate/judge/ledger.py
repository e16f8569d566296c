"""What the server's rows must be, reckoned anew from the ops it took: a second merge that shares no code with the first.

It follows DEVELOPERS.md 3.2. Each question asked of a row (a field, is it there, has it children) has one last
answer; an answer that another device gave after the revision an editor saw is one the editor did not know.
"""

import copy
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import Any

GONE, BELOW = "deleted", "+"
APPEND_ONLY = ("reading", "step", "photo", "note")
_ABOVE = {
    "elevation": {"structure": "structure_id"}, "finish": {"elevation": "elevation_id"}, "defect": {"elevation": "elevation_id"},
    "reading": {"defect": "defect_id", "survey": "survey_id"}, "survey": {"storm": "storm_id"}, "step": {"ticket": "ticket_id"},
}  # fmt: skip
Place = tuple[str, str, str]  # type, site, id
Loss = tuple[Place, str, Any, Any]  # row, field, kept, lost


@dataclass
class Answer:
    """Who answered a question last; `rev` is None until the push that brings it has ended."""

    rev: int | None
    device: str
    at: str
    op: str


@dataclass
class Entry:
    """One row as it must be: what its fields hold, and who said so."""

    values: dict[str, Any] = field(default_factory=dict)
    answers: dict[str, Answer] = field(default_factory=dict)
    gone: bool = False


def above(row_type: str, site: str, values: dict[str, Any]) -> list[Place]:
    """Return the rows a row hangs on."""
    found = [(of, site, values[name]) for of, name in _ABOVE.get(row_type, {}).items() if values.get(name)]
    if row_type in ("photo", "note"):
        found.append((values["of_type"], site, values["of_id"]))
    return found + [("defect", site, one) for one in values.get("defect_ids") or ()]


@dataclass
class Taking:
    """One op under way: what it touches and what it makes others lose."""

    op: dict[str, Any]
    stamp: Answer
    losses: list[Loss] = field(default_factory=list)
    touched: dict[Place, None] = field(default_factory=dict)
    # Fields that held this very value before: their author is who said it first.
    agreed: set[str] = field(default_factory=set)

    @property
    def answer(self) -> Answer:
        """Return this op's answer; each row gets its own, as each gets its own revision."""
        return replace(self.stamp)

    def did_not_know(self, last: Answer | None) -> bool:
        """Tell whether an answer was another device's and newer than what the editor saw."""
        known = (
            last is None
            or last.rev is None
            or last.rev <= self.op["base"]
            or last.device == self.stamp.device
        )
        return not known

    def is_later_than(self, last: Answer) -> bool:
        """Tell whether this op counts as made after another answer."""
        return (self.stamp.at, self.stamp.op) >= (last.at, last.op)


class Ledger:
    """All rows as they must be."""

    def __init__(self) -> None:
        self.entries: dict[Place, Entry] = {}

    def copied(self) -> "Ledger":
        """Return a copy for a backup."""
        return copy.deepcopy(self)

    def take(self, op: dict[str, Any], device: str, at: str) -> Taking:
        """Enter an op that the server says it took."""
        taking = Taking(op, Answer(None, device, at, op["op"]))
        place = (op["type"], op["site"], op["id"])
        if op["kind"] == "del":
            self._take_out(place, taking)
        elif not (place in self.entries and op["type"] in APPEND_ONLY):
            self._put(place, taking)
        return taking

    def stamp(self, place: Place, rev: int) -> None:
        """Give what was answered in the push that just ended its revision."""
        for answer in self.entries[place].answers.values():
            if answer.rev is None:
                answer.rev = rev

    def _put(self, place: Place, taking: Taking) -> None:
        entry = self.entries.get(place)
        given = taking.op["set"]
        if entry is None:
            self.entries[place] = Entry(dict(given), dict.fromkeys(given, taking.answer))
            moved = True
        else:
            before = above(place[0], place[1], entry.values)
            moved = entry.gone
            for name, value in given.items():
                self._answer(place, name, value, taking)
            self._bring_back(place, taking)
            moved = moved or before != above(place[0], place[1], {**entry.values, **given})
        taking.touched[place] = None
        if moved:
            values = {**self.entries[place].values, **given}
            for parent in above(place[0], place[1], values):
                self._note_child(parent, taking)

    def _answer(self, place: Place, name: str, value: Any, taking: Taking) -> None:
        entry = self.entries[place]
        held, last = entry.values.get(name), entry.answers.get(name)
        if held == value:
            taking.agreed.add(name)
            return
        if taking.did_not_know(last) and last:
            if not taking.is_later_than(last):
                taking.losses.append((place, name, held, value))
                return
            taking.losses.append((place, name, value, held))
        entry.values[name], entry.answers[name] = value, taking.answer

    def _bring_back(self, place: Place, taking: Taking) -> None:
        entry = self.entries[place]
        if not entry.gone:
            return
        if taking.did_not_know(entry.answers.get(GONE)):
            taking.losses.append((place, GONE, False, True))
        entry.gone, entry.answers[GONE] = False, taking.answer

    def _note_child(self, place: Place, taking: Taking) -> None:
        entry = self.entries[place]
        entry.answers[BELOW] = taking.answer
        taking.touched[place] = None
        self._bring_back(place, taking)
        for parent in above(place[0], place[1], entry.values):
            if self.entries[parent].gone:
                self._note_child(parent, taking)

    def _take_out(self, place: Place, taking: Taking) -> None:
        entry = self.entries.get(place)
        if entry is None or entry.gone:
            return
        if any(taking.did_not_know(last) for last in entry.answers.values()):
            taking.losses.append((place, GONE, False, True))
            return
        entry.gone, entry.answers[GONE] = True, taking.answer
        taking.touched[place] = None

    def faults(self, place: Place, row: dict[str, Any] | None) -> Iterator[str]:
        """Yield how a row in the server's tables differs from what it must be."""
        entry = self.entries[place]
        if row is None:
            yield f"{place} is not there"
            return
        if bool(row["deleted"]) != entry.gone:
            yield f"{place} deleted={row['deleted']}"
        for name, value in entry.values.items():
            # A step made by a clock that is behind counts from the last one: the server may move it.
            if row[name] != value and (place[0], name) != ("step", "at"):
                yield f"{place} {name} is {row[name]!r}, not {value!r}"
