"""Which finish lies where, and since when."""

from datetime import date
from math import atan2, degrees, radians, sin

import pytest

from makegood.domain.ledger.place import Laid, face_of, finish_at, holds, in_view, lies, middle
from makegood.science.surface import surface_from

TOWER = {"kind": "round_wall", "radius_m": 2, "height_m": 4}
FLAT = {"kind": "flat", "width_m": 10, "height_m": 3, "batter_deg": 0}
SQUARE = {"view": "seen", "shape": "outline", "points_m": [[1, 1], [2, 1], [2, 2], [1, 2]]}
ON = date(2026, 3, 1)


def pin(x, y, view="seen"):
    return {"view": view, "shape": "pin", "points_m": [[x, y]]}


def test_a_finish_faces_as_the_middle_of_its_region_does():
    dome = {"kind": "dome", "shape": "hemisphere", "radius_m": 2}
    right = face_of(TOWER, 180, pin(2 * sin(radians(45)), 1))
    assert (right.bearing_deg, right.slope_deg) == (pytest.approx(135), 90)
    assert face_of(TOWER, 180, None).bearing_deg == 180
    # A tangent of a circle is square to its radius: 1.2 up and 1.6 out on a radius of 2 lies at 53.13 degrees.
    leant = face_of(dome, 90, pin(0, 1.2))
    assert (leant.bearing_deg, leant.slope_deg) == (90, pytest.approx(degrees(atan2(1.6, 1.2))))
    assert face_of(dome, 90, None).slope_deg == pytest.approx(60)
    assert face_of({**FLAT, "batter_deg": 10}, 20, SQUARE).slope_deg == 80


def test_middle_of_a_mark_is_the_mean_of_its_points():
    assert middle(SQUARE) == (1.5, 1.5)


@pytest.mark.parametrize(("spot", "inside"), [((1.5, 1.5), True), ((2.5, 1.5), False), ((1.5, 2.5), False), ((0, 1.5), False)])
def test_inside_a_square(spot, inside):
    assert lies(spot, SQUARE["points_m"]) is inside


def test_a_notch_is_outside():
    notched = [[0, 0], [4, 0], [4, 4], [2, 1], [0, 4]]
    assert not lies((2, 2), notched)
    assert lies((0.5, 2), notched)


def test_newest_region_first_and_then_the_newest_over_the_whole_side():
    old, whole, panel = Laid("old", date(2020, 1, 1)), Laid("whole", date(2024, 1, 1)), Laid("p", date(2025, 1, 1), None, SQUARE)
    both = [panel, old, whole]
    assert finish_at(FLAT, both, pin(1.5, 1.5), ON).id == "p"
    assert finish_at(FLAT, both, pin(5, 1), ON).id == "whole"
    assert finish_at(FLAT, both, pin(1.5, 1.5), date(2024, 6, 1)).id == "whole"
    assert finish_at(FLAT, both, pin(1.5, 1.5), date(2019, 1, 1)) is None


def test_a_finish_of_unknown_day_lies_under_all_others():
    unknown, whole = Laid("unknown", None), Laid("whole", date(2024, 1, 1))
    assert finish_at(FLAT, [unknown, whole], pin(5, 1), ON).id == "whole"
    assert finish_at(FLAT, [unknown, whole], pin(5, 1), date(2023, 1, 1)).id == "unknown"


def test_the_day_it_came_off_still_counts():
    gone = Laid("gone", date(2024, 1, 1), ON)
    assert gone.stood_on(ON)
    assert not gone.stood_on(date(2026, 3, 2))


def test_a_spot_is_carried_from_view_to_view():
    tower = surface_from(TOWER)
    there = in_view(tower, (0.0, 1.0), "seen", "unrolled")
    assert there == pytest.approx((6.283185, 1.0), abs=1e-6)
    assert in_view(tower, there, "unrolled", "seen") == pytest.approx((0, 1.0), abs=1e-9)
    assert in_view(tower, (0.1, 1.0), "unrolled", "seen") is None
    assert not holds(TOWER, SQUARE, (0.1, 1.5), "unrolled")
