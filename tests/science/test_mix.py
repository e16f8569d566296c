"""Yield by absolute volume, water by parts, and what is refused."""

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from makegood.errors import RecipeRefused
from makegood.science.materials.solids import Ingredient
from makegood.science.mix import (
    addition_per_l,
    addition_warnings,
    handbook_volume,
    mix_yield,
    reckon_yield,
    richness,
)
from makegood.science.range import exactly, spread

LIME = {"mass_kg": 240.0, "solid_density_kg_l": 2.24}
SAND = {"loose_volume_l": 1050.0, "voids": 0.40}


def refused(solids: list[dict[str, Any]], water_l: Any = 100.0, air: Any = 0.0) -> str:
    with pytest.raises(RecipeRefused) as refusal:
        reckon_yield(solids, water_l, air)
    assert refusal.value.code == "recipe_refused"
    assert refusal.value.fields
    return refusal.value.message


def test_volume_is_solids_and_water_and_air() -> None:
    plain = reckon_yield([LIME, SAND], 275, 0)["volume_l"]
    assert plain == pytest.approx(240 / 2.24 + 1050 * 0.6 + 275, rel=1e-12)
    assert reckon_yield([LIME, SAND], 275, 0.1)["volume_l"] == pytest.approx(plain / 0.9, rel=1e-12)


def test_voids_filled_is_paste_over_voids() -> None:
    assert reckon_yield([LIME, SAND], 275, 0)["voids_filled"] == pytest.approx(
        (240 / 2.24 + 275) / 420, rel=1e-12
    )


def test_no_bulk_density_no_dry_loose_factor() -> None:
    assert reckon_yield([LIME, SAND], 275, 0)["dry_loose_factor"] is None
    with_bulk = reckon_yield([{**LIME, "bulk_density_kg_l": 0.6}, SAND], 275, 0)
    assert with_bulk["dry_loose_factor"] == pytest.approx((400 + 1050) / with_bulk["volume_l"], rel=1e-12)


def test_sand_given_by_mass_and_bulk_density_has_voids_too() -> None:
    by_mass = {"mass_kg": 1050 * 0.6 * 2.65, "solid_density_kg_l": 2.65, "bulk_density_kg_l": 2.65 * 0.6}
    assert reckon_yield([LIME, by_mass], 275, 0)["voids_filled"] == pytest.approx(
        reckon_yield([LIME, SAND], 275, 0)["voids_filled"] or math.nan, rel=1e-12
    )


def test_lime_given_by_loose_volume_is_paste() -> None:
    lime = {"loose_volume_l": 350.0, "voids": 0.69}
    assert reckon_yield([lime, SAND], 275, 0)["voids_filled"] == pytest.approx(
        (350 * 0.31 + 275) / 420, rel=1e-12
    )


def test_lean_and_binderless_mixes_are_said_to_be() -> None:
    assert reckon_yield([{**LIME, "mass_kg": 60}, SAND], 200, 0)["warnings"] == ["lean"]
    assert "no_binder" in reckon_yield([SAND], 200, 0)["warnings"]


@pytest.mark.parametrize(
    "solid",
    [
        {"mass_kg": -1, "solid_density_kg_l": 2.6},
        {"mass_kg": 1, "solid_density_kg_l": 0},
        {"mass_kg": 1, "solid_density_kg_l": 80},
        {"mass_kg": math.nan, "solid_density_kg_l": 2.6},
        {"mass_kg": "1", "solid_density_kg_l": 2.6},
        {"mass_kg": True, "solid_density_kg_l": 2.6},
        {"mass_kg": 1, "solid_density_kg_l": 2.6, "bulk_density_kg_l": 3},
        {"mass_kg": 1, "solid_density_kg_l": 2.6, "bulk_density_kg_l": 0},
        {"loose_volume_l": 1, "voids": 1},
        {"loose_volume_l": 1, "voids": -0.1},
        {"loose_volume_l": -1, "voids": 0.4},
        {"mass_kg": 1},
        {},
    ],
)
def test_solids_that_cannot_be_are_refused(solid: dict[str, Any]) -> None:
    refused([LIME, SAND, solid])


@pytest.mark.parametrize(
    ("water_l", "air"), [(-1, 0), (math.inf, 0), (None, 0), (100, -0.1), (100, 0.5), (100, "x")]
)
def test_water_and_air_that_cannot_be_are_refused(water_l: Any, air: Any) -> None:
    refused([LIME, SAND], water_l, air)


def test_nothing_at_all_is_refused() -> None:
    assert "at least one solid" in refused([])
    refused([{"mass_kg": 0, "solid_density_kg_l": 2.6}])


def test_more_water_than_lime_and_sand_can_hold_is_refused() -> None:
    holds = 2.54 * 240 / 2.24 + 0.4 * 1050
    assert reckon_yield([LIME, SAND], holds, 0)["volume_l"] > 0
    assert "run off" in refused([LIME, SAND], holds + 0.01)


