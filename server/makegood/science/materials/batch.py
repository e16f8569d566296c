"""Wet volume to whole batches, and a batch to what goes into the bucket.

Model: a batch is no larger than the vessel, nor than what can be laid before it stiffens. Batches of one job
are made equal. Source: own derivation; laying rates and vessels are assumed, see shared/mixes.json.
"""

import math
from collections.abc import Mapping
from typing import TypedDict

from makegood.science.range import Range, scaled


class BatchPlan(TypedDict):
    """How many batches of how many litres in place, and what keeps them from being larger."""

    count: int
    each_l: float
    limited_by: str


class PerLitre(TypedDict):
    """Of one litre in place: mass [kg] and loose dry volume [L]; None where it makes no sense."""

    kg: Range | None
    l: Range | None  # noqa: E741  (the unit's own sign, as in the catalogue)


def whole_units(amount: float, unit: float) -> int:
    """Units needed so as not to run short; a billionth over is no reason to buy one more."""
    return math.ceil(amount / unit - 1e-9)


def batches(wet_l: float, container_l: float, working_h: float, laying_l_per_h: float) -> BatchPlan:
    """Divide a wet volume into equal batches.

    wet_l: volume with loss [L], >= 0; container_l: the vessel [L], > 0; working_h: before it stiffens [h], >
    0; laying_l_per_h: by those who work together [L/h], > 0. Returns count and litres of each.
    """
    by_time_l = working_h * laying_l_per_h
    limit_l = min(container_l, by_time_l)
    count = whole_units(wet_l, limit_l)
    limited_by = "container" if container_l <= by_time_l else "time"
    return {"count": count, "each_l": wet_l / count if count else 0.0, "limited_by": limited_by}


def recipe(per_l: Mapping[str, PerLitre], litres: float) -> dict[str, PerLitre]:
    """What goes into one batch of `litres` in place, material by material [kg and loose dry L]."""
    return {
        material: {
            "kg": scaled(each["kg"], litres) if each["kg"] else None,
            "l": scaled(each["l"], litres) if each["l"] else None,
        }
        for material, each in per_l.items()
    }
