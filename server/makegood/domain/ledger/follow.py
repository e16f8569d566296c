"""One finish through its looks: last seen sound, first seen let go, in days and in driving rain between.

The same in web/src/model/lasting/follow.ts; shared/vectors/ledger.json holds both to one answer. A look tells
`held`, `worn` (thinner or finely cracked, still covers) or `let_go`; only the last ends the count. Where two
looks of one day differ, the worse stands. A finish is taken as sound on the day it was laid.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any, NamedTuple

from makegood.domain.ledger.place import Laid, Mark, finish_at

WORSE = ("held", "worn", "let_go")
_STEPS = {"checked": "held", "rechecked": "held", "reopened": "let_go"}


class Sighting(NamedTuple):
    """One look at one finish: the day, what it told, and the row that says so."""

    on: date
    verdict: str
    source: str
    id: str


class RainOn(NamedTuple):
    """What one storm drove onto a finish [L/m2]; None where it isn't known."""

    on: date
    l_m2: float | None


class Look(NamedTuple):
    """One reading of a defect."""

    id: str
    on: date
    state: str | None = None
    survey_id: str | None = None
    mark: Mark | None = None


@dataclass(frozen=True)
class Found:
    """A defect of the side with its readings."""

    id: str
    kind: str | None
    mark: Mark
    readings: tuple[Look, ...]


class Walk(NamedTuple):
    """A survey that looked at this side all over."""

    id: str
    on: date


class Scored(NamedTuple):
    """One score sheet."""

    id: str
    finish_id: str
    on: date
    verdict: str


class Done(NamedTuple):
    """One step of a ticket."""

    id: str
    ticket_id: str
    kind: str
    on: date


@dataclass(frozen=True)
class Side:
    """All that was recorded of one side; rain by finish, since parts of a round wall or a dome face many ways."""

    surface: Mapping[str, Any]
    finishes: tuple[Laid, ...]
    scores: tuple[Scored, ...] = ()
    defects: tuple[Found, ...] = ()
    walks: tuple[Walk, ...] = ()
    steps: tuple[Done, ...] = ()
    rain: Mapping[str, tuple[RainOn, ...]] = field(default_factory=dict)


class Span(NamedTuple):
    """Last known sound, first known let go; `right` None: not let go as far as anybody looked."""

    left: float
    right: float | None


@dataclass(frozen=True)
class Followed:
    """What the looks at one finish say.

    verdict: `let_go`, `worn`, `held`, `not_looked`, or `no_day` where nobody knows when it was laid. days and
    l_m2 are the interval by days and by driving rain; l_m2 is None where rain before its right end isn't known.
    """

    id: str
    verdict: str
    looks: int
    days: Span | None = None
    l_m2: Span | None = None
    sightings: tuple[Sighting, ...] = field(default=())


def follow(side: Side, verdicts: Mapping[str, str]) -> list[Followed]:
    """Return what is known of each finish of a side, in the order given.

    verdicts: `let_go` or `worn` by kind of defect (shared/lasting.json); other kinds tell nothing.
    """
    seen: dict[str, list[Sighting]] = {one.id: [] for one in side.finishes}
    for score in side.scores:
        if score.finish_id in seen:
            seen[score.finish_id].append(Sighting(score.on, score.verdict, "score", score.id))
    told = _by_defects(side, verdicts, seen)
    _by_steps(side, seen)
    _by_walks(side, told, seen)
    return [_followed(one, seen[one.id], side.rain.get(one.id, ())) for one in side.finishes]


def _by_defects(
    side: Side, verdicts: Mapping[str, str], seen: dict[str, list[Sighting]]
) -> set[tuple[str, str]]:
    """Add what readings tell; return which finish was told of on which survey."""
    told: set[tuple[str, str]] = set()
    for defect in side.defects:
        verdict, mark = verdicts.get(defect.kind or ""), defect.mark
        for look in sorted(defect.readings, key=lambda one: (one.on, one.id)):
            mark = look.mark or mark
            under = finish_at(side.surface, side.finishes, mark, look.on)
            if verdict is None or look.state == "repaired" or under is None:
                continue
            seen[under.id].append(Sighting(look.on, verdict, "reading", look.id))
            told.add((under.id, look.survey_id or ""))
    return told


def _by_steps(side: Side, seen: dict[str, list[Sighting]]) -> None:
    for laid in side.finishes:
        for step in side.steps:
            if laid.ticket_id is not None and step.ticket_id == laid.ticket_id and step.kind in _STEPS:
                seen[laid.id].append(Sighting(step.on, _STEPS[step.kind], "step", step.id))


def _by_walks(side: Side, told: set[tuple[str, str]], seen: dict[str, list[Sighting]]) -> None:
    """A side looked at all over without a word against a finish saw it sound."""
    for walk in side.walks:
        for laid in side.finishes:
            if laid.stood_on(walk.on) and laid.made_on != walk.on and (laid.id, walk.id) not in told:
                seen[laid.id].append(Sighting(walk.on, "held", "survey", walk.id))


def _followed(laid: Laid, seen: Sequence[Sighting], rain: Sequence[RainOn]) -> Followed:
    ordered = sorted((one for one in seen if laid.stood_on(one.on)), key=lambda one: (one.on, one.id))
    looks = len({one.on for one in ordered})
    if laid.made_on is None:
        return Followed(laid.id, "no_day", looks, sightings=tuple(ordered))
    gone = next((one.on for one in ordered if one.verdict == "let_go"), None)
    good = [one.on for one in ordered if gone is None or one.on < gone]
    last_good = max(good, default=laid.made_on)
    left = float((last_good - laid.made_on).days)
    days = Span(left, None if gone is None else float((gone - laid.made_on).days))
    return Followed(
        laid.id,
        _verdict(ordered, gone),
        looks,
        days,
        _in_rain(laid.made_on, last_good, gone, rain),
        tuple(ordered),
    )


def _verdict(seen: Sequence[Sighting], gone: date | None) -> str:
    if gone is not None:
        return "let_go"
    return max((one.verdict for one in seen), key=WORSE.index, default="not_looked")


def _in_rain(made_on: date, last_good: date, gone: date | None, rain: Sequence[RainOn]) -> Span | None:
    if gone is None:
        # Rain that isn't known can only add to what it was seen to stand.
        return Span(sum(one.l_m2 or 0.0 for one in rain if made_on < one.on <= last_good), None)
    fell = [one for one in rain if made_on < one.on <= gone]
    if any(one.l_m2 is None for one in fell):
        return None
    return Span(
        sum(one.l_m2 or 0.0 for one in fell if one.on <= last_good), sum(one.l_m2 or 0.0 for one in fell)
    )
