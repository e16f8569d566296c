"""The catalogue holds all that the estimate asks for, and the estimate gives all that it promises."""

import re
from pathlib import Path

import pytest

from makegood.domain.catalogue import build_catalogue
from makegood.science.estimate import estimate
from makegood.science.materials.shapes import (
    Estimate,
    Job,
    Layer,
    Material,
    MaterialNeed,
    Method,
    Mix,
    MixNeed,
)

CATALOGUE = build_catalogue()
PHONE = Path(__file__).parents[3] / "web" / "src" / "model" / "materials" / "job.ts"


@pytest.mark.parametrize(("table", "shape"), [("materials", Material), ("mixes", Mix), ("methods", Method)])
def test_every_line_of_the_catalogue_has_what_is_asked_for(table: str, shape: type) -> None:
    for key, line in CATALOGUE[table].items():
        assert set(shape.__annotations__) <= set(line), key


def test_an_estimate_has_all_its_parts() -> None:
    job: Job = {"area_m2": 1, "depth_mean_mm": 60}
    found = estimate(
        job, CATALOGUE["methods"]["dub_out_then_coats"], CATALOGUE["mixes"], CATALOGUE["materials"]
    )
    assert set(found) == set(Estimate.__annotations__)
    assert {tuple(layer) for layer in found["layers"]} == {tuple(Layer.__annotations__)}
    assert {tuple(need) for need in found["mixes"]} == {tuple(MixNeed.__annotations__)}
    assert {tuple(need) for need in found["materials"].values()} == {tuple(MaterialNeed.__annotations__)}


@pytest.mark.parametrize("shape", [Job, Layer, MixNeed, MaterialNeed, Estimate])
def test_the_phone_s_type_has_the_same_fields(shape: type) -> None:
    body = re.search(rf"export type {shape.__name__} = \{{(.*?)\}};", PHONE.read_text("utf-8"), re.S)
    assert body
    text = re.sub(r"/\*\*.*?\*/", "", body.group(1), flags=re.S)
    assert set(re.findall(r"(\w+)\??:", text)) == set(shape.__annotations__)
