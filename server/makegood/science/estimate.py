"""From the size of a repair to its materials, with low, likely and high.

Model, per method: the damaged area grows by the cut-back margin (perimeter x margin + pi x margin^2, exact
for a convex outline, slightly more than needed for a hollow one); coats cover the grown area at their
thickness; depth beyond the coats is dubbed out over the damaged area; cracks are length x width x depth;
holes, stones and metres of cap take a volume each; loss comes on top. The phone runs the same sums
(web/src/model/estimate.ts) on the same vectors (shared/vectors/estimate.json). Source: own derivation;
coefficients come in from the catalogue.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from makegood.errors import BadInput
from makegood.science.materials.batch import batches, whole_units
from makegood.science.materials.coat import (
    Coat,
    stack_warnings,
    thickness_total_mm,
    wash_volume_l,
    wet_volume_l,
)
from makegood.science.materials.shapes import (
    Estimate,
    Extra,
    Job,
    Layer,
    Material,
    MaterialNeed,
    Method,
    Mix,
    MixNeed,
)
from makegood.science.range import Range, exactly, one_and, plus, scaled, times, total

SIZES = (
    "area_m2", "perimeter_m", "length_m", "count", "depth_mean_mm", "depth_max_mm", "crack_width_mm",
    "cover_mm", "margin_mm", "loss", "container_l", "laying_l_per_h",
)  # fmt: skip


@dataclass(frozen=True)
class _Size:
    """The job's sizes with the unknown ones as 0."""

    area_m2: float
    margin_mm: float
    band_m2: float
    length_m: float
    count: float
    depth_mm: float
    deepest_mm: float

    @property
    def coated_m2(self) -> float:
        return self.area_m2 + self.band_m2


def margin_band_m2(perimeter_m: float, margin_mm: float) -> float:
    """Area of the band of width `margin_mm` [mm] round an outline of `perimeter_m` [m]; Steiner's formula
    [m2].
    """
    margin_m = margin_mm / 1000
    return perimeter_m * margin_m + math.pi * margin_m * margin_m


def least_perimeter_m(area_m2: float) -> float:
    """Perimeter of the circle of that area [m]: the least that any outline can have."""
    return 2 * math.sqrt(math.pi * area_m2)


def coats_for(job: Job, method: Method) -> list[Coat]:
    """The coats a job gets: its own, else those for its finish."""
    own = job.get("coats")
    if own is not None:
        return own
    earth = method["earth_coats"]
    return earth if earth is not None and _is_earth(job) else method["coats"]


def fill_mix_for(job: Job, method: Method) -> str | None:
    """The mix that fills a crack, a hole, a bed or a cap on a finish like this."""
    return (method["earth_fill_mix"] if _is_earth(job) else None) or method["fill_mix"]


def estimate(
    job: Job, method: Method, mixes: Mapping[str, Mix], materials: Mapping[str, Material]
) -> Estimate:
    """Reckon what one repair takes.

    job: sizes in the units their names give, unknown ones absent or None; method, mixes, materials: from the
    catalogue. Returns layers innermost first, wet litres per mix with batches, and each material in its unit,
    all with loss. Raises BadInput: bad_value for a size that cannot be, unknown_mix, unknown_material. See
    the module for the model.
    """
    _check(job)
    coats = coats_for(job, method)
    _check_coats(coats, mixes)
    size, warnings = _size(job, method)
    loss = _loss(job, method)
    layers = [] if method["per"] == "none" else _layers(job, method, coats, mixes, size, warnings)
    layers = [{**layer, "wet_l": times(layer["wet_l"], one_and(loss))} for layer in layers]
    needs = _mix_needs(job, layers, mixes)
    used = [mixes[need["mix"]] for need in needs]
    _warn_of_coats(job, size, layers, mixes, warnings)
    return {
        "area_m2": size.area_m2, "margin_mm": size.margin_mm, "margin_area_m2": size.band_m2,
        "coated_area_m2": size.coated_m2, "loss": loss, "layers": layers, "mixes": needs,
        "materials": _material_needs(needs, _extras(method, size, warnings), mixes, materials),
        "hazards": sorted({*method["hazards"], *(hazard for mix in used for hazard in mix["hazards"])}),
        "warnings": sorted(warnings), "engineer_first": method["engineer_first"],
    }  # fmt: skip


def _is_earth(job: Job) -> bool:
    return job.get("finish_kind") in ("earth", "none")


def _check(job: Job) -> None:
    for name in SIZES:
        value = job.get(name)
        if value is None:
            continue
        if not isinstance(value, int | float) or not math.isfinite(value) or value < 0:
            raise BadInput(
                "bad_value", f"Give {name} as a number that is not negative.", {name: "not negative"}
            )
    if (job.get("loss") or 0) > 1:
        raise BadInput("bad_value", "Give the loss as a share between 0 and 1, say 0.1.", {"loss": "0 to 1"})
    for name in ("container_l", "laying_l_per_h"):
        if job.get(name) == 0:
            raise BadInput("bad_value", f"Give {name} as more than 0.", {name: "more than 0"})


