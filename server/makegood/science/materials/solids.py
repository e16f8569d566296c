"""The solids of a mix as a person gives them: the room they take, and whether they are paste or sand.

Model: a solid's volume is its mass over its solid density, or its loose volume less the voids.
Source: definition.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from makegood.errors import RecipeRefused
from makegood.science.range import Range

State = Literal["low", "likely", "high"]
# Loose powders (lime, cement, clay) have more than half their room empty, sands less than half: sand voids
# 0.35 to 0.45 read in "Concrete Construction: Methods and Costs" (1908), p. 21; lime 0.69 from its two
# densities.
POWDER_VOIDS = 0.5
DENSEST_KG_L = 8.0


@dataclass(frozen=True)
class Solid:
    """One solid as given: solid volume [L], loose volume [L] if known, and whether it belongs to the paste.
    """

    solid_l: float
    loose_l: float | None
    fine: bool

    @property
    def voids_l(self) -> float:
        """Room between the grains [L]; none for what is paste or whose loose volume is not known."""
        return 0.0 if self.fine or self.loose_l is None else self.loose_l - self.solid_l


@dataclass(frozen=True)
class Ingredient:
    """One material of a mix by parts: loose dry volume, densities [kg/L], water it asks for and brings [L per
    loose L].

    `role`: binder and pozzolan are paste, aggregate is sand, fibre takes its own room only.
    """

    material: str
    parts: float
    role: str
    bulk_kg_l: Range
    solid_kg_l: Range
    water_l_l: Range
    holds_water_l_l: float = 0.0

    @property
    def fine(self) -> bool:
        """Whether it belongs to the paste."""
        return self.role in ("binder", "pozzolan")

    @property
    def sand(self) -> bool:
        """Whether its voids are to be filled."""
        return self.role == "aggregate"

    @property
    def fibre(self) -> bool:
        """Whether it is straw, hair or the like."""
        return self.role == "fibre"

    def solid_l(self, state: State) -> float:
        """Solid volume [L]; of a putty, what is not its own water."""
        if self.holds_water_l_l:
            return self.parts * (1 - self.holds_water_l_l)
        return self.parts * self.bulk_kg_l[state] / self.solid_kg_l["likely"]


def refuse(why: str, field: str) -> RecipeRefused:
    """Return the refusal of a mix that cannot exist, with a sentence that says what to do."""
    return RecipeRefused("recipe_refused", why, {field: why})


def size(value: object, field: str) -> float:
    """Read a number >= 0 or refuse it."""
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value) or value < 0:
        raise refuse(f"Give {field} as a number that is not negative.", field)
    return float(value)


def share(value: object, field: str, below: float) -> float:
    """Read a share from 0 to less than `below` or refuse it."""
    read = size(value, field)
    if read >= below:
        raise refuse(f"Give {field} as a share from 0 to less than {below:g}.", field)
    return read


def read_solid(given: Mapping[str, object], index: int) -> Solid:
    """Read one solid of `reckon_yield`: by mass and density, or by loose volume and voids."""
    if "mass_kg" in given and "solid_density_kg_l" in given:
        return _by_mass(given)
    if "loose_volume_l" in given and "voids" in given:
        loose_l, voids = size(given["loose_volume_l"], "loose_volume_l"), share(given["voids"], "voids", 1)
        return Solid(loose_l * (1 - voids), loose_l, fine=voids == 0 or voids > POWDER_VOIDS)
    raise refuse(
        "Give each solid as mass_kg with solid_density_kg_l, or as loose_volume_l with voids.",
        f"solids[{index}]",
    )


def _by_mass(given: Mapping[str, object]) -> Solid:
    mass_kg = size(given["mass_kg"], "mass_kg")
    density = size(given["solid_density_kg_l"], "solid_density_kg_l")
    if not 0 < density <= DENSEST_KG_L:
        raise refuse(
            f"Give the solid density in kg per litre, above 0 and up to {DENSEST_KG_L:g}.",
            "solid_density_kg_l",
        )
    if given.get("bulk_density_kg_l") is None:
        return Solid(mass_kg / density, None, fine=True)
    bulk = size(given["bulk_density_kg_l"], "bulk_density_kg_l")
    if not 0 < bulk <= density:
        raise refuse(
            "Give the loose density above 0 and no larger than the solid density.", "bulk_density_kg_l"
        )
    return Solid(mass_kg / density, mass_kg / bulk, fine=1 - bulk / density > POWDER_VOIDS or bulk == density)
