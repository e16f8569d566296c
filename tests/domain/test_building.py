"""What may be kept of walls, marks, openings, backdrops and coats."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from makegood.domain.building import (
    check_backdrop,
    check_coats,
    check_mark,
    check_openings,
    check_surface,
    opening_ring,
)
from makegood.errors import BadInput

FLAT = {"kind": "flat", "width_m": 4.0, "height_m": 3.0, "batter_deg": 0.0}
DOME = {"kind": "dome", "shape": "hemisphere", "radius_m": 3.0}
DOOR = {"kind": "door", "x_m": 1.0, "y_m": 0.0, "width_m": 0.9, "height_m": 2.0, "head": "flat"}
MATRIX = [0.001, 0, 0, 0, -0.001, 3, 0, 0, 1]


def refused(deed, *given_in):
    with pytest.raises(BadInput) as refusal:
        deed(*given_in)
    assert refusal.value.message.endswith(".")
    assert refusal.value.fields
    return refusal.value.code


def mark(shape, points, view="seen"):
    return {"view": view, "shape": shape, "points_m": points}


def test_surface_keeps_only_what_it_is():
    assert check_surface({"kind": "flat", "width_m": 4, "height_m": 3}) == FLAT
    assert check_surface(DOME) == DOME
    assert check_surface(DOME | {"colour": "white"}) == DOME
    assert refused(check_surface, {"kind": "flat"}) == "surface_refused"


def test_mark_is_rounded_to_the_millimetre_and_opened():
    kept = check_mark(mark("outline", [[-0.0004, 0.12345], [1, 0.5], [1, 1.00049], [-0.0004, 0.12345]]), FLAT)
    assert kept == mark("outline", [[0.0, 0.123], [1.0, 0.5], [1.0, 1.0]])


@given(st.floats(0, math.pi / 2), st.floats(0, 0.0009))
def test_a_kept_mark_is_kept_as_it_is(turn, off):
    far = 3 + off
    kept = check_mark(mark("pin", [[far * math.cos(turn), far * math.sin(turn)]]), DOME)
    assert check_mark(kept, DOME) == kept


@pytest.mark.parametrize(
    ("given_mark", "code"),
    [
        (None, "bad_value"),
        ([], "bad_value"),
        (mark("blob", [[1, 1]]), "bad_value"),
        (mark(None, [[1, 1]]), "bad_value"),
        (mark("pin", [[1, 1]], "beside"), "bad_value"),
        (mark("pin", [[1, 1]], None), "bad_value"),
        (mark("pin", [[1, 1]], "above"), "bad_value"),
        (mark("pin", None), "bad_value"),
        (mark("pin", [[1, "1"]]), "bad_value"),
        (mark("pin", [[math.inf, 1]]), "bad_value"),
        (mark("line", [[k / 200, 1] for k in range(501)]), "bad_value"),
        (mark("pin", []), "outline_empty"),
        (mark("pin", [[1, 1], [2, 2]]), "outline_empty"),
        (mark("line", [[1, 1]]), "outline_empty"),
        (mark("line", [[1, 1], [1.0001, 1]]), "outline_empty"),
        (mark("outline", [[1, 1], [2, 2]]), "outline_empty"),
        (mark("outline", [[1, 1], [2, 1], [2, 1.0001]]), "outline_empty"),
        (mark("outline", [[1, 1], [2, 2], [2, 1], [1, 2]]), "outline_crosses_itself"),
        (mark("pin", [[4.1, 1]]), "outline_leaves_wall"),
    ],
)
def test_mark_that_cannot_be_kept_is_refused(given_mark, code):
    assert refused(check_mark, given_mark, FLAT) == code


def test_mark_on_a_wall_that_is_none_is_refused():
    assert refused(check_mark, mark("pin", [[1, 1]]), None) == "surface_refused"


def test_line_may_cross_itself():
    points = [[1.0, 1.0], [2.0, 2.0], [2.0, 1.0], [1.0, 2.0]]
    assert check_mark(mark("line", points), FLAT)["points_m"] == points


def test_openings_are_kept():
    assert check_openings([DOOR, DOOR | {"kind": "window", "head": "arched", "y_m": 0.9}], FLAT) == [
        DOOR,
        DOOR | {"kind": "window", "head": "arched", "y_m": 0.9},
    ]


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"kind": "hatch"}, "bad_value"),
        ({"head": None}, "bad_value"),
        ({"x_m": "1"}, "bad_value"),
        ({"x_m": math.nan}, "bad_value"),
        ({"width_m": 0}, "bad_value"),
        ({"height_m": -1}, "bad_value"),
        ({"head": "arched", "height_m": 0.4}, "bad_value"),
        ({"x_m": 3.5}, "outline_leaves_wall"),
        ({"y_m": 1.5}, "outline_leaves_wall"),
    ],
)
def test_opening_that_cannot_be_is_refused_and_named(change, code):
    with pytest.raises(BadInput) as refusal:
        check_openings([DOOR, DOOR | change], FLAT)
    assert refusal.value.code == code
    assert list(refusal.value.fields) == ["openings.1"]


@pytest.mark.parametrize("value", [None, {}, [None], [3], [DOOR] * 101])
def test_what_is_no_list_of_openings_is_refused(value):
    assert refused(check_openings, value, FLAT) == "bad_value"


def test_ring_of_an_arched_opening_has_the_area_of_its_box_and_half_circle():
    ring = opening_ring(DOOR | {"head": "arched"})
    area = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, ring[1:] + ring[:1], strict=True)) / 2
    assert area == pytest.approx(0.9 * 1.55 + math.pi * 0.45**2 / 2, rel=2e-3)
    assert opening_ring(DOOR) == [(1.0, 0.0), (1.9, 0.0), (1.9, 2.0), (1.0, 2.0)]


def test_backdrop_is_kept():
    backdrop = {"photo_id": "a-photo", "homography": MATRIX, "opacity": 0.5}
    assert check_backdrop(backdrop) == backdrop


@pytest.mark.parametrize(
    "change",
    [
        {"photo_id": ""},
        {"photo_id": 3},
        {"homography": MATRIX[:8]},
        {"homography": [*MATRIX[:8], math.nan]},
        {"homography": [1, 1, 0, 1, 1, 0, 0, 0, 1]},
        {"homography": [0] * 9},
        {"opacity": 1.1},
        {"opacity": "half"},
    ],
)
def test_backdrop_that_cannot_be_is_refused(change):
    backdrop = {"photo_id": "a-photo", "homography": MATRIX, "opacity": 0.5}
    assert refused(check_backdrop, backdrop | change) == "bad_value"
    assert refused(check_backdrop, None) == "bad_value"


def test_coats_are_kept():
    coats = [{"mix": "lime_coarse", "thickness_mm": 12}, {"mix": "lime_fine", "thickness_mm": 3.5}]
    assert check_coats(coats) == coats
    assert check_coats([{"mix": "wash", "thickness_mm": 500, "note": "x"}]) == [
        {"mix": "wash", "thickness_mm": 500}
    ]
    assert check_coats([]) == []


@pytest.mark.parametrize("thickness", [0, -1, 500.1, math.nan, "12", None, True])
def test_coat_without_a_thickness_is_refused(thickness):
    assert refused(check_coats, [{"mix": "lime_fine", "thickness_mm": thickness}]) == "bad_value"


@pytest.mark.parametrize("value", [None, {}, [None], [{"thickness_mm": 3}], [{"mix": "", "thickness_mm": 3}]])
def test_what_is_no_list_of_coats_is_refused(value):
    assert refused(check_coats, value) == "bad_value"
