"""A storm as told: hours before totals, what is not recorded stays unknown, and parts that face where they are drawn."""

import pytest

from makegood.science.driving_rain import Face
from makegood.science.weather.told import Told, part_doses, parts_of, told_dose, totals_of

SOUTH = Face(180)
HOURS = {"rain_mm": [2.0, 0.0, 5.0], "wind_m_s": [5.0, 30.0, 10.0], "from_deg": [180.0, None, 240.0]}
TOTALS = {"rain_mm": 40.0, "wind_m_s": 12.0, "wind_from_deg": 180.0, "duration_h": 10.0}
ROUND = {"kind": "round_wall", "radius_m": 2.0, "height_m": 3.0}
DOME = {"kind": "dome", "shape": "hemisphere", "radius_m": 3.0}


def test_hours_that_are_all_known_count_before_totals():
    dose = told_dose(Told(**TOTALS, hours=HOURS), SOUTH)
    # C10: 2.0575 for the first hour; the last is v = 10, r = 5 at 60 degrees, 4.6458.
    assert dose["likely"] == pytest.approx(2.0575 + 4.6458, abs=1e-3)
    assert (dose["low"], dose["high"], dose["by"]) == (dose["likely"], dose["likely"], "hours")


def test_hours_with_a_gap_give_way_to_totals_and_else_are_the_least_there_was():
    gap = {**HOURS, "rain_mm": [2.0, None, 5.0]}
    assert told_dose(Told(**TOTALS, hours=gap), SOUTH)["by"] == "totals"
    least = told_dose(Told(hours=gap), SOUTH)
    assert (least["by"], least["missing_h"]) == ("hours", 1)
    assert least["likely"] == pytest.approx(6.7033, abs=1e-3)


@pytest.mark.parametrize("storm", [Told(), Told(rain_mm=30), Told(wind_m_s=5), Told(hours={name: [None] for name in HOURS})])
def test_what_is_not_recorded_is_not_dry(storm):
    assert told_dose(storm, SOUTH) is None


def test_a_storm_told_as_dry_is_dry():
    assert told_dose(Told(rain_mm=0), SOUTH)["high"] == 0


def test_bearings_fall_to_the_viewers_right():
    parts = parts_of(ROUND, 180, bands=1)
    assert [one.face.bearing_deg for one in parts] == [255, 225, 195, 165, 135, 105]
    assert {one.face.slope_deg for one in parts} == {90.0}


def test_a_batter_leans_the_wall_back():
    flat = {"kind": "flat", "width_m": 4, "height_m": 3, "batter_deg": 10}
    assert parts_of(flat, 20, bands=2)[0].face == Face(20, 80)


def test_higher_up_a_wall_takes_more_and_a_dome_takes_falling_rain_in_the_lee():
    low, high = part_doses(Told(**TOTALS), parts_of({"kind": "flat", "width_m": 4, "height_m": 6}, 180, bands=2))
    assert low["likely"] < high["likely"]
    crown = [one for one in parts_of(DOME, 0, bands=4) if one.high_m == 3]
    light = Told(rain_mm=40.0, wind_m_s=1.0, wind_from_deg=180.0, duration_h=10.0)
    assert all(dose["likely"] > 10 for dose in part_doses(light, crown))
    foot_in_the_lee = parts_of(ROUND, 0, bands=1)[2]
    assert part_doses(Told(**TOTALS), [foot_in_the_lee])[0]["likely"] == 0


def test_totals_of_hours():
    totals = totals_of(HOURS)
    assert (totals["rain_mm"], totals["worst_mm"], totals["wet_h"], totals["missing_h"]) == (7, [5, 7, 7], 2, 0)
    assert totals["wind_m_s"] == 7.5
    assert 180 < totals["wind_from_deg"] < 240
    assert totals_of({name: [None] for name in HOURS})["rain_mm"] is None


def test_far_up_the_wind_factor_stays_within_what_an_exposure_takes():
    tall = {"kind": "flat", "width_m": 4, "height_m": 500}
    assert part_doses(Told(**TOTALS), parts_of(tall, 180, bands=1))[0]["likely"] > 0
