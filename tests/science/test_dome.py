"""The shapes agree with themselves: weight and area, radius and height, from the side and from above."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from makegood.science.dome import Cap, Flat, Lancet, Profile

SIZES = st.floats(0.1, 50)
CAPS = st.builds(Cap, SIZES, SIZES)
LANCETS = st.tuples(SIZES, st.floats(1, 5)).map(lambda t: Lancet(t[0], t[0] * t[1]))
CONES = st.tuples(SIZES, st.floats(0, 0.95), SIZES).map(lambda t: Profile(((t[0], 0.0), (t[0] * t[1], t[2]))))
MEASURED = st.just(Profile(((2.4, 0.0), (2.4, 0.6), (2.1, 1.7), (1.2, 2.8), (0.25, 3.3))))
ROUND = st.one_of(CAPS, LANCETS, CONES, MEASURED)


def _sum(f, shape, low=0.0):
    cuts = [low, *(z for z in shape.breaks if z > low), shape.height]
    return sum(quad(f, a, b, epsrel=1e-10)[0] for a, b in pairwise(cuts))


@given(ROUND)
def test_whole_area_is_what_the_weight_adds_up_to(shape):
    assert 2 * math.pi * _sum(shape.weight, shape) == pytest.approx(shape.area, rel=1e-7)


@given(ROUND)
def test_silhouette_is_what_the_radius_adds_up_to(shape):
    assert 2 * _sum(shape.radius, shape) == pytest.approx(shape.silhouette, rel=1e-7)


@given(ROUND, st.floats(0.05, 0.95))
def test_weight_is_radius_times_the_meridians_stretch(shape, share):
    z = share * shape.height
    assert shape.weight(z) == pytest.approx(shape.radius(z) * math.hypot(1, shape.slope(z)), rel=1e-9)


@given(ROUND, st.floats(0.05, 0.95))
def test_height_from_above_undoes_the_radius(shape, share):
    lowest = shape.height_at(shape.shown_radius)
    z = lowest + share * (shape.height - lowest)
    assert shape.height_at(shape.radius(z)) == pytest.approx(z, rel=1e-7, abs=1e-7)


@given(ROUND, st.floats(0.02, 0.98))
def test_area_round_the_axis_is_what_the_rings_above_add_up_to(shape, share):
    lowest = shape.height_at(shape.shown_radius)
    z = lowest + share * (shape.height - lowest)
    rho = shape.radius(z)
    assert shape.crown(rho) * rho * rho == pytest.approx(_sum(shape.weight, shape, z), rel=1e-6)


@given(LANCETS)
def test_lancet_reckons_alike_on_both_sides_of_where_its_closed_form_cancels(shape):
    rho = 0.02 * shape.foot_radius
    assert shape.crown(rho * (1 - 1e-12)) == pytest.approx(shape.crown(rho * (1 + 1e-12)), rel=1e-9)


@given(SIZES)
def test_lancet_as_high_as_half_its_width_is_a_hemisphere(radius):
    lancet, cap = Lancet(radius, radius), Cap(radius, radius)
    assert (lancet.area, lancet.silhouette) == pytest.approx((cap.area, cap.silhouette), rel=1e-12)
    assert lancet.crown(radius / 3) == pytest.approx(cap.crown(radius / 3), rel=1e-12)


@given(ROUND, st.floats(0.1, 10))
def test_area_grows_with_the_square_of_size(shape, k):
    if isinstance(shape, Profile):
        larger = Profile(tuple((r * k, z * k) for r, z in shape.points))
    else:
        larger = type(shape)(shape.foot_radius * k, shape.height * k)
    assert larger.area == pytest.approx(shape.area * k * k, rel=1e-9)


def test_slope_at_the_crown_is_level_and_the_opening_of_a_frustum_has_none():
    assert Cap(3.0, 3.0).slope(3.0) == -math.inf
    assert Cap(3.0, 3.0).fall(3.0) > 1e6
    frustum = Profile(((2.0, 0.0), (0.5, 3.0)))
    assert (frustum.fall(0.3), frustum.crown(0.3)) == (0, 0)


def test_walls_that_do_not_draw_in_do_not_show_from_above():
    assert not Profile(((2.0, 0.0), (2.0, 3.0))).shows_above
    assert not Profile(((2.0, 0.0), (1.5, 1.0), (1.8, 2.0), (0.0, 3.0))).shows_above
    assert Profile(((2.0, 0.0), (2.0, 1.0), (0.0, 3.0))).shows_above


def test_flat_wall_stretches_by_its_batter():
    assert Flat(4.0, 3.0, 60.0).area == pytest.approx(24.0, rel=1e-12)
