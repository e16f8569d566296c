"""Outlines and lines on walls: what must hold whatever the numbers, and what is refused."""

import math
import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from makegood.errors import BadInput, OutlineRefused
from makegood.science.dome import Cap, Flat, Lancet, Profile
from makegood.science.outline import crosses_itself, openings_overlap_m2, reckon_area, reckon_length

DOME = Cap(3.0, 3.0)
SHAPES = st.sampled_from(
    [DOME, Cap(3.0, 2.0), Lancet(3.0, 6.0), Profile(((2.4, 0.0), (2.4, 0.6), (0.25, 3.3)))]
)


def ring(n, x=0.2, y=1.2, a=0.9, b=0.7):
    return [(x + a * math.cos(2 * math.pi * k / n), y + b * math.sin(2 * math.pi * k / n)) for k in range(n)]


@given(SHAPES, st.integers(3, 12), st.integers(1, 11), st.booleans())
def test_where_one_begins_and_which_way_one_goes_changes_nothing(shape, n, first, back):
    points = ring(n)
    other = points[first % n :] + points[: first % n]
    one, two = reckon_area(shape, "seen", points), reckon_area(shape, "seen", other[::-1] if back else other)
    assert two.area_m2 == pytest.approx(one.area_m2, rel=1e-10)
    assert two.perimeter_m == pytest.approx(one.perimeter_m, rel=1e-10)


@given(SHAPES, st.floats(-0.6, 1.0))
def test_an_outline_is_the_sum_of_its_two_parts(shape, x):
    whole = reckon_area(shape, "seen", [(-0.7, 0.5), (1.1, 0.5), (1.1, 1.6), (-0.7, 1.6)]).area_m2
    left = reckon_area(shape, "seen", [(-0.7, 0.5), (x, 0.5), (x, 1.6), (-0.7, 1.6)]).area_m2
    right = reckon_area(shape, "seen", [(x, 0.5), (1.1, 0.5), (1.1, 1.6), (x, 1.6)]).area_m2
    assert left + right == pytest.approx(whole, rel=1e-9)


@given(SHAPES, st.integers(3, 12))
def test_the_wall_is_never_less_than_its_picture(shape, n):
    reckoned = reckon_area(shape, "seen", ring(n))
    assert reckoned.area_m2 > reckoned.as_drawn_m2
    assert reckoned.perimeter_m > sum(
        math.dist(p, q) for p, q in zip(ring(n), ring(n)[1:] + ring(n)[:1], strict=True)
    )


@given(st.floats(0.1, 20))
def test_area_grows_with_the_square_of_size_and_edge_with_size(k):
    one = reckon_area(DOME, "seen", ring(7))
    other = reckon_area(Cap(3 * k, 3 * k), "seen", [(x * k, y * k) for x, y in ring(7)])
    assert other.area_m2 == pytest.approx(one.area_m2 * k * k, rel=1e-9)
    assert other.perimeter_m == pytest.approx(one.perimeter_m * k, rel=1e-9)


def test_a_band_is_the_same_seen_unrolled_and_closed():
    band = Profile(((2.0, 0.0), (2.0, 3.0)))
    half = reckon_area(band, "seen", [(-2, 1), (2, 1), (2, 2), (-2, 2)]).area_m2
    turn = reckon_area(band, "unrolled", [(0, 1), (2 * math.pi, 1), (2 * math.pi, 2), (0, 2)]).area_m2
    assert (half, turn) == pytest.approx((2 * math.pi, 2 * math.pi), rel=1e-9)


def test_rim_as_many_sided_outline_reaches_the_whole_dome_from_above():
    rim = [(3 * math.cos(2 * math.pi * k / 2000), 3 * math.sin(2 * math.pi * k / 2000)) for k in range(2000)]
    begun = time.perf_counter()
    whole = reckon_area(DOME, "above", rim)
    assert time.perf_counter() - begun < 5
    assert whole.area_m2 == pytest.approx(DOME.area, rel=2e-3)
    # Each chord dips below the rim and comes back: a small half circle on the upright wall.
    assert whole.perimeter_m == pytest.approx(6 * math.pi * math.pi / 2, rel=1e-4)


def test_an_opening_at_the_top_counts_for_nothing():
    frustum = Profile(((2.0, 0.0), (0.5, 3.0)))
    square = [(-1, -1), (1, -1), (1, 1), (-1, 1)]
    closed = Profile(((2.0, 0.0), (0.0, 4.0)))
    gone = math.pi * 0.5 * math.hypot(0.5, 1.0)
    assert reckon_area(frustum, "above", square).area_m2 == pytest.approx(
        reckon_area(closed, "above", square).area_m2 - gone, rel=1e-9
    )


@pytest.mark.parametrize(
    ("points", "code"),
    [
        ([], "outline_empty"),
        ([(1, 1), (2, 2)], "outline_empty"),
        ([(1, 1), (2, 2), (1, 1)], "outline_empty"),
        ([(1, 1), (1.5, 1.5), (2, 2)], "outline_empty"),
        ([(1, 1), (2, 2), (2, 1), (1, 2)], "outline_crosses_itself"),
        ([(1, 1), (2, 1), (2, 2), (2, 0.5)], "outline_crosses_itself"),
        ([(1, 1), (9, 1), (1, 2)], "outline_leaves_wall"),
    ],
)
def test_outline_that_bounds_no_area_of_the_wall_is_refused(points, code):
    with pytest.raises(OutlineRefused) as refusal:
        reckon_area(Flat(4, 3), "seen", points)
    assert refusal.value.code == code
    assert refusal.value.fields


