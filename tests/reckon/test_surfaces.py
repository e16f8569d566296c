"""`reckon area` on the shared vectors, and what it refuses."""

import json

import pytest

from tests.house.tree import ROOT

VECTORS = json.loads((ROOT / "shared" / "vectors" / "area.json").read_text())
SQUARE = [[1, 1], [2, 1], [2, 2], [1, 2]]
FLAT = {"kind": "flat", "width_m": 4, "height_m": 3}
ROUND = {"kind": "round_wall", "radius_m": 2, "height_m": 3}


def test_shared_vectors(reckon):
    assert len(VECTORS["cases"]) > 20
    for case in VECTORS["cases"]:
        if "error" in case:
            assert reckon.refusal("area", given=case["in"])["code"] == case["error"], case["name"]
            continue
        answer = reckon.answer("area", given=case["in"])
        assert set(answer) == {"area_m2", "as_drawn_m2", "perimeter_m", "warnings"}
        for key in ("area_m2", "as_drawn_m2", "perimeter_m"):
            assert answer[key] == pytest.approx(case["out"][key], rel=1e-9), (case["name"], key)
        assert answer["warnings"] == case["out"]["warnings"], case["name"]


def test_view_may_be_left_out_only_where_it_makes_no_difference(reckon):
    assert reckon.answer("area", given={"surface": FLAT, "outline_m": SQUARE})["area_m2"] == pytest.approx(1)
    assert reckon.answer("area", given={"surface": ROUND})["warnings"] == ["far_side_counted"]
    refused = reckon.refusal("area", given={"surface": ROUND, "outline_m": SQUARE})
    assert list(refused["fields"]) == ["view"]


def test_misspelt_field_is_named(reckon):
    answer = reckon.answer("area", given={"surface": FLAT, "outlin_m": SQUARE})
    assert answer["warnings"] == ["not_used: outlin_m"]


def test_no_surface(reckon):
    assert reckon.refusal("area", given={"view": "seen"})["code"] == "missing_field"