def _check_coats(coats: list[Coat], mixes: Mapping[str, Mix]) -> None:
    for coat in coats:
        if coat["mix"] not in mixes:
            raise BadInput("unknown_mix", "Choose a mix from the list.", {"coats": coat["mix"]})
        if not (math.isfinite(coat["thickness_mm"]) and coat["thickness_mm"] > 0):
            raise BadInput("bad_value", "Give each coat a thickness above 0 mm.", {"coats": coat["mix"]})


def _loss(job: Job, method: Method) -> Range:
    own = job.get("loss")
    return method["loss"] if own is None else exactly(own)


def _size(job: Job, method: Method) -> tuple[_Size, set[str]]:
    warnings: set[str] = set()
    area_m2 = job.get("area_m2") or 0.0
    own_margin = job.get("margin_mm")
    margin_mm = method["margin_mm"] if own_margin is None else own_margin
    band_m2 = 0.0
    if area_m2 > 0 and margin_mm > 0:
        perimeter_m = job.get("perimeter_m")
        if not perimeter_m:
            perimeter_m = least_perimeter_m(area_m2)
            warnings.add("perimeter_assumed")
        band_m2 = margin_band_m2(perimeter_m, margin_mm)
    mean, deepest = job.get("depth_mean_mm"), job.get("depth_max_mm")
    depth_mm = (mean if mean is not None else deepest) or 0.0
    size = _Size(
        area_m2,
        margin_mm,
        band_m2,
        job.get("length_m") or 0.0,
        job.get("count") or 0.0,
        depth_mm,
        max(deepest or 0.0, depth_mm),
    )
    return size, warnings


def _layers(
    job: Job, method: Method, coats: list[Coat], mixes: Mapping[str, Mix], size: _Size, warnings: set[str]
) -> list[Layer]:
    if size.area_m2 == 0 and (coats or method["per"] in ("area", "volume")):
        warnings.add("no_area")
    fill_mix = fill_mix_for(job, method)
    dub_mix = (method["earth_dub_out_mix"] if _is_earth(job) else None) or method["dub_out_mix"]
    layers: list[Layer] = []
    if fill_mix:
        wet_l = _fill_l(job, method, size, warnings)
        layers += [_layer(fill_mix, "fill", None, 1, wet_l)] if wet_l["high"] > 0 else []
    if size.area_m2 == 0:
        return layers
    left_mm = 0.0
    if dub_mix:
        left_mm = _left_to_fill_mm(thickness_total_mm(coats, mixes), size, warnings)
    if dub_mix and left_mm > method["dub_out_over_mm"]:
        layers.append(_dub_out(method, dub_mix, left_mm, size))
        left_mm = 0.0
    for coat in coats:
        layers.append(_coat_layer(coat, method, mixes[coat["mix"]], size, left_mm))
        left_mm = 0.0 if layers[-1]["thickness_mm"] else left_mm
    return layers


def _layer(mix: str, part: str, thickness_mm: float | None, lifts: int, wet_l: Range) -> Layer:
    return {"mix": mix, "part": part, "thickness_mm": thickness_mm, "lifts": lifts, "wet_l": wet_l}


def _left_to_fill_mm(coats_mm: float, size: _Size, warnings: set[str]) -> float:
    """Mean depth beyond the coats [mm]; warns of what is not known and of coats that stand proud."""
    if size.depth_mm == 0:
        warnings.add("depth_unknown")
    elif size.deepest_mm < coats_mm:
        warnings.add("proud_of_face")
    return max(0.0, size.depth_mm - coats_mm)


def _dub_out(method: Method, mix: str, fill_mm: float, size: _Size) -> Layer:
    deepest_mm = fill_mm + size.deepest_mm - size.depth_mm
    lifts = whole_units(deepest_mm, method["lift_mm"] or deepest_mm)
    wet_l = scaled(method["thickness_factor"], wet_volume_l(size.area_m2, [fill_mm]))
    return _layer(mix, "dub_out", fill_mm, lifts, wet_l)


def _coat_layer(coat: Coat, method: Method, mix: Mix, size: _Size, left_mm: float) -> Layer:
    """One coat; `left_mm` of depth too shallow to dub out is laid with it over the damaged area."""
    coverage = mix["coverage_m2_per_l"]
    if coverage is not None:
        return _layer(coat["mix"], "coat", None, 1, wash_volume_l(size.coated_m2, coverage))
    volume_l = wet_volume_l(size.coated_m2, [coat["thickness_mm"]]) + wet_volume_l(size.area_m2, [left_mm])
    wet_l = scaled(method["thickness_factor"], volume_l)
    return _layer(coat["mix"], "coat", coat["thickness_mm"] + left_mm, 1, wet_l)


def _fill_l(job: Job, method: Method, size: _Size, warnings: set[str]) -> Range:
    each, per_m = method["fill_l_each"], method["fill_l_per_m"]
    if method["per"] == "count":
        if size.count == 0:
            warnings.add("no_count")
        return scaled(each or exactly(0.0), size.count)
    if size.length_m == 0:
        warnings.add("no_length")
    return scaled(per_m or _crack_l_per_m(job, method, size, warnings), size.length_m)


