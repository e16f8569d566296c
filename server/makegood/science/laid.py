"""Layers of a repair to what is laid one after another, each with its number and the days it takes.

Model: a filling is laid lift by lift and has no number; true coats are numbered from the wall outwards. Days are
those of the mix, or the method's where those are longer: damp curing, the wait before what follows, and frost.
The phone's twin is web/src/model/waiting/laid.ts, on the same shared/vectors/laid.json. Source: own derivation; days
come in as arguments, each with its own source.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from makegood.science.materials.shapes import Layer
from makegood.science.range import Range, spread

# What a line of a method's cure makes longer; the rest of them waits for nothing that is laid.
OF_FILLING = ("lift", "filling")


@dataclass(frozen=True)
class LaidCoat:
    """One coat, or one lift of a filling: `n` counts true coats from 1 and is None for a filling; days as ranges.

    `lift` of `lifts` counts from 1; `thickness_mm` [mm] is that of this coat or lift, None where it has none.
    """

    mix: str
    part: str
    n: int | None
    lift: int
    lifts: int
    thickness_mm: float | None
    damp_days: Range
    interval_days: Range
    frost_free_days: Range


def laid_coats(layers: Sequence[Layer], mixes: Mapping[str, Any], cure: Iterable[Mapping[str, Any]] = ()) -> list[LaidCoat]:
    """Return what is laid, innermost first; `cure` holds a method's own waits. Layers of unknown mixes are left out."""
    coats: list[LaidCoat] = []
    n = 0
    for layer in layers:
        mix = mixes.get(layer["mix"])
        if mix is None:
            continue
        n += layer["part"] == "coat"
        thick = None if layer["thickness_mm"] is None else layer["thickness_mm"] / layer["lifts"]
        coats += [
            LaidCoat(
                layer["mix"], layer["part"], n if layer["part"] == "coat" else None, lift + 1, layer["lifts"], thick,
                *(spread(mix[key]["low"], mix[key]["likely"], mix[key]["high"]) for key in _DAYS),
            )
            for lift in range(layer["lifts"])
        ]  # fmt: skip
    for wait in cure:
        coats = [_raised(coat, wait, coats) for coat in coats]
    return coats


def lays_earth(mix_ids: Iterable[str], mixes: Mapping[str, Any]) -> bool:
    """Tell whether all of these mixes are without lime; nothing at all is not earth."""
    known = [mixes[one] for one in mix_ids if one in mixes]
    return bool(known) and not any("lime_burns" in mix["hazards"] for mix in known)


_DAYS = ("damp_days", "interval_days", "frost_free_days")


def _raised(coat: LaidCoat, wait: Mapping[str, Any], coats: Sequence[LaidCoat]) -> LaidCoat:
    key = _which(coat, wait.get("wait"), coats)
    return replace(coat, **{key: longer(getattr(coat, key), wait["days"])}) if key else coat  # type: ignore[arg-type]


def _which(coat: LaidCoat, wait: str | None, coats: Sequence[LaidCoat]) -> str | None:
    """The days of a coat that a line of cure speaks of; None for those of others."""
    is_lift = coat.part == "dub_out"
    meets = {
        "lift": is_lift,
        "filling": is_lift and coat.lift == coat.lifts,
        "coat_1": coat.n == 1,
        "coat_2": coat.n == 2,
        "between": coat.n is not None,
    }
    if wait in meets:
        return "interval_days" if meets[wait] else None
    if wait == "last":
        return "damp_days" if coat is coats[-1] else None
    return "frost_free_days" if wait == "frost" else None


def longer(one: Range, other: Range) -> Range:
    """Return the longer of two waits, end by end."""
    return spread(max(one["low"], other["low"]), max(one["likely"], other["likely"]), max(one["high"], other["high"]))
