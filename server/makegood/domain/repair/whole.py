"""One ticket as a whole: the jobs of its defects under its own choices, estimated one by one and added up unrounded.

The phone's twin is model/repair/repair.ts.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, cast

from makegood.domain.repair.known import Known, Plain, job_of, size_of
from makegood.domain.repair.ways import as_laid, planned_mixes, way_of
from makegood.science.estimate import estimate
from makegood.science.materials.batch import batches
from makegood.science.materials.shapes import Estimate, Job, MaterialNeed, Method, MixNeed
from makegood.science.materials.shopping import Purchase, merge_needs, shopping_list
from makegood.science.range import Range, exactly, plus, scaled, total


@dataclass(frozen=True)
class Repair:
    """What one ticket takes: true area, mixes with batches, merged materials; `methods` as laid, one for each estimate."""

    estimates: tuple[Estimate, ...]
    methods: tuple[Plain, ...]
    method: Plain
    area_m2: float
    length_m: float
    count: float
    with_loss_l: Range
    mixes: tuple[MixNeed, ...]
    materials: Mapping[str, MaterialNeed]
    hazards: tuple[str, ...]
    warnings: tuple[str, ...]
    engineer_first: bool


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
    mixes = catalogue["mixes"]
    ways = tuple(as_laid(usual, job, one["layers"], mixes) for job, one in zip(jobs, found, strict=True))
    return Repair(
        found,
        ways,
        way_of(ways, usual),
        sum(size.area_m2 or 0 for size in sizes),
        sum(size.length_m or 0 for size in sizes),
        sum(job.get("count") or 0 for job in jobs),
        total(layer["wet_l"] for one in found for layer in one["layers"]),
        _mixes(found, mixes),
        merge_needs(one["materials"] for one in found),
        _hazards(method, jobs, found, mixes),
        tuple(sorted({name for one in found for name in one["warnings"]})),
        method["engineer_first"],
    )


def _hazards(method: Method, jobs: Sequence[Job], found: Sequence[Estimate], mixes: Mapping[str, Plain]) -> tuple[str, ...]:
    """What can hurt: the method's own, and what comes with the mixes, told before the size of the work is known too."""
    planned = {mix for job in jobs or [Job()] for mix in planned_mixes(job, method)}
    with_mixes = {name for mix in planned if mix in mixes for name in mixes[mix]["hazards"]}
    return tuple(sorted({*method["hazards"], *with_mixes, *(name for one in found for name in one["hazards"])}))


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
