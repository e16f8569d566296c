"""Wet spells and worst totals of one face, from its driving rain hour by hour.

A spell is a wet period set apart by 96 hours or more, each with less than 0.001 L/m2.
Source: read, "Computation for wind-driven rain" (a national met office, archive no. 41668).
"""

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from itertools import accumulate
from typing import NamedTuple

DRY_HOURS_BETWEEN = 96
WET_L_M2_H = 0.001


class HourlyDose(NamedTuple):
    """Driving rain on one face: hour numbers in rising order, the dose [L/m2] of each, unknown hours besides.

    Hours that are neither listed nor missing brought nothing to the face.
    """

    hours: Sequence[int]
    l_m2: Sequence[float]
    missing: Sequence[int]


class Spell(NamedTuple):
    """One wet spell: first and last wet hour, its total [L/m2], wet and unknown hours within it.

    `sure_end` is False when unknown hours were needed to make up the dry time after it.
    """

    first_hour: int
    last_hour: int
    l_m2: float
    wet_hours: int
    missing_hours: int
    sure_end: bool


class Worst(NamedTuple):
    """The greatest total [L/m2] within `length_h` hours on end, the last of them `last_hour`."""

    length_h: int
    last_hour: int
    l_m2: float
    missing_hours: int


def spells(dose: HourlyDose) -> list[Spell]:
    """Return the wet spells of one face in time order; none if no hour reached 0.001 L/m2.

    Unknown hours count towards the 96, as nothing says they were wet, but then `sure_end` is False.
    Source: read, see the head of this file.
    """
    wet = [place for place, l_m2 in enumerate(dose.l_m2) if l_m2 >= WET_L_M2_H]
    if not wet:
        return []
    sums = [0.0, *accumulate(dose.l_m2)]
    cuts = [
        place
        for place in range(1, len(wet))
        if dose.hours[wet[place]] - dose.hours[wet[place - 1]] - 1 >= DRY_HOURS_BETWEEN
    ]
    found = []
    for begin, end in zip([0, *cuts], [*cuts, len(wet)], strict=True):
        first, last = wet[begin], wet[end - 1]
        first_hour, last_hour = dose.hours[first], dose.hours[last]
        found.append(
            Spell(
                first_hour,
                last_hour,
                sums[last + 1] - sums[first],
                end - begin,
                _count_within(dose.missing, first_hour, last_hour),
                end == len(wet) or _surely_dry_between(dose, last_hour, dose.hours[wet[end]]),
            )
        )
    return found


def worst_within(dose: HourlyDose, length_h: int) -> Worst | None:
    """Return the greatest total within `length_h` hours on end [h, >= 1]; None if the face stayed dry.

    Source: own derivation (running sum); the first of equal totals is given.
    """
    sums = [0.0, *accumulate(dose.l_m2)]
    best: tuple[float, int] | None = None
    oldest = 0
    for place, hour in enumerate(dose.hours):
        while dose.hours[oldest] <= hour - length_h:
            oldest += 1
        # A one-hour total is taken as it stands, so that rounding in the running sum cannot show.
        total = dose.l_m2[place] if oldest == place else sums[place + 1] - sums[oldest]
        if best is None or total > best[0]:
            best = (total, hour)
    if best is None:
        return None
    total, last_hour = best
    return Worst(length_h, last_hour, total, _count_within(dose.missing, last_hour - length_h + 1, last_hour))


def _count_within(missing: Sequence[int], first: int, last: int) -> int:
    return bisect_right(missing, last) - bisect_left(missing, first)


def _surely_dry_between(dose: HourlyDose, last_hour: int, next_hour: int) -> bool:
    unknown = _count_within(dose.missing, last_hour, next_hour)
    return next_hour - last_hour - 1 - unknown >= DRY_HOURS_BETWEEN
