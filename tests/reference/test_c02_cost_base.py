"""C2. Lime mortars of the Junta de Andalucia, Base de Costes de la Construccion (BCCA, edition 2024-01),
codes AGM01100 to AGM01500: read in a public mirror. Amounts per m3 of mortar, each with 3 % loss in it; lime
SG 2.24 and sand voids 0.40 are ours (from memory; middle of the handbook's range).
"""

from typing import Any

import pytest

from makegood.domain.vocabulary import shared
from makegood.errors import RecipeRefused
from makegood.science.materials.solids import Ingredient
from makegood.science.mix import mix_yield, reckon_yield
from makegood.science.range import exactly

# lime kg, sand m3, water m3, net of the 3 %; parts lime : sand; printed lime t
ROWS = [
    (540, 0.780, 0.320, 1, 0.556),
    (335, 0.960, 0.290, 2, 0.345),
    (240, 1.050, 0.275, 3, 0.247),
    (190, 1.100, 0.270, 4, 0.196),
]
LIME_LOOSE_KG_L = 0.692


def solids(lime_kg: float, sand_l: float) -> list[dict[str, Any]]:
    lime = {"mass_kg": lime_kg, "solid_density_kg_l": 2.24, "bulk_density_kg_l": LIME_LOOSE_KG_L}
    return [lime, {"loose_volume_l": sand_l, "voids": 0.40}]


@pytest.mark.parametrize(("lime_kg", "sand_m3", "water_m3", "parts", "_printed"), ROWS)
def test_net_amounts_make_one_cubic_metre(lime_kg, sand_m3, water_m3, parts, _printed) -> None:  # type: ignore[no-untyped-def]
    reckoned = reckon_yield(solids(lime_kg, 1000 * sand_m3), 1000 * water_m3, air=0)
    assert 1000 <= reckoned["volume_l"] <= 1035


@pytest.mark.parametrize(("lime_kg", "_sand", "_water", "_parts", "printed_t"), ROWS)
def test_three_per_cent_loss_gives_the_printed_order(lime_kg, _sand, _water, _parts, printed_t) -> None:  # type: ignore[no-untyped-def]
    assert lime_kg * 1.03 == pytest.approx(1000 * printed_t, abs=1)


def test_dry_loose_factor_falls_with_leaner_mixes_and_is_no_constant() -> None:
    factors = [
        reckon_yield(solids(k, 1000 * s), 1000 * w, 0)["dry_loose_factor"] or 0 for k, s, w, _, _ in ROWS
    ]
    assert factors == sorted(factors, reverse=True)
    # per m3 as sold the base implies 1.559, 1.440, 1.401, 1.375
    for factor, implied in zip(factors, (1.559, 1.440, 1.401, 1.375), strict=True):
        assert factor == pytest.approx(implied, rel=0.035)


def test_only_one_to_four_is_lean() -> None:
    lean = ["lean" in reckon_yield(solids(k, 1000 * s), 1000 * w, 0)["warnings"] for k, s, w, _, _ in ROWS]
    assert lean == [False, False, False, True]


@pytest.mark.parametrize("loss", [1.0, 1.03])
@pytest.mark.parametrize("voids", [0.35, 0.40, 0.45])
def test_the_misprinted_one_to_five_is_refused(loss: float, voids: float) -> None:
    lime = {"mass_kg": 165 / loss, "solid_density_kg_l": 2.24}
    with pytest.raises(RecipeRefused) as refusal:
        reckon_yield([lime, {"loose_volume_l": 144 / loss, "voids": voids}], 273 / loss, air=0)
    assert refusal.value.code == "recipe_refused"
    assert "more than these solids can hold" in refusal.value.message


def test_the_same_recipe_with_the_sand_it_must_have_meant_passes() -> None:
    assert reckon_yield(solids(165 / 1.03, 1140 / 1.03), 273 / 1.03, air=0)["volume_l"] == pytest.approx(
        1000, rel=0.02
    )


@pytest.mark.parametrize(("_lime", "sand_m3", "water_m3", "parts", "_printed"), ROWS)
def test_our_water_by_parts_is_the_base_s_water(_lime, sand_m3, water_m3, parts, _printed) -> None:  # type: ignore[no-untyped-def]
    sharp = shared("materials")["materials"]["sharp_sand"]["water_l_l"]["likely"]
    lime = Ingredient(
        "lime", 1, "binder", exactly(LIME_LOOSE_KG_L), exactly(2.24), exactly(0.317 * LIME_LOOSE_KG_L)
    )
    sand = Ingredient("sand", parts, "aggregate", exactly(2.65 * 0.6), exactly(2.65), exactly(sharp))
    reckoned = mix_yield([lime, sand], air=exactly(0), water_parts=None)
    assert reckoned["water_l"]["likely"] == pytest.approx(water_m3, rel=0.035)
    assert reckoned["per_l"]["sand"]["l"]["likely"] == pytest.approx(sand_m3, rel=0.035)
