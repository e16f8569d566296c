"""What is mixed when: batches shared by patches of one mix on one building, within its working time.

Model: each patch takes its litres evenly over its stretch of the day. A batch is made when the first of them
needs it and ends when it is used up or has stood for its working time; batches are no larger than the vessel,
and equal where only the vessel limits them. Source: own derivation.
"""

from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise
from typing import TypedDict

from makegood.science.materials.batch import whole_units
from makegood.science.planning.shapes import Batch, MixWays

_NOTHING = 1e-9
_NOTHING_L = 1e-6


class Stretch(TypedDict):
    """One mix being laid on one ticket from hour to hour [h], litres in all [L]."""

    job: str
    mix: str
    place: str
    from_h: float
    to_h: float
    litres: float


def share_batches(stretches: Iterable[Stretch], mixes: Mapping[str, MixWays]) -> list[Batch]:
    """Return the batches of one day, in order of their time.

    stretches: to_h > from_h; mixes: vessel and working time, > 0. Source: own derivation.
    """
    groups: dict[tuple[str, str], list[Stretch]] = {}
    for one in stretches:
        if one["litres"] > _NOTHING_L:
            groups.setdefault((one["mix"], one["place"]), []).append(one)
    found = [batch for (mix, _), group in groups.items() for batch in _of_one_mix(group, mixes[mix])]
    return sorted(found, key=lambda batch: (batch["at_h"], batch["mix"], batch["place"]))


def _of_one_mix(group: Sequence[Stretch], ways: MixWays) -> list[Batch]:
    total_l = sum(one["litres"] for one in group)
    most_l = total_l / whole_units(total_l, ways["container_l"])
    edges = sorted({one[edge] for one in group for edge in ("from_h", "to_h")})
    batches: list[Batch] = []
    for begin, end in pairwise(edges):
        active = [one for one in group if one["from_h"] <= begin and end <= one["to_h"]]
        if active:
            _lay(batches, active, (begin, end), (most_l, ways["working_h"]))
    return batches


def _lay(
    batches: list[Batch], active: Sequence[Stretch], span: tuple[float, float], limits: tuple[float, float]
) -> None:
    """Use up batches over a span in which the same tickets are laid all along; makes new ones as needed."""
    at, end = span
    most_l, working_h = limits
    rate = sum(one["litres"] / (one["to_h"] - one["from_h"]) for one in active)
    while end - at > _NOTHING:
        batch = batches[-1] if batches else None
        until = min(end, _lasts_until(batch, at, rate, limits)) if batch else at
        if batch is None or until - at <= _NOTHING:
            first = active[0]
            batch = _new_batch(first, at)
            batches.append(batch)
            until = min(end, at + most_l / rate, at + working_h)
        batch["litres"] += rate * (until - at)
        batch["until_h"] = until
        batch["jobs"] = list(dict.fromkeys([*batch["jobs"], *(one["job"] for one in active)]))
        at = until


def _lasts_until(batch: Batch, at: float, rate: float, limits: tuple[float, float]) -> float:
    most_l, working_h = limits
    return min(at + (most_l - batch["litres"]) / rate, batch["at_h"] + working_h)


def _new_batch(first: Stretch, at: float) -> Batch:
    return {
        "mix": first["mix"], "place": first["place"], "at_h": at, "until_h": at, "litres": 0.0, "jobs": [],
    }  # fmt: skip
