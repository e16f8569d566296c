"""From proportions to yield: the absolute volume of solids, water and air, in low, likely and high.

Model: volume = (solid volumes + water) / (1 - air). The paste is all that is fine (binder, pozzolan) with the
water; it fills the voids of the sand well, or the mix is lean. There is no constant wet-to-dry factor: it
follows from the mix. Water of a mix given by parts is what its materials ask for (shared/materials.json); for
lime and sand that is 0.317 L per kg lime and 0.19 L per litre of sand, own fit to a public cost base (Junta
de Andalucia BCCA 2024-01, read), within 1 % at 1:1 to 1:4. Range: mortars, plasters, earth mixes, grouts and
washes of building practice.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TypedDict

from makegood.science.materials.batch import PerLitre
from makegood.science.materials.solids import Ingredient, Solid, State, read_solid, refuse, share, size
from makegood.science.range import Range, around, scaled

# Below this share of filled voids the paste no longer coats the sand. Source: "Concrete Construction: Methods
# and Costs" (1908), p. 19, read: lean when p < 0.9 n s v.
LEAN_BELOW = 0.9
# The same handbook's allowance for sand pushed apart by the paste, as a share of the loose sand. Read, p. 19.
PUSHED_APART = 0.1
# Litres of water that a litre of fine solids can carry and still be a plaster: matured lime putty at 1.35
# kg/L (1.3 to 1.4 read in a UK national specification, clause 481) is 0.282 L of lime (2.24 kg/L) and 0.718 L
# of water.
WATER_PER_FINES = 2.54
# Hair [kg/m3] and oil [share of binder mass] in usual practice. Hair 1.5 to 3.5 g/kg read (three sources), at
# about 1900 kg/m3; oil from memory.
HAIR_KG_M3 = (2.5, 7.0)
OIL_PER_BINDER = 0.02


class Yield(TypedDict):
    """Volume in place [L]; share of the sand's voids filled; loose dry litres to one in place; warning ids.
    """

    volume_l: float
    voids_filled: float | None
    dry_loose_factor: float | None
    warnings: list[str]


class MixYield(TypedDict):
    """A mix by parts: amounts for one litre in place and what is worth knowing of it."""

    per_l: dict[str, PerLitre]
    voids_filled: float | None
    dry_loose_factor: Range
    water_l: Range
    fresh_kg_l: Range
    warnings: list[str]


def handbook_volume(paste: float, sand: float, voids: float) -> float:
    """Mortar volume by the handbook rule of 1908, in the unit of its arguments.

    paste, sand: volumes, the sand loose; voids: share of the sand, 0 to 1. Rich: paste + sand x (1.1 - 0.9
    voids); lean, where the paste fills less than 0.9 of the voids: 1.1 x sand. Range: cement and sand of its
    day; it gives more than the absolute volume. Source: "Concrete Construction: Methods and Costs" (1908), p.
    19, read; see tests/reference/test_c01.py.
    """
    if is_lean(paste, sand * voids):
        return (1 + PUSHED_APART) * sand
    return paste + sand * (1 + PUSHED_APART - LEAN_BELOW * voids)


def is_lean(paste: float, voids: float) -> bool:
    """Whether a volume of paste leaves the voids of the sand too empty; same unit for both. Source:
    LEAN_BELOW.
    """
    return paste < LEAN_BELOW * voids


def reckon_yield(solids: Sequence[Mapping[str, object]], water_l: float, air: float) -> Yield:
    """Volume of a mix by what is put in.

    solids: each {"mass_kg", "solid_density_kg_l", "bulk_density_kg_l"?} or {"loose_volume_l", "voids"}; voids
    0 is a paste, above 0.5 a powder; water_l: added water [L], >= 0; air: share of the finished volume, 0 to
    below 0.5. Raises RecipeRefused `recipe_refused`, with the reason, for what cannot exist: negative,
    nothing solid, more water than fines and sand can hold. Source: absolute volume, see the module and
    tests/reference/test_c02.py, test_c03.py.
    """
    parts = [read_solid(one, index) for index, one in enumerate(solids)]
    water_l, air = size(water_l, "water_l"), share(air, "air", 0.5)
    if sum(part.solid_l for part in parts) <= 0:
        raise refuse("Name at least one solid with an amount above 0.", "solids")
    fines_l = sum(part.solid_l for part in parts if part.fine)
    voids_l = sum(part.voids_l for part in parts)
    _check_water(water_l, fines_l, voids_l)
    volume_l = (sum(part.solid_l for part in parts) + water_l) / (1 - air)
    warnings = [] if fines_l > 0 else ["no_binder"]
    if voids_l > 0 and is_lean(fines_l + water_l, voids_l):
        warnings.append("lean")
    return {
        "volume_l": volume_l,
        "voids_filled": (fines_l + water_l) / voids_l if voids_l > 0 else None,
        "dry_loose_factor": _loose_factor(parts, volume_l),
        "warnings": warnings,
    }


def _check_water(water_l: float, fines_l: float, voids_l: float) -> None:
    holds_l = WATER_PER_FINES * fines_l + voids_l
    if water_l > holds_l + 1e-9:
        raise refuse(
            f"Check the sand, the binder and the water: {water_l:.3g} L of water is more than these solids"
            f" can hold ({holds_l:.3g} L); the mix would run off the wall.",
            "water_l",
        )


def _loose_factor(parts: Iterable[Solid], volume_l: float) -> float | None:
    loose_l = 0.0
    for part in parts:
        if part.loose_l is None:
            return None
        loose_l += part.loose_l
    return loose_l / volume_l


@dataclass(frozen=True)
class _Reckoned:
    """One litre in place in one state: litres and kilograms of each ingredient, and of water."""

    loose_l: dict[str, float]
    mass_kg: dict[str, float]
    water_l: float
    voids_filled: float | None

    @property
    def kg_l(self) -> float:
        return sum(self.mass_kg.values()) + self.water_l


def mix_yield(
    ingredients: Sequence[Ingredient], air: Range, water_parts: float | None, flows: bool = False
) -> MixYield:
    """What one litre in place takes of a mix by parts.

    ingredients: parts by loose dry volume with densities [kg/L]; air: share of the finished volume;
    water_parts: parts of water by volume, or None to let the materials say; flows: a wash or grout, which may
    carry more water than a plaster holds. Returns ranges over three states of the same materials: loose and
    dry, likely, tight and wet. Raises RecipeRefused `recipe_refused`: no binder, a part not above 0, no solid
    that can hold the water.
    """
    if not any(one.fine for one in ingredients):
        raise refuse("Add a binder: lime, or earth with clay in it.", "parts")
    for one in ingredients:
        if not one.parts > 0:
            raise refuse("Give every material of the mix a part above 0.", "parts")
    states = [_reckon(ingredients, air, water_parts, state, flows) for state in ("low", "likely", "high")]
    return _spread_over(ingredients, states)


def _reckon(
    ingredients: Sequence[Ingredient], air: Range, water_parts: float | None, state: State, flows: bool
) -> _Reckoned:
    solid_l = {one.material: one.solid_l(state) for one in ingredients}
    held_l = sum(one.parts * one.holds_water_l_l for one in ingredients)
    needed_l = sum(one.parts * one.water_l_l[state] for one in ingredients)
    water_l = max(0.0, needed_l - held_l) if water_parts is None else water_parts
    fines_l = sum(solid_l[one.material] for one in ingredients if one.fine)
    voids_l = sum(one.parts - solid_l[one.material] for one in ingredients if one.sand)
    if not flows:
        _check_water(water_l + held_l, fines_l, voids_l + _soaked_l(ingredients, state))
    volume = (sum(solid_l.values()) + held_l + water_l) / (1 - air[state])
    return _Reckoned(
        {one.material: one.parts / volume for one in ingredients},
        {one.material: one.parts * one.bulk_kg_l[state] / volume for one in ingredients},
        water_l / volume,
        (fines_l + held_l + water_l) / voids_l if voids_l > 0 else None,
    )


def _soaked_l(ingredients: Sequence[Ingredient], state: State) -> float:
    """Water that straw, hair and the like drink up, which is therefore held."""
    return sum(one.parts * one.water_l_l[state] for one in ingredients if not one.fine and not one.sand)


def _spread_over(ingredients: Sequence[Ingredient], states: Sequence[_Reckoned]) -> MixYield:
    loose, likely, tight = states
    per_l: dict[str, PerLitre] = {
        one.material: {
            "kg": around(*(state.mass_kg[one.material] for state in states)),
            "l": around(*(state.loose_l[one.material] for state in states)),
        }
        for one in ingredients
    }
    water_l = around(loose.water_l, likely.water_l, tight.water_l)
    if water_l["high"] > 0:
        per_l["water"] = {"kg": water_l, "l": water_l}
    # Warn of what is lean in every state: one guess of the voids is no reason to call a usual mix lean.
    lean = all(state.voids_filled is not None and state.voids_filled < LEAN_BELOW for state in states)
    dry = [sum(state.loose_l[one.material] for one in ingredients if not one.fibre) for state in states]
    return {
        "per_l": per_l,
        "voids_filled": likely.voids_filled,
        "dry_loose_factor": around(*dry),
        "water_l": water_l,
        "fresh_kg_l": around(*(state.kg_l for state in states)),
        "warnings": ["lean"] if lean else [],
    }


def addition_per_l(kg_per_m3: Range | None, l_per_m3: Range | None, bulk_kg_l: float | None) -> PerLitre:
    """An addition dosed on the finished volume, for one litre in place; the other measure follows from bulk
    density.
    """
    kg = scaled(kg_per_m3, 1 / 1000) if kg_per_m3 else None
    volume = scaled(l_per_m3, 1 / 1000) if l_per_m3 else None
    if bulk_kg_l:
        volume = volume or (scaled(kg, 1 / bulk_kg_l) if kg else None)
        kg = kg or (scaled(volume, bulk_kg_l) if volume else None)
    return {"kg": kg, "l": volume}


def addition_warnings(hair_kg_m3: float, oil_kg_m3: float, binder_kg_m3: float) -> list[str]:
    """Name additions outside usual practice: odd_hair, much_oil. Sources: HAIR_KG_M3, OIL_PER_BINDER."""
    found = []
    if hair_kg_m3 > 0 and not HAIR_KG_M3[0] <= hair_kg_m3 <= HAIR_KG_M3[1]:
        found.append("odd_hair")
    if oil_kg_m3 > OIL_PER_BINDER * binder_kg_m3:
        found.append("much_oil")
    return found


def richness(binder_parts: float, sand_parts: float) -> float:
    """Binder to sand by loose volume; without sand 10, richer than any mortar."""
    return binder_parts / sand_parts if sand_parts > 0 else 10.0


def masses_by_parts(parts: Sequence[float], bulk: Sequence[float], sand_mass: float) -> list[float]:
    """Masses of a mix by parts, scaled so that the last of them (the sand) weighs `sand_mass`, in the unit of
    that.

    parts: by loose volume, > 0; bulk: densities, all in one unit. Source: batching by unit weights as in ASTM
    C270 (from memory); see tests/reference/test_c05.py.
    """
    masses = [part * density for part, density in zip(parts, bulk, strict=True)]
    return [mass * sand_mass / masses[-1] for mass in masses]


def bulking_from_settling(heap_mm: float, inundated_mm: float) -> float:
    """Bulking of damp sand, as a share, from its height in a jar before and after flooding it [mm].

    Raises RecipeRefused if the flooded sand stands higher than the damp. Source: field test, read; see
    test_c04.py.
    """
    if not 0 < inundated_mm <= heap_mm:
        raise refuse("Measure again: flooded sand never stands higher than damp sand.", "inundated_mm")
    return heap_mm / inundated_mm - 1


def damp_from_dry_l(dry_l: float, bulking: float) -> float:
    """Litres of damp sand to fill so as to place `dry_l` of dry sand; bulking as a share, >= 0."""
    return dry_l * (1 + bulking)


def dry_from_damp_l(damp_l: float, bulking: float) -> float:
    """Litres of dry sand that are in `damp_l` of damp sand; bulking as a share, >= 0."""
    return damp_l / (1 + bulking)


def bulking_at(moisture: float, curve: Sequence[Sequence[float]]) -> float:
    """Bulking of sand, as a share, at a moisture by mass, straight between the points of its curve.

    moisture: share of the dry mass, 0 to the curve's end; curve: ((moisture, bulking), ...) rising in
    moisture, 0 at both ends. Raises RecipeRefused outside. Source: points in shared/materials.json; a rise,
    then a fall (read, 1909).
    """
    for (left, low), (right, high) in pairwise(curve):
        if left <= moisture <= right:
            return low + (high - low) * (moisture - left) / (right - left)
    raise refuse(f"Give the moisture as a share between 0 and {curve[-1][0]}.", "moisture")
