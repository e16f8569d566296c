"""One ticket as a whole: the jobs of its defects under its own choices, estimated one by one and added up unrounded.

The phone's twin is model/repair/repair.ts and model/repair/waiting.ts.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import ceil
from typing import Any, cast

from makegood.domain.repair.known import Known, Plain, job_of, size_of
from makegood.science.estimate import estimate
from makegood.science.materials.batch import batches
from makegood.science.materials.shapes import Estimate, Job, Layer, MaterialNeed, Method, MixNeed
from makegood.science.materials.shopping import Purchase, merge_needs, shopping_list
from makegood.science.range import Range, exactly, plus, scaled, spread, total


@dataclass(frozen=True)
class Repair:
    """What one ticket takes: true area, mixes with batches, merged materials, and what to buy for it alone."""

    estimates: tuple[Estimate, ...]
    area_m2: float
    length_m: float
    count: float
    with_loss_l: Range
    mixes: tuple[MixNeed, ...]
    materials: Mapping[str, MaterialNeed]
    hazards: tuple[str, ...]
    warnings: tuple[str, ...]
    engineer_first: bool


@dataclass(frozen=True)
class Wait:
    """One layer in time: its mix, how often it is laid, days from the first work, between lifts, and kept damp."""

    mix: str
    part: str
    thickness_mm: float | None
    times: int
    starts_days: Range
    next_days: Range
    damp_days: Range


def reckon_repair(known: Sequence[Known], ticket: Plain, site: Plain, catalogue: Plain) -> Repair | None:
    """Return what a ticket takes; None while it has no method. Raises BadInput where a choice cannot be reckoned with."""
    usual = catalogue["methods"].get(ticket.get("method"))
    if usual is None:
        return None
    factor = site.get("thickness_factor") or 1
    method = cast(Method, {**usual, "thickness_factor": scaled(usual["thickness_factor"], factor)})
    jobs = [_ticket_job(one, ticket, site, catalogue["mixes"]) for one in known]
    found = tuple(estimate(job, method, catalogue["mixes"], catalogue["materials"]) for job in jobs)
    sizes = [size_of(one) for one in known]
    return Repair(
        found,
        sum(size.area_m2 or 0 for size in sizes),
        sum(size.length_m or 0 for size in sizes),
        sum(job.get("count") or 0 for job in jobs),
        total(layer["wet_l"] for one in found for layer in one["layers"]),
        _mixes(found, catalogue["mixes"]),
        merge_needs(one["materials"] for one in found),
        tuple(sorted({*method["hazards"], *(name for one in found for name in one["hazards"])})),
        tuple(sorted({name for one in found for name in one["warnings"]})),
        method["engineer_first"],
    )


def _ticket_job(known: Known, ticket: Plain, site: Plain, mixes: Mapping[str, Plain]) -> Job:
    loss = site.get("loss") if ticket.get("loss") is None else ticket["loss"]
    own = {"coats": ticket.get("coats"), "loss": loss, "margin_mm": ticket.get("margin_mm")}
    return cast(Job, {**job_of(known, mixes), **own})


def _mixes(found: Sequence[Estimate], mixes: Mapping[str, Any]) -> tuple[MixNeed, ...]:
    """Merged first, then cut into whole batches, so that two small patches share one."""
    wet_l: dict[str, Range] = {}
    for need in (need for one in found for need in one["mixes"]):
        wet_l[need["mix"]] = plus(wet_l.get(need["mix"], exactly(0.0)), need["wet_l"])
    return tuple({"mix": key, "wet_l": wet, "batches": _batches(wet, mixes[key])} for key, wet in wet_l.items())


def _batches(wet_l: Range, mix: Mapping[str, Any]) -> Any:
    return batches(wet_l["likely"], mix["container_l"], mix["working_h"]["low"], mix["laying_l_per_h"])


def buy_for(repairs: Sequence[Repair], site: Plain, catalogue: Plain) -> dict[str, Purchase]:
    """Return one shopping list of several tickets: merged first, rounded up once, in the site's own bags."""
    merged = merge_needs(one.materials for one in repairs)
    return shopping_list(merged, catalogue["materials"], site.get("bags") or {})


def waits_of(layers: Sequence[Layer], mixes: Mapping[str, Plain]) -> list[Wait]:
    """Return the layers of one repair as they follow each other; coats of one wash are told once with their number.

    The next coat waits for the interval and for the end of damp curing, whichever is longer; part days are rounded up.
    """
    waits: list[Wait] = []
    starts = exactly(0)
    for layer in layers:
        mix = mixes[layer["mix"]]
        damp = _whole_days(mix["damp_days"])
        following = _longer(damp, _whole_days(mix["interval_days"]))
        last = waits[-1] if waits else None
        if last and last.mix == layer["mix"] and mix["kind"] == "wash":
            waits[-1] = Wait(last.mix, last.part, None, last.times + 1, last.starts_days, following, damp)
        else:
            thick = None if layer["thickness_mm"] is None else layer["thickness_mm"] / layer["lifts"]
            waits.append(Wait(layer["mix"], layer["part"], thick, layer["lifts"], starts, following, damp))
        starts = plus(starts, scaled(following, layer["lifts"]))
    return waits


def longest_wait(repair: Repair, mixes: Mapping[str, Plain]) -> list[Wait]:
    """Return the waits of the defect that takes longest: the others of the ticket wait along with it."""
    return max((waits_of(one["layers"], mixes) for one in repair.estimates), key=_last_day, default=[])


def _last_day(waits: Sequence[Wait]) -> float:
    if not waits:
        return 0.0
    last = waits[-1]
    return last.starts_days["likely"] + (last.times - 1) * last.next_days["likely"] + last.damp_days["likely"]


def _whole_days(days: Range) -> Range:
    return spread(ceil(days["low"]), ceil(days["likely"]), ceil(days["high"]))


def _longer(one: Range, other: Range) -> Range:
    return spread(max(one["low"], other["low"]), max(one["likely"], other["likely"]), max(one["high"], other["high"]))