@pytest.mark.parametrize(
    "points", ["", 3, {}, [1, 2, 3], [(1, 2, 3)] * 3, [("1", 2)] * 3, [(math.nan, 1)] * 3, [(1, 1)] * 2001]
)
def test_what_is_no_list_of_points_is_refused(points):
    with pytest.raises(BadInput) as refusal:
        reckon_area(Flat(4, 3), "seen", points)
    assert refusal.value.code == "bad_value"


def test_edge_across_a_hollow_is_refused():
    waist = Profile(((2.0, 0.0), (1.0, 1.0), (2.0, 2.0)))
    with pytest.raises(OutlineRefused) as refusal:
        reckon_area(waist, "seen", [(1.9, 0.1), (1.9, 1.9), (0.0, 1.0)])
    assert refusal.value.code == "outline_leaves_wall"


@pytest.mark.parametrize(
    ("view", "points", "steep"),
    [
        ("seen", [(0, 0.5), (1, 0.5), (1, 1.5)], False),
        ("seen", [(0, 0.5), (2.95, 0.5), (1, 1.5)], True),
        ("seen", [(0, 2.2), (0.2, 2.95), (-0.2, 2.95)], True),
        ("above", [(0, 0), (1, 0), (0, 1)], False),
        ("above", [(0, 0), (2.95, 0), (0, 1)], True),
        ("unrolled", [(9, 0.5), (10, 0.5), (9, 2.9)], False),
    ],
)
def test_parts_seen_at_more_than_75_degrees_are_flagged(view, points, steep):
    assert reckon_area(DOME, view, points).warnings == (["steep_view"] if steep else [])


@pytest.mark.parametrize(("angle_deg", "steep"), [(74.5, False), (75.5, True)])
def test_the_limit_of_a_steep_view_is_75_degrees(angle_deg, steep):
    x = 2 * math.sin(math.radians(angle_deg))
    line = reckon_length(Profile(((2.0, 0.0), (2.0, 3.0))), "seen", [(x, 0.5), (x, 2.0)])
    assert line.warnings == (["steep_view"] if steep else [])


def test_whole_surface_seen_from_the_front_says_that_the_far_side_counts():
    assert reckon_area(DOME, "seen").warnings == ["far_side_counted"]
    assert reckon_area(DOME, "unrolled").warnings == []


@given(SHAPES, st.floats(0.05, 0.9))
def test_a_line_is_the_sum_of_its_parts_and_no_shorter_than_drawn(shape, t):
    a, b = (-0.6, 0.4), (0.8, 1.9)
    middle = (a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]))
    whole, parts = reckon_length(shape, "seen", [a, b]), reckon_length(shape, "seen", [a, middle, b])
    assert parts.length_m == pytest.approx(whole.length_m, rel=1e-9)
    assert whole.length_m >= whole.as_drawn_m


def test_meridian_of_a_hemisphere_is_a_quarter_circle():
    assert reckon_length(DOME, "seen", [(0, 0), (0, 3)]).length_m == pytest.approx(1.5 * math.pi, rel=1e-10)
    assert reckon_length(DOME, "above", [(-3, 0), (3, 0)]).length_m == pytest.approx(3 * math.pi, rel=1e-10)


@pytest.mark.parametrize("line", [[], [(1, 1)], [(1, 1), (1, 1)]])
def test_line_of_no_length_is_refused(line):
    with pytest.raises(OutlineRefused) as refusal:
        reckon_length(Flat(4, 3), "seen", line)
    assert refusal.value.code == "outline_empty"


def test_crossing_is_found_among_500_corners_quickly():
    points = ring(500)
    begun = time.perf_counter()
    assert not crosses_itself(points)
    assert time.perf_counter() - begun < 0.5
    points[10], points[200] = points[200], points[10]
    assert crosses_itself(points)


WINDOW = [(1.0, 1.5), (2.0, 1.5), (2.0, 3.0), (1.0, 3.0)]


def test_overlap_with_a_window_on_a_flat_wall():
    outline = [(0.8, 1.0), (2.2, 1.0), (2.2, 2.2), (0.8, 2.2)]
    assert openings_overlap_m2(Flat(5, 3), "seen", outline, [WINDOW]) == pytest.approx(0.7, rel=1e-12)
    assert openings_overlap_m2(Flat(5, 3), "seen", outline, [WINDOW[::-1]]) == pytest.approx(0.7, rel=1e-12)
    assert openings_overlap_m2(Flat(5, 3), "seen", outline, []) == 0


@settings(max_examples=60)
@given(st.integers(3, 9), st.floats(0.3, 1.1), st.floats(0.6, 1.4))
def test_overlap_with_a_window_is_what_shapely_cuts_out(n, x, y):
    from shapely.geometry import Polygon

    outline = [(px, py) for px, py in ring(n, x=x + 0.8, y=y + 0.7, a=0.7, b=0.6)]
    expected = Polygon(outline).intersection(Polygon(WINDOW)).area
    assert openings_overlap_m2(Flat(5, 4), "seen", outline, [WINDOW]) == pytest.approx(
        expected, rel=1e-9, abs=1e-12
    )


def test_overlap_with_a_window_on_a_dome():
    inside = [(1.2, 1.6), (1.8, 1.6), (1.5, 2.0)]
    true = reckon_area(DOME, "seen", inside).area_m2
    assert openings_overlap_m2(DOME, "seen", inside, [WINDOW]) == pytest.approx(true, rel=1e-12)
    assert openings_overlap_m2(DOME, "above", [(0, 0), (1, 0), (0, 1)], [WINDOW]) is None
