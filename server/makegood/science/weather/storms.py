"""Which hours of a weather table belong together as a storm.

A storm here is rain with pauses shorter than 12 hours (own choice, no source: the 96 hours of the standard part
spells on a wall, and would make one storm of a wet fortnight). Unknown hours neither end nor make a storm.
"""

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from makegood.science.weather.table import Hour

APART_H = 12
# Below this it is a shower nobody walks round for (own choice, no source).
LEAST_MM = 2.0
# As many hours as a storm's row may hold.
LONGEST_H = 400


class StormHours(NamedTuple):
    """Hours on end from the first wet one to the last; hours not in the table stand with nothing recorded."""

    first_hour: int
    hours: tuple[Hour, ...]
    rain_mm: float


def storms_in(hours: Sequence[Hour], apart_h: int = APART_H, least_mm: float = LEAST_MM) -> list[StormHours]:
    """Return the storms of a table in time order, those of at least `least_mm` [mm].

    apart_h: dry or unknown hours on end that part two storms [h, >= 1]. One longer than 400 hours is parted
    where it paused longest. Source: own derivation, see the head of this file.
    """
    by_number = {hour.number: hour for hour in hours}
    wet = [hour.number for hour in hours if hour.rain_mm]
    found = [_filled(one, by_number) for group in _groups(wet, apart_h) for one in _short_enough(group)]
    return [one for one in found if one.rain_mm >= least_mm]


def _groups(wet: Sequence[int], apart_h: int) -> list[list[int]]:
    groups: list[list[int]] = [[wet[0]]] if wet else []
    for earlier, later in pairwise(wet):
        if later - earlier > apart_h:
            groups.append([])
        groups[-1].append(later)
    return groups


def _short_enough(group: list[int]) -> list[list[int]]:
    short, waiting = [], [group]
    while waiting:
        one = waiting.pop()
        if one[-1] - one[0] < LONGEST_H:
            short.append(one)
            continue
        # Of equal pauses the one nearest the middle, so that rain without a pause is parted evenly.
        middle = len(one) / 2
        cut = max(range(1, len(one)), key=lambda at: (one[at] - one[at - 1], -abs(at - middle)))
        waiting += [one[cut:], one[:cut]]
    return short


def _filled(wet: Sequence[int], by_number: dict[int, Hour]) -> StormHours:
    numbers = range(wet[0], wet[-1] + 1)
    hours = tuple(by_number.get(number) or Hour(number, None, None, None) for number in numbers)
    return StormHours(wet[0], hours, sum(hour.rain_mm or 0.0 for hour in hours))
