"""Coats to wet volume, and what is wrong with a stack of coats.

Model: wet volume in place = area times thickness (1 m2 x 1 mm = 1 L). No coat is richer or thicker than the
one below it, a thrown stipple excepted (building limes practice; read in a supplier's guide, from memory in
conservation advice). Coats of different kinds, say lime over earth, are not compared.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import TypedDict

from makegood.science.range import Range, spread


class Coat(TypedDict):
    """One layer: the mix by its id and the thickness it is laid to [mm]."""

    mix: str
    thickness_mm: float


class MixOfCoat(TypedDict):
    """What a stack of coats asks of a mix."""

    kind: str
    rich: float
    stipple: bool
    coverage_m2_per_l: Range | None
    coat_mm: Range | None


def wet_volume_l(area_m2: float, thicknesses_mm: Iterable[float]) -> float:
    """Wet volume in place of coats on an area.

    area_m2: true area [m2], >= 0; thicknesses_mm: of each coat [mm], >= 0. Returns litres, without loss.
    Source: geometry, 1 m2 x 1 mm = 1 L; see tests/reference/test_c07.py.
    """
    return area_m2 * sum(thicknesses_mm)


def wash_volume_l(area_m2: float, coverage_m2_per_l: Range) -> Range:
    """Volume of one coat of a wash, from what a litre covers.

    area_m2: true area [m2], >= 0; coverage_m2_per_l: [m2/L], > 0. Returns litres; the best cover gives the
    low end. Source: own derivation. Valid for layers under 1 mm, which are washes rather than plasters.
    """
    return spread(
        area_m2 / coverage_m2_per_l["high"],
        area_m2 / coverage_m2_per_l["likely"],
        area_m2 / coverage_m2_per_l["low"],
    )


def thickness_total_mm(coats: Sequence[Coat], mixes: Mapping[str, MixOfCoat]) -> float:
    """Thickness of a stack of coats [mm]; washes add nothing that fills a hole."""
    return sum(coat["thickness_mm"] for coat in coats if mixes[coat["mix"]]["coverage_m2_per_l"] is None)


def stack_warnings(
    coats: Sequence[Coat], mixes: Mapping[str, MixOfCoat], below: str | None = None
) -> set[str]:
    """Name what breaks the rules of coats in a stack.

    coats: innermost first; below: id of the mix that fills the hole under them, if any. Returns warning ids:
    richer_than_below, thicker_than_below, too_thick. Source: see the module.
    """
    found: set[str] = set()
    under = mixes[below] if below else None
    under_mm: float | None = None
    for coat in coats:
        mix = mixes[coat["mix"]]
        if mix["coat_mm"] and coat["thickness_mm"] > mix["coat_mm"]["high"]:
            found.add("too_thick")
        if mix["kind"] == "wash" or mix["stipple"]:
            continue
        if under is not None and under["kind"] == mix["kind"]:
            if mix["rich"] > under["rich"]:
                found.add("richer_than_below")
            if under_mm is not None and coat["thickness_mm"] > under_mm:
                found.add("thicker_than_below")
        under, under_mm = mix, coat["thickness_mm"]
    return found
