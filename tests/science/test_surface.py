"""Reading surfaces, and places on them."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from makegood.errors import BadInput, OutlineRefused
from makegood.science.dome import Cap, Flat, Lancet, Profile
from makegood.science.surface import (
    angle_of,
    bearing_at,
    check_view,
    point_of,
    settle,
    silhouette_points,
    surface_from,
)

DOME = Cap(3.0, 3.0)
ROUND_WALL = Profile(((2.0, 0.0), (2.0, 2.5)))
GOOD = [
    ({"kind": "flat", "width_m": 4, "height_m": 3, "batter_deg": 5}, Flat(4, 3, 5)),
    ({"kind": "flat", "width_m": 4, "height_m": 3}, Flat(4, 3, 0)),
    ({"kind": "round_wall", "radius_m": 2, "height_m": 2.5}, ROUND_WALL),
    ({"kind": "dome", "shape": "hemisphere", "radius_m": 3}, DOME),
    ({"kind": "dome", "shape": "cap", "base_radius_m": 3, "height_m": 4}, Cap(3, 4)),
    ({"kind": "dome", "shape": "lancet", "base_radius_m": 3, "height_m": 3}, Lancet(3, 3)),
    (
        {"kind": "dome", "shape": "cone", "base_radius_m": 3, "top_radius_m": 0, "height_m": 4},
        Profile(((3, 0), (0, 4))),
    ),
    ({"kind": "dome", "shape": "profile", "points_m": [[3, 0], [1, 2]]}, Profile(((3, 0), (1, 2)))),
]


@pytest.mark.parametrize(("given_surface", "shape"), GOOD)
def test_surface_is_read(given_surface, shape):
    assert surface_from(given_surface) == shape


@pytest.mark.parametrize("bad", [0, -1, 0.0004, 500.5, math.nan, math.inf, "2", None, True, [2], 10**400])
@pytest.mark.parametrize(("given_surface", "shape"), GOOD[:7])
def test_size_that_is_none_is_refused_and_named(given_surface, shape, bad):
    for name in given_surface:
        if name.endswith("_m") and not (name == "top_radius_m" and bad == 0 and bad is not False):
            with pytest.raises(BadInput) as refusal:
                surface_from(given_surface | {name: bad})
            assert refusal.value.code == "surface_refused"
            assert list(refusal.value.fields) == [name]


@pytest.mark.parametrize(
    ("bad", "field"),
    [
        (None, "surface"),
        ("flat", "surface"),
        ({}, "kind"),
        ({"kind": ["flat"]}, "kind"),
        ({"kind": "dome"}, "shape"),
        ({"kind": "dome", "shape": {}}, "shape"),
        ({"kind": "flat", "height_m": 2}, "width_m"),
        ({"kind": "flat", "width_m": 2, "height_m": 2, "batter_deg": -61}, "batter_deg"),
        ({"kind": "dome", "shape": "lancet", "base_radius_m": 3, "height_m": 2.99}, "height_m"),
        ({"kind": "dome", "shape": "profile"}, "points_m"),
        ({"kind": "dome", "shape": "profile", "points_m": [[3, 0]]}, "points_m"),
        ({"kind": "dome", "shape": "profile", "points_m": [[3, 0], [2, 0]]}, "points_m"),
        ({"kind": "dome", "shape": "profile", "points_m": [[3, 0], [2, 2], [1, 1]]}, "points_m"),
        ({"kind": "dome", "shape": "profile", "points_m": [[3, 0], [math.nan, 1]]}, "points_m"),
        ({"kind": "dome", "shape": "profile", "points_m": [[0, 0], [1, 1]]}, "points_m"),
        ({"kind": "dome", "shape": "profile", "points_m": [[3, 0.2], [1, 1]]}, "points_m"),
        ({"kind": "dome", "shape": "profile", "points_m": [[3, 0], 1]}, "points_m"),
        ({"kind": "dome", "shape": "profile", "points_m": [[2, k / 100] for k in range(201)]}, "points_m"),
    ],
)
def test_what_is_no_wall_is_refused_and_named(bad, field):
    with pytest.raises(BadInput) as refusal:
        surface_from(bad)
    assert refusal.value.code == "surface_refused"
    assert list(refusal.value.fields) == [field]


@pytest.mark.parametrize("view", ["beside", "", "SEEN"])
def test_view_that_does_not_exist_is_refused(view):
    with pytest.raises(BadInput) as refusal:
        check_view(DOME, view)
    assert refusal.value.code == "bad_value"


@pytest.mark.parametrize("shape", [Flat(2, 2), ROUND_WALL])
def test_upright_walls_are_not_drawn_from_above(shape):
    with pytest.raises(BadInput):
        check_view(shape, "above")


def test_a_point_within_a_millimetre_is_set_back_onto_the_wall():
    assert settle(Flat(4, 3), "seen", [(-0.001, 3.001), (1, 1)]) == [(0, 3), (1, 1)]
    assert settle(ROUND_WALL, "seen", [(2.001, 1.0)]) == [(2.0, 1.0)]
    assert settle(DOME, "above", [(3.0005, 0.0)]) == [(3.0, 0.0)]


def test_a_point_level_with_the_crown_settles_a_millimetre_down():
    ((x, z),) = settle(DOME, "seen", [(0.05, 3.0)])
    assert x == 0.05
    assert 2.999 < z < 3
    assert DOME.radius(z) == pytest.approx(0.05, rel=1e-6)


@pytest.mark.parametrize(
    ("shape", "view", "point"),
    [
        (Flat(4, 3), "seen", (4.0011, 1)),
        (ROUND_WALL, "seen", (2.002, 1)),
        (ROUND_WALL, "unrolled", (12.6, 1)),
        (DOME, "seen", (0, -0.002)),
        (DOME, "seen", (0.2, 3)),
        (DOME, "above", (2.2, 2.2)),
        (Profile(((2, 0), (0.5, 3))), "above", (0.1, 0.1)),
    ],
)
def test_a_point_off_the_wall_is_refused_and_counted_from_one(shape, view, point):
    on_wall = (1.0, 1.0)
    with pytest.raises(OutlineRefused) as refusal:
        settle(shape, view, [on_wall, point])
    assert refusal.value.code == "outline_leaves_wall"
    assert "point 2" in refusal.value.message


SHAPES = st.sampled_from(
    [DOME, Cap(2.0, 3.2), Lancet(3.0, 6.0), Profile(((2.4, 0.0), (2.4, 0.6), (0.25, 3.3)))]
)


@given(SHAPES, st.sampled_from(["seen", "unrolled", "above"]), st.floats(-1.5, 1.5), st.floats(0.65, 0.98))
def test_a_place_is_the_same_in_every_view(shape, view, angle, share):
    z = share * shape.height
    point = point_of(shape, view, angle, z)
    assert point is not None
    assert angle_of(shape, view, point) == pytest.approx((angle, z), abs=1e-7)


def test_what_a_view_hides_has_no_place_in_it():
    assert point_of(DOME, "seen", 2.0, 1.0) is None
    assert point_of(Cap(2.0, 3.2), "above", 0.0, 0.1) is None


@pytest.mark.parametrize(
    ("shape", "view", "point", "bearing", "faces"),
    [
        (ROUND_WALL, "seen", (2, 1), 0, 270),
        (ROUND_WALL, "seen", (-2, 1), 0, 90),
        (ROUND_WALL, "unrolled", (2 * math.pi, 1), 40, 40),
        (ROUND_WALL, "unrolled", (3 * math.pi, 1), 40, 310),
        (DOME, "above", (0, -1), 90, 90),
        (DOME, "above", (0, 1), 90, 270),
        (DOME, "above", (1, 0), 90, 0),
        (DOME, "seen", (0, 3), 200, 200),
        (Flat(4, 3), "seen", (3, 1), 123, 123),
    ],
)
def test_bearing_of_a_place(shape, view, point, bearing, faces):
    assert bearing_at(shape, view, point, bearing) == pytest.approx(faces, abs=1e-9)


@given(SHAPES)
def test_silhouette_lies_on_the_wall(shape):
    for view in ("seen", "unrolled", "above"):
        points = silhouette_points(shape, view)
        assert settle(shape, view, points) == [pytest.approx(p, abs=1e-9) for p in points]


@given(st.floats(-1.2, 1.2), st.floats(0, 0.00099))
def test_a_point_within_a_millimetre_of_a_bulging_dome_is_taken(turn, off):
    bulge = Cap(2.0, 3.2)
    middle = bulge.height - bulge.sphere_radius
    far = bulge.sphere_radius + off
    x, z = far * math.cos(turn), middle + far * math.sin(turn)
    if z >= 0:
        ((settled_x, settled_z),) = settle(bulge, "seen", [(x, z)])
        assert math.hypot(settled_x - x, settled_z - z) < 0.002
        assert settled_x <= bulge.radius(settled_z) + 1e-12
