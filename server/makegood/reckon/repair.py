"""`reckon estimate`: what one repair takes, from a size on the wall and a method or coats."""

from collections.abc import Mapping
from typing import Any, cast

from makegood.domain.catalogue import build_catalogue
from makegood.domain.vocabulary import choices
from makegood.errors import BadInput
from makegood.reckon.given import Given, bad, missing
from makegood.reckon.surfaces import drawn_area
from makegood.science.estimate import estimate
from makegood.science.materials.batch import PerLitre, recipe
from makegood.science.materials.coat import Coat
from makegood.science.materials.shapes import Job, Material, MaterialNeed, Method, Mix, MixNeed
from makegood.science.range import Range, spread

FINISH_KINDS = ("lime", "earth", "none")
JOB_NUMBERS = (
    "length_m", "count", "depth_mean_mm", "depth_max_mm", "crack_width_mm", "cover_mm", "margin_mm",
    "container_l", "laying_l_per_h",
)  # fmt: skip
# Of bare coats; from memory: 5 to 10 % is lost in hand plastering, 10 to 15 % on small patches.
USUAL_LOSS = spread(0.05, 0.10, 0.15)
# Assumed, as in the plastering methods of shared/methods.json.
USUAL_THICKNESS = spread(0.9, 1.0, 1.2)


def estimate_repair(given: Given) -> dict[str, object]:
    """Return sizes, layers, mixes and materials of one repair; see `makegood.science.estimate.estimate`."""
    catalogue = build_catalogue()
    mixes: Mapping[str, Mix] = catalogue["mixes"]
    materials: Mapping[str, Material] = catalogue["materials"]
    coats = read_coats(given)
    method = _method(given, coats, mixes)
    size = _size(given)
    job = _job(given, size, coats)
    if given.value("method") is None and job.get("area_m2") is None:
        raise missing("area_m2", "Give area_m2, or the surface with an outline.")
    reckoned = estimate(job, method, mixes, materials)
    wants_recipes = given.flag("recipes")
    return {
        **{key: value for key, value in size.items() if key != "warnings"},
        **reckoned,
        "mixes": [_mix(need, mixes, wants_recipes) for need in reckoned["mixes"]],
        "materials": {key: flat_need(need) for key, need in reckoned["materials"].items()},
        "warnings": sorted({*size["warnings"], *reckoned["warnings"]}),
    }


def flat_need(need: MaterialNeed) -> dict[str, object]:
    """Return a need with low, likely and high beside its unit."""
    return {"unit": need["unit"], **need["amount"], "l": need["l"], "damp_l": need["damp_l"]}


def read_coats(given: Given) -> list[Coat] | None:
    """Read `coats`, innermost first, each a mix of the catalogue and a thickness; None if not given."""
    parts = given.parts("coats")
    if parts is None:
        return None
    coats: list[Coat] = []
    for part in parts:
        mix = part.chosen("mix", sorted(choices("mixes")))
        if mix is None:
            raise missing("mix", "Give each coat a mix and a thickness_mm.")
        coats.append({"mix": mix, "thickness_mm": part.needed("thickness_mm")})
    return coats


def method_named(given: Given) -> Method | None:
    """Return the repair method asked for by its id, or None if none was."""
    name = given.chosen("method", list(build_catalogue()["methods"]))
    return None if name is None else cast("Method", build_catalogue()["methods"][name])


def _size(given: Given) -> dict[str, Any]:
    """Area, edge and warnings: as drawn on a surface, else as told."""
    area_m2 = given.number("area_m2")
    if area_m2 is None and given.value("surface") is not None:
        drawn = drawn_area(given)
        return {
            "area_m2": drawn.area_m2, "as_drawn_m2": drawn.as_drawn_m2, "perimeter_m": drawn.perimeter_m,
            "warnings": drawn.warnings,
        }  # fmt: skip
    return {"area_m2": area_m2, "perimeter_m": given.number("perimeter_m"), "warnings": []}


def _job(given: Given, size: dict[str, Any], coats: list[Coat] | None) -> Job:
    panels = given.sequence("panel_mixes") or []
    if not all(isinstance(one, str) for one in panels):
        raise bad("panel_mixes", "Give panel_mixes as a list of mixes.")
    job = {name: given.number(name) for name in JOB_NUMBERS}
    return cast(
        "Job",
        {
            **job, "area_m2": size["area_m2"], "perimeter_m": size["perimeter_m"], "coats": coats,
            "wall_material": given.chosen("wall_material", sorted(choices("wall_materials"))),
            "finish_kind": given.chosen("finish_kind", FINISH_KINDS), "panel_mixes": panels,
        },
    )  # fmt: skip


def _method(given: Given, coats: list[Coat] | None, mixes: Mapping[str, Mix]) -> Method:
    named = method_named(given)
    if named is None and not coats:
        raise BadInput(
            "missing_field", "Give a method, or coats, or both.", {"method": "missing", "coats": "missing"}
        )
    loss = _loss(given)
    method = named if named is not None else _bare_method(coats or [], mixes)
    return method if loss is None else cast("Method", {**method, "loss": loss})


def _loss(given: Given) -> Range | None:
    loss = given.range("loss")
    if loss is not None and loss["high"] > 1:
        raise BadInput("bad_value", "Give the loss as a share between 0 and 1, say 0.1.", {"loss": "0 to 1"})
    return loss


def _bare_method(coats: list[Coat], mixes: Mapping[str, Mix]) -> Method:
    """Coats alone: no margin unless asked for; deeper loss is filled with the innermost mix but a wash."""
    dub = next((coat["mix"] for coat in coats if mixes[coat["mix"]]["coverage_m2_per_l"] is None), None)
    usual = mixes[dub]["coat_mm"] if dub else None
    return {
        "per": "area", "coats": coats, "earth_coats": None, "dub_out_mix": dub, "earth_dub_out_mix": None,
        "lift_mm": usual["high"] if usual else None, "dub_out_over_mm": 0.0, "fill_mix": None,
        "earth_fill_mix": None, "fill_l_each": None, "fill_l_per_m": None, "crack_depth_mm": None,
        "opened_mm": None, "margin_mm": 0.0, "thickness_factor": USUAL_THICKNESS, "loss": USUAL_LOSS,
        "extra": [], "hazards": [], "engineer_first": False,
    }  # fmt: skip


def _mix(need: MixNeed, mixes: Mapping[str, Mix], with_recipe: bool) -> dict[str, object]:
    if not with_recipe:
        return {**need}
    card: dict[str, PerLitre] = recipe(mixes[need["mix"]]["per_l"], need["batches"]["each_l"])
    return {**need, "one_batch": card}
