"""Coats to dated steps: when to lay each, how long to keep it damp, when frost may come, when to look again.

Model: coats one after another; the next waits for the interval and for the end of damp curing, whichever is
longer. Cold and damp stretch it (read, lime suppliers), hence low, likely and high. Days come in as
arguments.
Usual cautions only: the maker's sheet and local practice stand above these dates.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil
from typing import NamedTuple

from makegood.errors import BadInput
from makegood.science.materials.coat import Coat, MixOfCoat, stack_warnings
from makegood.science.range import Range

# Look again after a week and a month, and after the next storm, which has no date (practice, no source).
CHECK_AFTER_DAYS = (7, 30)

_MOST_DAYS = 730.0


@dataclass(frozen=True)
class CuringCoat:
    """One coat of a stack: thickness [mm], what its mix is, and its waiting times [days].

    damp_days: kept damp after laying; interval_days: before the next coat; frost_free_days: without frost
    after.
    """

    thickness_mm: float
    mix: MixOfCoat
    damp_days: Range
    interval_days: Range
    frost_free_days: Range


class DatedStep(NamedTuple):
    """A step with its earliest, likely and latest date: lay, damp_until, frost_free_until or check.

    coat counts from 0, the innermost; None for steps of the whole stack.
    """

    kind: str
    coat: int | None
    earliest: date
    likely: date
    latest: date


class CuringPlan(NamedTuple):
    """Steps in order of their likely dates, and warnings about the stack: they do not stop anybody."""

    steps: list[DatedStep]
    warnings: list[str]


def curing_plan(
    start: date, coats: Sequence[CuringCoat], check_after_days: Sequence[int] = CHECK_AFTER_DAYS
) -> CuringPlan:
    """Return the dated steps of a stack of coats laid from a start date.

    coats: innermost first, at least one; all days 0 to 730. Part days are rounded up. Frost must stay away
    until the last coat that minds it is through; checks are counted from the last coat.
    Warnings: those of `stack_warnings` (richer or thicker than the coat below, stipple excepted).
    Raises: BadInput `no_coats`, `days_refused`, `date_refused`.
    Source: sequence own derivation; days from shared data, each with its own source.
    """
    _check(coats)
    try:
        return CuringPlan(_steps(start, coats, check_after_days), _stack_warnings(coats))
    except OverflowError as fault:
        raise BadInput("date_refused", "Give an earlier start date.", {"start": start.isoformat()}) from fault


def _steps(start: date, coats: Sequence[CuringCoat], check_after_days: Sequence[int]) -> list[DatedStep]:
    laid = [start, start, start]
    frost_free = [start, start, start]
    steps = []
    for place, coat in enumerate(coats):
        steps.append(DatedStep("lay", place, *laid))
        damp_until = _after(laid, coat.damp_days)
        steps.append(DatedStep("damp_until", place, *damp_until))
        frost_free = _later(frost_free, _after(laid, coat.frost_free_days))
        last_laid, laid = laid, _later(damp_until, _after(laid, coat.interval_days))
    steps.append(DatedStep("frost_free_until", None, *frost_free))
    for days in check_after_days:
        steps.append(DatedStep("check", None, *(on + timedelta(days=days) for on in last_laid)))
    return sorted(steps, key=lambda step: step.likely)


def _after(on: Sequence[date], days: Range) -> list[date]:
    ends = (days["low"], days["likely"], days["high"])
    return [day + timedelta(days=ceil(wait)) for day, wait in zip(on, ends, strict=True)]


def _later(one: Sequence[date], other: Sequence[date]) -> list[date]:
    return [max(pair) for pair in zip(one, other, strict=True)]


def _stack_warnings(coats: Sequence[CuringCoat]) -> list[str]:
    mixes = {str(place): coat.mix for place, coat in enumerate(coats)}
    stack: list[Coat] = [
        {"mix": str(place), "thickness_mm": coat.thickness_mm} for place, coat in enumerate(coats)
    ]
    return sorted(stack_warnings(stack, mixes))


def _check(coats: Sequence[CuringCoat]) -> None:
    if not coats:
        raise BadInput("no_coats", "Give at least one coat.", {"coats": "empty"})
    for coat in coats:
        for days in (coat.damp_days, coat.interval_days, coat.frost_free_days):
            if not 0 <= days["low"] <= days["likely"] <= days["high"] <= _MOST_DAYS:
                raise BadInput(
                    "days_refused",
                    "Give days from 0 to 730, low no more than likely, likely no more than high.",
                    {"coats": "days"},
                )
