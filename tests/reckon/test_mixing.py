"""`reckon yield`: what it answers and refuses; its outside cases stand in test_cases_by_command.py."""

import pytest

SAND = {"loose_volume_l": 100, "voids": 0.4}
LIME = {"mass_kg": 30, "solid_density_kg_l": 2.24}


def test_volume_is_solids_and_water_and_air(reckon):
    answer = reckon.answer("yield", given={"solids": [LIME, SAND], "water_l": 30, "air": 0.05})
    assert answer["volume_l"] == pytest.approx((30 / 2.24 + 60 + 30) / 0.95, rel=1e-9)
    assert set(answer) == {"volume_l", "voids_filled", "dry_loose_factor", "warnings"}


def test_lean_mix_is_warned_of(reckon):
    solids = [{"mass_kg": 10, "solid_density_kg_l": 2.24}, SAND]
    assert reckon.answer("yield", given={"solids": solids, "water_l": 20, "air": 0})["warnings"] == ["lean"]


@pytest.mark.parametrize(
    ("given", "code"),
    [
        ({"water_l": 3}, "missing_field"),
        ({"solids": []}, "missing_field"),
        ({"solids": [3]}, "bad_value"),
        ({"solids": [{"mass_kg": 3}]}, "recipe_refused"),
        ({"solids": [SAND], "water_l": -1}, "recipe_refused"),
        ({"solids": [SAND], "air": 0.7}, "recipe_refused"),
        ({"solids": [SAND], "water_l": "much"}, "bad_value"),
        ({"solids": [{"mass_kg": True, "solid_density_kg_l": 2}]}, "recipe_refused"),
    ],
)
def test_what_cannot_be_is_refused(reckon, given, code):
    assert reckon.refusal("yield", given=given)["code"] == code
