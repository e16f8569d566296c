"""`reckon estimate`: sizes, coats and methods in, materials out."""

import math

import pytest

FLAT = {"kind": "flat", "width_m": 4, "height_m": 3}
SQUARE = [[1, 1], [2, 1], [2, 2], [1, 2]]
COATS = [{"mix": "lime_base_coat", "thickness_mm": 12}, {"mix": "lime_finish", "thickness_mm": 4}]


def wet_l(answer, end="likely"):
    return sum(layer["wet_l"][end] for layer in answer["layers"])


def test_bare_coats_without_loss_are_area_times_thickness(reckon):
    # C7: 10 m2 at 22.225 mm is 222.25 L (coat thicknesses read at second hand, the product by hand).
    coats = [{"mix": "lime_coat", "thickness_mm": 22.225}]
    answer = reckon.answer("estimate", given={"area_m2": 10, "coats": coats, "loss": 0})
    assert wet_l(answer) == pytest.approx(222.25, rel=1e-9)
    assert (answer["margin_area_m2"], answer["loss"]) == (0, {"low": 0, "likely": 0, "high": 0})


def test_every_material_has_low_likely_and_high_in_its_unit(reckon):
    answer = reckon.answer("estimate", given={"area_m2": 2, "coats": COATS})
    assert {"nhl_2", "sharp_sand", "fine_sand", "water", "hair"} == set(answer["materials"])
    for need in answer["materials"].values():
        assert need["unit"] in ("kg", "l")
        assert 0 < need["low"] < need["likely"] < need["high"]


def test_margin_grows_along_the_edge_of_an_outline(reckon):
    given = {
        "surface": FLAT,
        "view": "seen",
        "outline_m": SQUARE,
        "method": "patch_two_coats",
        "margin_mm": 100,
    }
    answer = reckon.answer("estimate", given=given)
    assert answer["as_drawn_m2"] == pytest.approx(1)
    assert answer["coated_area_m2"] == pytest.approx(1 + 4 * 0.1 + math.pi * 0.01)
    assert "perimeter_assumed" not in answer["warnings"]
    told = reckon.answer("estimate", given={"area_m2": 1, "method": "patch_two_coats"})
    assert "perimeter_assumed" in told["warnings"]


def test_depth_beyond_bare_coats_is_filled_with_the_innermost_mix(reckon):
    given = {"area_m2": 1, "coats": COATS, "loss": 0, "depth_mean_mm": 40, "depth_max_mm": 60}
    answer = reckon.answer("estimate", given=given)
    first = answer["layers"][0]
    assert (first["mix"], first["part"], first["thickness_mm"]) == ("lime_base_coat", "dub_out", 24)
    assert first["lifts"] == 3  # 44 mm at the deepest, at most 15 at a time
    assert wet_l(answer) == pytest.approx(40)


def test_loss_as_a_range_comes_on_top(reckon):
    given = {"area_m2": 1, "coats": COATS, "loss": {"low": 0.0, "likely": 0.5, "high": 1.0}}
    answer = reckon.answer("estimate", given=given)
    assert (wet_l(answer, "likely"), wet_l(answer, "high")) == (
        pytest.approx(24),
        pytest.approx(16 * 1.2 * 2),
    )


def test_own_coats_stand_in_place_of_the_method_s(reckon):
    answer = reckon.answer("estimate", given={"area_m2": 1, "method": "patch_three_coats", "coats": COATS})
    assert [layer["mix"] for layer in answer["layers"]] == ["lime_base_coat", "lime_finish"]


def test_earth_finish_takes_the_earth_coats(reckon):
    answer = reckon.answer(
        "estimate", given={"area_m2": 1, "method": "patch_two_coats", "finish_kind": "earth"}
    )
    assert "clay_earth" in answer["materials"]


def test_crack_by_length_and_recipe_of_a_batch(reckon):
    given = {"method": "fill_crack", "length_m": 2, "crack_width_mm": 8, "depth_mean_mm": 30, "recipes": True}
    answer = reckon.answer("estimate", given=given)
    [mix] = answer["mixes"]
    batch = mix["one_batch"]
    assert mix["batches"]["count"] == 1
    assert batch["lime_putty"]["l"]["likely"] == pytest.approx(
        answer["materials"]["lime_putty"]["l"]["likely"]
    )


def test_engineer_first_is_said(reckon):
    assert reckon.answer("estimate", given={"method": "engineer_first"})["engineer_first"] is True


@pytest.mark.parametrize(
    ("given", "code", "field"),
    [
        ({"area_m2": 1}, "missing_field", "method"),
        ({"area_m2": 1, "coats": []}, "missing_field", "method"),
        ({"coats": COATS}, "missing_field", "area_m2"),
        ({"area_m2": 1, "method": "magic"}, "unknown_choice", "method"),
        ({"area_m2": 1, "coats": [{"mix": "jam", "thickness_mm": 3}]}, "unknown_choice", "mix"),
        ({"area_m2": 1, "coats": [{"mix": "lime_coat"}]}, "missing_field", "thickness_mm"),
        ({"area_m2": 1, "coats": [{"thickness_mm": 3}]}, "missing_field", "mix"),
        ({"area_m2": 1, "coats": [{"mix": "lime_coat", "thickness_mm": -3}]}, "bad_value", "coats"),
        ({"area_m2": -1, "coats": COATS}, "bad_value", "area_m2"),
        ({"area_m2": 1, "coats": COATS, "loss": 2}, "bad_value", "loss"),
        ({"area_m2": 1, "coats": COATS, "loss": {"low": 3}}, "bad_value", "loss"),
        ({"area_m2": 1, "coats": COATS, "finish_kind": "gold"}, "unknown_choice", "finish_kind"),
        ({"area_m2": 1, "coats": COATS, "panel_mixes": [1]}, "bad_value", "panel_mixes"),
        (
            {"surface": FLAT, "view": "seen", "outline_m": [[0, 0], [9, 0], [9, 9]], "coats": COATS},
            "outline_leaves_wall",
            "points_m",
        ),
    ],
)
def test_what_cannot_be_is_refused(reckon, given, code, field):
    refused = reckon.refusal("estimate", given=given)
    assert (refused["code"], field in refused["fields"]) == (code, True)
