"""The catalogue that phones keep: shared data put through the sums once, so that a phone only multiplies,
adds and rounds.

Its shape is told in DEVELOPERS.md 3.4 and typed in web/src/model/catalogue.ts.
"""

import hashlib
import json
from collections.abc import Iterable
from functools import cache
from typing import Any

from makegood.domain.vocabulary import shared
from makegood.science.materials.batch import PerLitre
from makegood.science.materials.solids import Ingredient
from makegood.science.mix import MixYield, addition_per_l, addition_warnings, mix_yield, richness
from makegood.science.range import Range, exactly, spread

NOTHING = exactly(0.0)
# What a phone gets of a mix just as it stands in shared data.
AS_GIVEN = (
    "words", "kind", "parts", "stipple", "coat_mm", "coverage_m2_per_l", "damp_days", "interval_days",
    "frost_free_days", "working_h", "container_l", "laying_l_per_h", "basis", "source",
)  # fmt: skip


@cache
def build_catalogue() -> dict[str, Any]:
    """Return the whole catalogue; its hash changes exactly when anything in it does."""
    content: dict[str, Any] = {
        "vocabulary": shared("vocabulary"),
        "drawings": shared("drawings"),
        "urgency": shared("urgency"),
        "states": shared("ticket_states"),
        "roles": shared("roles"),
        "hazards": {key: shared("hazards")[key] for key in ("defer", "hazards")},
        "materials": {key: _material(given) for key, given in shared("materials")["materials"].items()},
        "mixes": {key: mix_for_phones(given) for key, given in shared("mixes")["mixes"].items()},
        "methods": shared("methods")["methods"],
        "suggest": shared("methods")["suggest"],
        "work_rates": {key: given for key, given in shared("work_rates").items() if key != "note"},
        "lasting": {key: given for key, given in shared("lasting").items() if key != "note"},
        "look_first": {key: given for key, given in shared("look_first").items() if key != "note"},
        "sources": {key: given for key, given in shared("sources").items() if key != "note"},
    }
    return {"hash": _hash(content), **content}


def _hash(content: dict[str, Any]) -> str:
    text = json.dumps(content, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()[:16]


def _range(given: dict[str, Any]) -> Range:
    return spread(given["low"], given["likely"], given["high"])


def bulk_density(material: dict[str, Any]) -> Range | None:
    """Return the loose dry density of a material [kg/L]; of sand, from its voids; None for what is counted.
    """
    if "voids" in material:
        solid, voids = material["solid_kg_l"]["likely"], material["voids"]
        return spread(solid * (1 - voids["high"]), solid * (1 - voids["likely"]), solid * (1 - voids["low"]))
    return _range(material["bulk_kg_l"]) if "bulk_kg_l" in material else None


def _material(given: dict[str, Any]) -> dict[str, Any]:
    origin = given.get("voids") or given.get("bulk_kg_l") or given
    return {
        "words": given["words"],
        "unit": given["unit"],
        "bag_kg": given["bag_kg"],
        "bulk_kg_l": bulk_density(given),
        "bulking": _range(given["bulking"]) if "bulking" in given else None,
        "basis": origin["basis"],
        "source": origin["source"],
        "hazards": given["hazards"],
        "small": given.get("small", False),
    }


def ingredient(material_id: str, parts: float) -> Ingredient:
    """Return one material of a mix with its densities from shared data."""
    given = shared("materials")["materials"][material_id]
    bulk = bulk_density(given)
    if bulk is None:
        raise ValueError(f"{material_id} is counted and cannot be a part of a mix")
    water = _range(given["water_l_l"]) if "water_l_l" in given else NOTHING
    held = given.get("holds_water_l_l", 0.0)
    return Ingredient(material_id, parts, given["role"], bulk, _range(given["solid_kg_l"]), water, held)


def mix_for_phones(given: dict[str, Any]) -> dict[str, Any]:
    """Return a mix of shared data with its coefficients: amounts for one litre in place, richness, warnings,
    hazards.
    """
    water_parts = next((part["parts"] for part in given["parts"] if part["material"] == "water"), None)
    solids = [
        ingredient(part["material"], part["parts"]) for part in given["parts"] if part["material"] != "water"
    ]
    flows = given["kind"] in ("wash", "grout")
    reckoned = mix_yield(solids, _range(given["air"]), water_parts, flows)
    additions = {one["material"]: _addition(one) for one in given["additions"]}
    per_l = {**reckoned["per_l"], **additions}
    return {
        **{key: given[key] for key in AS_GIVEN},
        "additions": [
            {key: one[key] for key in one if key not in ("basis", "source")} for one in given["additions"]
        ],
        "per_l": per_l,
        "yield": {
            key: reckoned[key] for key in ("voids_filled", "dry_loose_factor", "water_l", "fresh_kg_l")
        },
        "rich": richness(_parts_of(solids, "binder"), _parts_of(solids, "aggregate")),
        "not_over": _walls_too_weak_for(solids),
        "warnings": sorted({*_wanted_warnings(given, reckoned), *_addition_faults(per_l), *_cement(solids)}),
        "hazards": _hazards_of(per_l),
    }


def _addition(given: dict[str, Any]) -> PerLitre:
    bulk = bulk_density(shared("materials")["materials"][given["material"]])
    return addition_per_l(given.get("kg_per_m3"), given.get("l_per_m3"), bulk["likely"] if bulk else None)


def _parts_of(solids: Iterable[Ingredient], role: str) -> float:
    return sum(one.parts for one in solids if one.role == role)


def _wanted_warnings(given: dict[str, Any], reckoned: MixYield) -> list[str]:
    # A wash is brushed on and has no sand to bind; lean means nothing there.
    return [] if given["kind"] == "wash" else reckoned["warnings"]


def _cement(solids: Iterable[Ingredient]) -> list[str]:
    return ["cement_over_earth"] if any(one.material == "cement" for one in solids) else []


def _addition_faults(per_l: dict[str, PerLitre]) -> list[str]:
    roles = {key: shared("materials")["materials"][key]["role"] for key in per_l}
    binder = sum(_likely_kg(per_l, key) for key, role in roles.items() if role == "binder")
    return addition_warnings(
        1000 * _likely_kg(per_l, "hair"), 1000 * _likely_kg(per_l, "linseed_oil"), 1000 * binder
    )


def _likely_kg(per_l: dict[str, PerLitre], material: str) -> float:
    kg = per_l[material]["kg"] if material in per_l else None
    return kg["likely"] if kg else 0.0


def _walls_too_weak_for(solids: Iterable[Ingredient]) -> list[str]:
    materials = shared("materials")["materials"]
    strongest = max(materials[one.material].get("strength_mpa", {"low": 0})["low"] for one in solids)
    return sorted(wall for wall, limit in shared("mixes")["wall_strength_mpa"].items() if strongest > limit)


def _hazards_of(materials: Iterable[str]) -> list[str]:
    return sorted(
        {hazard for key in materials for hazard in shared("materials")["materials"][key]["hazards"]}
    )