def _crack_l_per_m(job: Job, method: Method, size: _Size, warnings: set[str]) -> Range:
    width_mm = job.get("crack_width_mm") or 0.0
    if width_mm == 0:
        warnings.add("no_crack_width")
    if size.depth_mm == 0:
        warnings.add("depth_unknown")
    depth_mm = (
        scaled(method["thickness_factor"], size.depth_mm) if size.depth_mm else method["crack_depth_mm"]
    )
    return scaled(depth_mm or exactly(0.0), max(width_mm, method["opened_mm"] or 0.0) / 1000)


def _extras(method: Method, size: _Size, warnings: set[str]) -> list[tuple[str, Range]]:
    wanted: list[tuple[str, Range]] = []
    for extra in method["extra"]:
        for amount, measure, warning in _extra_terms(extra, size):
            if measure == 0:
                warnings.add(warning)
            wanted.append((extra["material"], scaled(amount, measure)))
    return wanted


def _extra_terms(extra: Extra, size: _Size) -> list[tuple[Range, float, str]]:
    terms = [
        (extra.get("per_m2"), size.coated_m2, "no_area"),
        (extra.get("per_m"), size.length_m, "no_length"),
        (extra.get("per_each"), size.count, "no_count"),
    ]
    return [(amount, measure, warning) for amount, measure, warning in terms if amount is not None]


def _mix_needs(job: Job, layers: list[Layer], mixes: Mapping[str, Mix]) -> list[MixNeed]:
    needs: list[MixNeed] = []
    for mix_id in dict.fromkeys(layer["mix"] for layer in layers):
        if mix_id not in mixes:
            raise BadInput("unknown_mix", "Choose a mix from the list.", {"mix": mix_id})
        mix = mixes[mix_id]
        wet_l = total(layer["wet_l"] for layer in layers if layer["mix"] == mix_id)
        container_l = job.get("container_l") or mix["container_l"]
        laying_l_per_h = job.get("laying_l_per_h") or mix["laying_l_per_h"]
        plan = batches(wet_l["likely"], container_l, mix["working_h"]["low"], laying_l_per_h)
        needs.append({"mix": mix_id, "wet_l": wet_l, "batches": plan})
    return needs


def _warn_of_coats(
    job: Job, size: _Size, layers: list[Layer], mixes: Mapping[str, Mix], warnings: set[str]
) -> None:
    coats: list[Coat] = []
    filled_mm = 0.0
    below: str | None = None
    for layer in layers:
        filled_mm += layer["thickness_mm"] or 0.0
        if layer["part"] == "dub_out":
            below = layer["mix"]
        if layer["part"] == "coat":
            coats.append({"mix": layer["mix"], "thickness_mm": layer["thickness_mm"] or 0.0})
        mix = mixes[layer["mix"]]
        warnings.update(mix["warnings"])
        if job.get("wall_material") in mix["not_over"]:
            warnings.add("stronger_than_wall")
        is_plaster = layer["part"] != "fill" and mix["kind"] in ("plaster", "earth")
        if is_plaster and layer["mix"] not in (job.get("panel_mixes") or []):
            warnings.add("untested_on_this_wall")
    warnings |= stack_warnings(coats, mixes, below)
    cover_mm = job.get("cover_mm") or 0.0
    if 0 < cover_mm <= size.deepest_mm and coats and filled_mm < cover_mm:
        warnings.add("thin_over_cover")


def _material_needs(
    needs: list[MixNeed],
    extras: list[tuple[str, Range]],
    mixes: Mapping[str, Mix],
    materials: Mapping[str, Material],
) -> dict[str, MaterialNeed]:
    found: dict[str, MaterialNeed] = {}
    for need in needs:
        for material_id, each in mixes[need["mix"]]["per_l"].items():
            kg = times(each["kg"], need["wet_l"]) if each["kg"] else None
            loose_l = times(each["l"], need["wet_l"]) if each["l"] else None
            _add_need(found, material_id, materials, (kg, loose_l))
    for material_id, amount in extras:
        unit = materials[material_id]["unit"] if material_id in materials else ""
        _add_need(found, material_id, materials, (amount, amount if unit == "l" else None))
    return found


def _add_need(
    found: dict[str, MaterialNeed],
    material_id: str,
    materials: Mapping[str, Material],
    more: tuple[Range | None, Range | None],
) -> None:
    if material_id not in materials:
        raise BadInput(
            "unknown_material",
            "The recipe names a material that is not in the list.",
            {"material": material_id},
        )
    material = materials[material_id]
    kg, loose_l = more
    amount = (loose_l if material["unit"] == "l" else kg) or exactly(0.0)
    before = found.get(material_id)
    amount = plus(before["amount"], amount) if before else amount
    if before and before["l"]:
        loose_l = plus(before["l"], loose_l) if loose_l else before["l"]
    bulking = material["bulking"]
    damp_l = times(loose_l, one_and(bulking)) if bulking and loose_l else None
    found[material_id] = {"unit": material["unit"], "amount": amount, "l": loose_l, "damp_l": damp_l}
