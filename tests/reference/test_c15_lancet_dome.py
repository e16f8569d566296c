"""C15: domes and walls in closed form, and how far a flat photo under-reads them.

A dome of earthbags is as high as it is wide (rule read in a builders' guide on earthbag domes). The arc, by
hand, for foot radius a and height H: its centre lies at foot level, e beyond the axis, so (a + e)^2 = e^2 +
H^2 = R^2, hence R = (a^2 + H^2)/(2a), e = R - a. Surface: integral of 2 pi r R/(r + e) dz with r + e =
sqrt(R^2 - z^2) gives 2 pi R (H - e asin(H/R)). For D = H = 20 ft: R = 25, e = 15, asin(0.8) = 0.927295,
surface 2 pi 25 (20 - 13.90943) = 956.70 ft2; silhouette 625 (0.927295 + 0.48) - 600 = 279.56 ft2; front half
over silhouette 1.7111. Cap: own numbers in a formula read on a dome builders' sheet, 2 pi Rc h = pi (r^2 +
h^2).
"""

import math

import pytest

from makegood.science.dome import Cap, Flat, Lancet, Profile
from makegood.science.outline import reckon_area

DOME_FT = Lancet(10.0, 20.0)


def test_arc_of_a_dome_as_high_as_wide():
    assert (DOME_FT.arc_radius, DOME_FT.offset) == pytest.approx((25, 15), rel=1e-12)


@pytest.mark.parametrize(("z", "radius"), [(0, 10.0), (5, 9.495), (10, 7.913), (15, 5.0), (20, 0.0)])
def test_radius_over_height(z, radius):
    assert DOME_FT.radius(z) == pytest.approx(radius, abs=1e-3)


def test_surface_and_silhouette():
    assert DOME_FT.area == pytest.approx(956.70, abs=0.01)
    assert DOME_FT.silhouette == pytest.approx(279.56, abs=0.01)
    assert 2 * math.pi * 25 * (20 - 15 * math.asin(0.8)) == pytest.approx(DOME_FT.area, rel=1e-12)


UNDER_READING = [
    ("lancet, H = D", DOME_FT, 1.7111),
    ("hemisphere", Cap(3.0, 3.0), 2.0),
    ("round wall", Profile(((2.0, 0.0), (2.0, 3.0))), 1.5708),
    ("cone, r 10, H 20", Profile(((10.0, 0.0), (0.0, 20.0))), 1.7562),
]


@pytest.mark.parametrize(("name", "shape", "ratio"), UNDER_READING, ids=[row[0] for row in UNDER_READING])
def test_front_half_over_its_flat_picture(name, shape, ratio):
    assert shape.area / 2 / shape.silhouette == pytest.approx(ratio, abs=1e-3)
    whole = reckon_area(shape, "seen")
    assert whole.area_m2 / 2 / whole.as_drawn_m2 == pytest.approx(ratio, abs=1e-3)


def test_battered_wall_reads_short_by_its_cosine():
    wall = reckon_area(Flat(4.0, 3.0, 12.0), "seen", [(1, 1), (2, 1), (2, 2), (1, 2)])
    assert wall.area_m2 / wall.as_drawn_m2 == pytest.approx(1 / math.cos(math.radians(12)), rel=1e-12)


def test_cap_of_radius_3_and_height_2():
    cap = Cap(3.0, 2.0)
    assert cap.sphere_radius == pytest.approx(3.25, rel=1e-12)
    assert cap.area == pytest.approx(40.841, abs=1e-3)
    assert cap.area == pytest.approx(math.pi * (9 + 4), rel=1e-12)


def test_frustum_is_pi_times_both_radii_times_the_slant():
    slant = math.hypot(3.0, 1.6)
    assert Profile(((2.0, 0.0), (0.4, 3.0))).area == pytest.approx(math.pi * 2.4 * slant, rel=1e-12)


def test_frusta_reach_the_dome_from_below():
    areas = []
    for n in (4, 8, 16, 64, 256):
        heights = [20.0 * math.sin(math.pi / 2 * k / n) for k in range(n + 1)]
        areas.append(Profile(tuple((DOME_FT.radius(z), z) for z in heights)).area)
    assert areas == sorted(areas)
    assert areas[-1] < DOME_FT.area
    assert areas[-1] == pytest.approx(DOME_FT.area, rel=1e-4)


def test_a_3_ft_door_takes_34_4_degrees_of_a_10_ft_round():
    # Arc width over the round; rule read in an earthbag builders' page, which prints 34 with pi as 3.14.
    door = reckon_area(Profile(((5.0, 0.0), (5.0, 8.0))), "unrolled", [(14, 0), (17, 0), (17, 7), (14, 7)])
    assert door.area_m2 / 7 / 5 * 180 / math.pi == pytest.approx(34.4, abs=0.1)
