"""What is laid on which day, counted from the first; the phone's twin is model/waiting/waits.ts."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from math import ceil
from typing import Any

from makegood.domain.repair.whole import Repair
from makegood.science.curing import CuringCoat, curing_plan
from makegood.science.laid import LaidCoat, laid_coats, longer
from makegood.science.range import Range, exactly, plus, scaled, spread


@dataclass(frozen=True)
class Wait:
    """Lifts of one filling, thin coats of one wash, or one coat: days from the first work, between them, and kept damp.

    `first_n` is the number of the first true coat of it, None for a filling; `after_days` before what follows.
    """

    mix: str
    part: str
    first_n: int | None
    thickness_mm: float | None
    times: int
    starts_days: Range
    next_days: Range
    after_days: Range
    damp_days: Range


def coats_of(repair: Repair, mixes: Mapping[str, Any]) -> list[LaidCoat]:
    """Return what is laid for the defect that is through last: the others of the ticket wait along with it."""
    stacks = [
        laid_coats(one["layers"], mixes, method["cure"]) for one, method in zip(repair.estimates, repair.methods, strict=True)
    ]
    return max(stacks, key=lambda stack: _end(stack, mixes), default=[])


def curing_coats(coats: Sequence[LaidCoat], mixes: Mapping[str, Any]) -> list[CuringCoat]:
    """Return coats as the curing plan takes them."""
    keys = ("kind", "rich", "stipple", "coverage_m2_per_l", "coat_mm")
    return [
        CuringCoat(
            one.thickness_mm or 0.0, {key: mixes[one.mix][key] for key in keys},  # type: ignore[arg-type]
            one.damp_days, one.interval_days, one.frost_free_days,
        )
        for one in coats
    ]  # fmt: skip


def frost_free_days(coats: Sequence[LaidCoat], mixes: Mapping[str, Any]) -> Range:
    """Return the days from the first work for which frost must stay away, by the curing plan."""
    start = date(2000, 1, 1)
    [step] = [one for one in curing_plan(start, curing_coats(coats, mixes), ()).steps if one.kind == "frost_free_until"]
    return spread(*((on - start).days for on in (step.earliest, step.likely, step.latest)))


def _end(coats: Sequence[LaidCoat], mixes: Mapping[str, Any]) -> date:
    start = date(2000, 1, 1)
    return max(step.likely for step in curing_plan(start, curing_coats(coats, mixes), ()).steps) if coats else date.min


def waits_of(coats: Sequence[LaidCoat], mixes: Mapping[str, Any]) -> list[Wait]:
    """Return what is laid as it follows each other; lifts of a filling and coats of one wash are told once with their number.

    The next coat waits for the interval and for the end of damp curing, whichever is longer; part days are rounded up.
    """
    waits: list[Wait] = []
    starts, before = exactly(0), None
    for coat in coats:
        damp = _whole_days(coat.damp_days)
        after = longer(damp, _whole_days(coat.interval_days))
        if before and waits and _goes_on(before, coat, mixes):
            last = waits[-1]
            between = last.after_days if last.times == 1 else last.next_days
            waits[-1] = replace(last, times=last.times + 1, next_days=between, after_days=after, damp_days=damp)
        else:
            waits.append(Wait(coat.mix, coat.part, coat.n, coat.thickness_mm, 1, starts, after, after, damp))
        starts, before = plus(starts, after), coat
    return waits


def _goes_on(before: LaidCoat, coat: LaidCoat, mixes: Mapping[str, Any]) -> bool:
    same = before.mix == coat.mix and before.part == coat.part
    return same and (coat.lift > 1 or (coat.part == "coat" and mixes[coat.mix]["kind"] == "wash"))


def last_day(waits: Sequence[Wait]) -> Range:
    """Return the days from the first work until the last coat need not be kept damp any more."""
    if not waits:
        return exactly(0)
    last = waits[-1]
    return plus(plus(last.starts_days, scaled(last.next_days, last.times - 1)), last.damp_days)


def _whole_days(days: Range) -> Range:
    return spread(ceil(days["low"]), ceil(days["likely"]), ceil(days["high"]))
