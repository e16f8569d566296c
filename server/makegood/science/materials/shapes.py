"""The shapes that the estimate takes and gives; on the phone they stand in model/materials/job.ts.

Source: own derivation, DEVELOPERS.md 3.4.
"""

from typing import TypedDict

from makegood.science.materials.batch import BatchPlan, PerLitre
from makegood.science.materials.coat import Coat
from makegood.science.range import Range


class Job(TypedDict, total=False):
    """What is known of one repair, in the units of the names; absent or None is unknown.

    `coats`, `margin_mm`, `loss`, `container_l` and `laying_l_per_h` stand instead of the catalogue's own.
    `cover_mm` is the thickness of the coats that were there; `panel_mixes` are tried on this wall.
    """

    area_m2: float | None
    perimeter_m: float | None
    length_m: float | None
    count: float | None
    depth_mean_mm: float | None
    depth_max_mm: float | None
    crack_width_mm: float | None
    cover_mm: float | None
    wall_material: str | None
    finish_kind: str | None
    coats: list[Coat] | None
    margin_mm: float | None
    loss: float | None
    panel_mixes: list[str] | None
    container_l: float | None
    laying_l_per_h: float | None


class Material(TypedDict):
    """What the estimate asks of a material."""

    unit: str
    bulking: Range | None


class Mix(TypedDict):
    """What the estimate asks of a mix; `per_l` is for one litre in place."""

    kind: str
    per_l: dict[str, PerLitre]
    rich: float
    stipple: bool
    coverage_m2_per_l: Range | None
    coat_mm: Range | None
    working_h: Range
    container_l: float
    laying_l_per_h: float
    not_over: list[str]
    warnings: list[str]
    hazards: list[str]


class Extra(TypedDict, total=False):
    """A material a method takes besides its mixes, in the material's own unit."""

    material: str
    per_m2: Range
    per_m: Range
    per_each: Range


class Method(TypedDict):
    """What the estimate asks of a repair method."""

    per: str
    coats: list[Coat]
    earth_coats: list[Coat] | None
    dub_out_mix: str | None
    earth_dub_out_mix: str | None
    lift_mm: float | None
    dub_out_over_mm: float
    fill_mix: str | None
    earth_fill_mix: str | None
    fill_l_each: Range | None
    fill_l_per_m: Range | None
    crack_depth_mm: Range | None
    opened_mm: float | None
    margin_mm: float
    thickness_factor: Range
    loss: Range
    extra: list[Extra]
    hazards: list[str]
    engineer_first: bool


class Layer(TypedDict):
    """One layer of the repair: `part` is dub_out, fill or coat; `lifts` how many times it is laid."""

    mix: str
    part: str
    thickness_mm: float | None
    lifts: int
    wet_l: Range


class MixNeed(TypedDict):
    """How much of one mix, wet and with loss, and in how many batches."""

    mix: str
    wet_l: Range
    batches: BatchPlan


class MaterialNeed(TypedDict):
    """How much of one material: `amount` in its unit, loose dry litres, and litres of damp sand in the
    bucket.
    """

    unit: str
    amount: Range
    l: Range | None  # noqa: E741  (the unit's own sign, as in the catalogue)
    damp_l: Range | None


class Estimate(TypedDict):
    """What one repair takes; the layers innermost first, everything with loss."""

    area_m2: float
    margin_mm: float
    margin_area_m2: float
    coated_area_m2: float
    loss: Range
    layers: list[Layer]
    mixes: list[MixNeed]
    materials: dict[str, MaterialNeed]
    hazards: list[str]
    warnings: list[str]
    engineer_first: bool
