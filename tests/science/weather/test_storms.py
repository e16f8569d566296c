"""Hours that belong together as a storm."""

from hypothesis import given
from hypothesis import strategies as st

from makegood.science.weather.storms import APART_H, LONGEST_H, storms_in
from makegood.science.weather.table import Hour


def hours(*rain_mm, first=1000):
    return [Hour(first + n, 5.0, 90.0, mm) for n, mm in enumerate(rain_mm)]


def test_pause_of_eleven_dry_hours_is_one_storm_and_of_twelve_two():
    assert len(storms_in(hours(3, *[0] * (APART_H - 1), 3))) == 1
    assert len(storms_in(hours(3, *[0] * APART_H, 3))) == 2


def test_showers_are_left_out():
    assert storms_in(hours(0.9, 1.0)) == []
    [storm] = storms_in(hours(0.9, 1.1))
    assert storm.rain_mm == 2.0


def test_hours_that_are_not_there_stand_as_not_recorded():
    table = [one for one in hours(3, 3, 3) if one.number != 1001]
    [storm] = storms_in(table)
    assert [hour.rain_mm for hour in storm.hours] == [3, None, 3]


def test_no_rain_no_storm():
    assert storms_in(hours(0, 0, None)) == []
    assert storms_in([]) == []


def test_rain_for_weeks_is_parted_where_it_paused_longest():
    wet = [1.0] * 300 + [0.0] * 5 + [1.0] * 300
    first, second = storms_in(hours(*wet))
    assert (len(first.hours), second.first_hour) == (300, 1305)


@given(st.lists(st.sampled_from([0.0, 0.0, 0.0, None, 0.5, 4.0]), max_size=1500))
def test_every_wet_hour_is_in_one_storm_and_none_is_too_long(rain_mm):
    table = hours(*rain_mm)
    found = storms_in(table, least_mm=0)
    numbers = [hour.number for storm in found for hour in storm.hours]
    assert len(numbers) == len(set(numbers))
    assert {hour.number for hour in table if hour.rain_mm} <= set(numbers)
    assert all(len(storm.hours) <= LONGEST_H for storm in found)
    assert all(storm.hours[0].rain_mm and storm.hours[-1].rain_mm for storm in found)
    assert sum(storm.rain_mm for storm in found) == sum(mm or 0 for mm in rain_mm)
