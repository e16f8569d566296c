"""How a repair is done with what it lays: a method's own words and waits, or those for earth. Twin: model/repair/ways.ts."""

from collections.abc import Mapping, Sequence
from typing import Any

from makegood.domain.repair.known import Plain
from makegood.science.estimate import coats_for, fill_mix_for
from makegood.science.laid import OF_FILLING, lays_earth
from makegood.science.materials.shapes import Job, Layer, Method


def planned_mixes(job: Job, method: Method) -> list[str]:
    """Return the mixes a job gets by its method, whether or not its size is known yet."""
    if method["per"] == "none":
        return []
    fill = fill_mix_for(job, method)
    return [*(coat["mix"] for coat in coats_for(job, method)), *([fill] if fill else [])]


def as_laid(usual: Plain, job: Job, layers: Sequence[Layer], mixes: Mapping[str, Any]) -> Plain:
    """Return the method with the words, waits and source that fit what it lays here: those for earth, or its own.

    What is laid is not known before its size is: then what is planned decides. Waits between coats are those of the
    method's own coats; where somebody chose other coats, the days of their mixes stand alone.
    """
    earth = usual.get("earth")
    laid = [layer["mix"] for layer in layers] or planned_mixes(job, usual)  # type: ignore[arg-type]
    method = {**usual, **earth} if earth and lays_earth(laid, mixes) else {**usual}
    if job.get("coats") is not None:
        method["cure"] = [one for one in method["cure"] if one.get("wait") in (None, *OF_FILLING)]
    return method


def way_of(methods: Sequence[Plain], usual: Plain) -> Plain:
    """Return the one way a ticket is told in: that of its defects, or the method's own where they differ."""
    names = {one["words"]["en"]["name"] for one in methods}
    return methods[0] if len(names) == 1 else usual
