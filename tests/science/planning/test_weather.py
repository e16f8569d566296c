"""A day to come before the gate: what the forecast says, and what it does not."""

from datetime import date

import pytest

from makegood.science.planning.weather import judge_day
from makegood.science.range import exactly
from tests.science.planning.days import LIME, day, job

ON = date(2026, 5, 3)
SHORT = {**LIME, "frost_free_days": exactly(2)}


def judged(*forecast, coat=LIME, **wall):
    return judge_day(job("a", **wall), coat, ON, {one["on"]: one for one in forecast})


@pytest.mark.parametrize(
    ("forecast", "stop"),
    [
        ([day(3)], None),
        ([day(3, 1, 8)], "too_cold"),
        ([day(3, 1, 10)], None),
        ([day(3, rain_mm=1)], "rain_due"),
        ([day(3, rain_mm=0.9)], None),
        ([day(3), day(4, rain_mm=5)], "rain_due"),
        ([day(3), day(5, rain_mm=5)], None),
        ([day(3, -1, 19)], "frost_ahead"),
        ([day(3), day(4, 0)], "frost_ahead"),
        ([day(3), day(4), day(5, 0)], "frost_ahead"),
        # The forecast breaks off before the frost: what lies behind a gap is not known.
        ([day(3), day(5, -4)], None),
    ],
)
def test_what_stops_a_day(forecast, stop):
    assert judged(*forecast).stop == stop


def test_frost_after_the_days_that_matter_stops_nothing():
    assert judged(day(3), day(4), day(5), day(6, -3), coat=SHORT).stop is None
    assert judged(day(3), day(4), day(5, -3), coat=SHORT).stop == "frost_ahead"


@pytest.mark.parametrize("forecast", [[], [day(3, None)], [day(3, rain_mm=None)], [day(4)]])
def test_what_is_not_known_is_said_and_stops_nobody(forecast):
    answer = judged(*forecast)
    assert answer.stop is None
    assert "forecast_unknown" in answer.cautions


@pytest.mark.parametrize(
    ("wall", "stop", "cautions"),
    [
        ({"wall_dry": True}, None, []),
        ({"wall_dry": None}, None, ["wall_not_looked_at"]),
        ({"wall_dry": False}, "wall_not_dry", []),
        ({"wall_dry": False, "wet_on": "2026-04-24"}, "wall_not_dry", []),
        ({"wall_dry": False, "wet_on": "2026-04-23"}, None, ["wall_not_looked_at"]),
        ({"wall_dry": False, "wet_on": "2026-05-09"}, "wall_not_dry", []),
    ],
)
def test_a_wet_wall_waits_its_likely_ten_days_and_then_wants_a_look(wall, stop, cautions):
    assert judged(day(3), **wall) == (stop, cautions)


def test_sheeting_turns_rain_into_a_caution():
    assert judged(day(3, rain_mm=8), covered=True) == (None, ["rain_due"])
