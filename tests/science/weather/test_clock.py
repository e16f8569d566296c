"""Local times to hours: right in winter, in summer, and in the two nights the clock is set."""

from datetime import datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from makegood.errors import BadInput
from makegood.science.weather.clock import EPOCH, HOUR, Clock, zone_named

MADRID = "Europe/Madrid"


def read(*times: str, zone: str | None = MADRID) -> list[tuple[str | None, str | None]]:
    clock = Clock(zone)
    found = [clock.hour_of(datetime.fromisoformat(time)) for time in times]
    return [(None if hour is None else f"{EPOCH + hour * HOUR:%m-%d %H}", told) for hour, told in found]


def test_winter_is_one_hour_off_and_summer_two():
    assert read("2026-01-10 12:00", "2026-07-10 12:00") == [("01-10 11", None), ("07-10 10", None)]


def test_night_on_which_the_clock_is_set_back_has_the_hour_twice():
    night = read("2026-10-25 01:00", "2026-10-25 02:00", "2026-10-25 02:00", "2026-10-25 03:00")
    twice = "hour_shown_twice"
    assert night == [("10-24 23", None), ("10-25 00", twice), ("10-25 01", twice), ("10-25 02", None)]


def test_hour_that_the_clock_leaps_over_is_no_hour():
    assert read("2026-03-29 01:00", "2026-03-29 02:00", "2026-03-29 03:00") == [
        ("03-29 00", None),
        (None, "hour_never_was"),
        ("03-29 01", None),
    ]


def test_times_with_an_offset_need_no_zone():
    assert read("2026-07-10T12:00:00Z", "2026-07-10T12:00:00+02:00") == [("07-10 12", None), ("07-10 10", None)]


def test_without_a_zone_times_count_as_they_stand():
    assert read("2026-10-25 02:00", zone=None) == [("10-25 02", None)]


@pytest.mark.parametrize("name", ["Nowhere/Town", "", "../etc/passwd", "Europe", "x" * 300])
def test_unknown_zone_is_refused(name):
    with pytest.raises(BadInput) as refusal:
        zone_named(name)
    assert refusal.value.code == "zone_unknown"


@settings(max_examples=12, deadline=None)
@given(
    st.sampled_from([MADRID, "America/New_York", "Australia/Sydney", "UTC", "America/Santiago"]),
    st.integers(2000, 2035),
)
def test_a_year_written_down_by_a_wall_clock_comes_out_as_hours_on_end(zone, year):
    place = zone_named(zone)
    first = int((datetime(year, 1, 2) - EPOCH) / HOUR)
    clock = Clock(zone)
    utc = zone_named("UTC")
    for number in range(first, first + 24 * 360, 1):
        local = (EPOCH + number * HOUR).replace(tzinfo=utc).astimezone(place).replace(tzinfo=None)
        assert clock.hour_of(local)[0] == number