@given(st.floats(50, 500), st.floats(0, 3), st.floats(0.1, 40))
def test_yield_is_free_of_scale(lime_kg: float, sand: float, scale: float) -> None:
    def of(k: float) -> Any:
        return reckon_yield(
            [
                {"mass_kg": k * lime_kg, "solid_density_kg_l": 2.24},
                {"loose_volume_l": k * lime_kg * sand, "voids": 0.4},
            ],
            k * 50,
            0.02,
        )

    assert of(scale)["volume_l"] == pytest.approx(scale * of(1)["volume_l"], rel=1e-9)
    assert of(scale)["warnings"] == of(1)["warnings"]


def make(
    material: str, parts: float, role: str = "binder", bulk: float = 0.7, water: float = 0.2
) -> Ingredient:
    solid = 2.65 if role == "aggregate" else 2.3
    return Ingredient(
        material, parts, role, spread(0.9 * bulk, bulk, 1.1 * bulk), exactly(solid), exactly(water)
    )


def test_a_mix_at_one_to_three_is_about_as_much_as_its_sand() -> None:
    mix = mix_yield([make("lime", 1), make("sand", 3, "aggregate", 1.59, 0.19)], exactly(0), None)
    assert mix["per_l"]["sand"]["l"] == pytest.approx(mix["per_l"]["sand"]["l"])
    assert (mix["per_l"]["sand"]["l"] or exactly(0))["likely"] == pytest.approx(1, rel=0.10)


def test_straw_does_not_add_its_loose_volume() -> None:
    earth = [make("earth", 1, bulk=1.2, water=0.3), make("sand", 1, "aggregate", 1.59, 0.19)]
    straw = make("straw", 1, "fibre", 0.08, 0.1)
    without, with_straw = mix_yield(earth, exactly(0), None), mix_yield([*earth, straw], exactly(0), None)
    litres = 1 / (without["per_l"]["earth"]["l"] or exactly(0))["likely"]
    litres_with = 1 / (with_straw["per_l"]["earth"]["l"] or exactly(0))["likely"]
    assert litres < litres_with < litres + 0.25


def test_putty_brings_its_own_water() -> None:
    putty = Ingredient(
        "putty", 1, "binder", exactly(1.35), exactly(2.24), exactly(0.2), holds_water_l_l=0.718
    )
    mix = mix_yield([putty, make("sand", 2, "aggregate", 1.59, 0.19)], exactly(0), None)
    assert "water" not in mix["per_l"]
    assert mix["fresh_kg_l"]["likely"] == pytest.approx((1.35 + 2 * 1.59) / (1 + 2 * 0.6), rel=1e-9)


@pytest.mark.parametrize(
    ("ingredients", "why"),
    [
        ([], "binder"),
        ([make("sand", 3, "aggregate", 1.59)], "binder"),
        ([make("lime", 0), make("sand", 3, "aggregate", 1.59)], "above 0"),
        ([make("lime", -1)], "above 0"),
        ([make("lime", math.nan)], "above 0"),
    ],
)
def test_a_mix_that_cannot_be_is_refused(ingredients: list[Ingredient], why: str) -> None:
    with pytest.raises(RecipeRefused, match=why):
        mix_yield(ingredients, exactly(0), None)


def test_a_plaster_cannot_carry_a_wash_s_water_but_a_wash_can() -> None:
    with pytest.raises(RecipeRefused, match="run off"):
        mix_yield([make("lime", 1)], exactly(0), water_parts=3)
    assert mix_yield([make("lime", 1)], exactly(0), water_parts=3, flows=True)["water_l"]["likely"] > 0.8


def test_the_handbook_s_lean_mortar_is_its_sand_and_a_tenth() -> None:
    assert handbook_volume(paste=1, sand=4, voids=0.4) == pytest.approx(4.4)


def test_additions_by_mass_and_by_volume() -> None:
    assert addition_per_l(exactly(5.34), None, 0.05) == {
        "kg": exactly(5.34 * 1e-3),
        "l": exactly(5.34 * 1e-3 * 20),
    }
    oil = addition_per_l(None, exactly(1.5625), 0.93)
    assert oil["l"] == exactly(1.5625e-3)
    assert oil["kg"] == exactly(1.5625e-3 * 0.93)


def test_additions_out_of_usual_bounds_are_named() -> None:
    assert addition_warnings(5.34, 1.5, 250) == []
    assert addition_warnings(0, 0, 0) == []
    assert addition_warnings(12, 6, 250) == ["odd_hair", "much_oil"]


def test_richness() -> None:
    assert richness(1, 2.5) == 0.4
    assert richness(1, 0) > richness(1, 0.2)
