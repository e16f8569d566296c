"""Rates of wear, cover left, years and storms until breach."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from makegood.errors import BadInput
from makegood.science.erosion import DatedDepth, WornFace, erosion, pooled_wear

START = date(2020, 1, 1)


def look(years: float, mean_mm: float, deepest_mm: float, l_m2: float | None = None) -> DatedDepth:
    return DatedDepth(START + timedelta(days=years * 365.25), mean_mm, deepest_mm, l_m2)


def test_coat_of_22_mm_that_lost_6_in_three_years_has_eight_left():
    # The worked figure of the professional rule: 2 mm a year, 16 mm left.
    worn = erosion([look(0, 0, 0), look(4, 8, 8)], 24).mean
    assert worn.mm_per_year["likely"] == pytest.approx(2)
    assert worn.left_mm == 16
    assert worn.years.likely == pytest.approx(8)


def test_three_calendar_years_count_as_three_to_a_thousandth():
    worn = erosion([DatedDepth(date(2020, 1, 1), 0, 0), DatedDepth(date(2023, 1, 1), 6, 6)], 22)
    assert worn.mean.years.likely == pytest.approx(8, rel=1e-3)


@pytest.mark.parametrize(("deepest_mm", "breached"), [(21.9, False), (22, True), (40, True)])
def test_breached_as_soon_as_the_deepest_reaches_the_coat(deepest_mm, breached):
    worn = erosion([look(0, 0, 0), look(3, 6, deepest_mm)], 22)
    assert worn.breached is breached
    assert worn.mean.left_mm == 16
    assert worn.deepest.left_mm == pytest.approx(max(0, 22 - deepest_mm))


def test_doses_like_the_last_storm_until_breach():
    # 10 mm by 100 L/m2 is 0.1 mm per L/m2; 10 mm left stand 100 L/m2, four storms of 25.
    worn = erosion([look(0, 0, 0), look(1, 2, 10, l_m2=100)], 20, last_storm_l_m2=25)
    assert worn.deepest.mm_per_l_m2["likely"] == pytest.approx(0.1)
    assert worn.deepest.doses.likely == pytest.approx(4)
    # The reading error of 1 mm at both ends: 0.12 and 0.08 mm per L/m2.
    assert worn.deepest.doses.low == pytest.approx(10 / 25 / 0.12)
    assert worn.deepest.doses.high == pytest.approx(10 / 25 / 0.08)


def test_range_spans_the_slowest_and_the_fastest_time_between_two_looks():
    worn = erosion([look(0, 0, 0), look(4, 4, 4), look(8, 24, 24)], 50).mean
    rates = [worn.mm_per_year[end] for end in ("low", "likely", "high")]
    assert rates == pytest.approx([1, 3, 5])
    assert worn.years == pytest.approx((26 / 5, 26 / 3, 26))


def test_high_is_open_when_the_slowest_rate_is_no_wear():
    worn = erosion([look(0, 0, 0), look(1, 1, 1)], 20).mean
    assert worn.mm_per_year["low"] == 0
    assert worn.years.high is None


def test_rate_by_rain_needs_the_rain_of_every_time_between():
    depths = [look(0, 0, 0), look(1, 2, 4, l_m2=50), look(2, 4, 8)]
    assert erosion(depths, 20, 25).deepest.mm_per_l_m2 is None
    assert erosion(depths, 20, 25).deepest.doses is None


@pytest.mark.parametrize(
    ("depths", "warnings"),
    [
        ([look(0, 2, 4)], ["one_depth_only"]),
        ([look(0, 2, 4), look(1, 1, 4)], ["depth_fell"]),
        ([look(0, 2, 4), look(1, 2, 3)], ["depth_fell"]),
    ],
)
def test_no_rate_where_none_can_be_told(depths, warnings):
    worn = erosion(depths, 20, 10)
    assert worn.warnings == warnings
    assert worn.mean[:2] == (None, None)
    assert worn.deepest.years is None
    assert worn.deepest.left_mm == 20 - depths[-1].deepest_mm


def test_no_wear_seen_gives_no_end():
    worn = erosion([look(0, 2, 4), look(1, 2, 4)], 20)
    assert worn.warnings == ["no_wear_seen"]
    assert worn.deepest.years is None


def test_looks_may_come_in_any_order():
    depths = [look(0, 0, 0), look(1, 2, 4), look(2, 5, 9)]
    assert erosion(depths[::-1], 20) == erosion(depths, 20)


@given(st.floats(0.1, 10), st.floats(0, 300), st.floats(0.1, 300), st.floats(0.1, 10))
def test_rate_does_not_depend_on_the_scale_of_depth(years, first, more, factor):
    def rate(by: float) -> float:
        depths = [
            look(0, first * by, first * by),
            look(round(years, 2), (first + more) * by, (first + more) * by),
        ]
        return erosion(depths, 2000, reading_error_mm=0).mean.mm_per_year["likely"]

    if (first + more) * factor <= 2000:
        assert rate(factor) == pytest.approx(rate(1) * factor)


@given(st.floats(0.5, 10), st.floats(0, 100), st.floats(0, 100))
def test_figures_stand_in_order(years, first, more):
    worn = erosion([look(0, first, first), look(years, first + more, first + more)], 300).mean
    assert worn.mm_per_year["low"] <= worn.mm_per_year["likely"] <= worn.mm_per_year["high"]
    if worn.years:
        assert worn.years.low <= worn.years.likely
        assert worn.years.high is None or worn.years.likely <= worn.years.high


@pytest.mark.parametrize(
    ("reckon", "code"),
    [
        (lambda: erosion([], 20), "no_depths"),
        (lambda: erosion([look(0, 5, 4)], 20), "depth_refused"),
        (lambda: erosion([look(0, -1, 4)], 20), "depth_refused"),
        (lambda: erosion([look(0, 1, float("nan"))], 20), "depth_refused"),
        (lambda: erosion([look(0, 1, 2), look(0, 2, 3)], 20), "date_twice"),
        (lambda: erosion([look(0, 1, 2)], 0), "coat_refused"),
        (lambda: erosion([look(0, 1, 2)], 20, -1), "dose_refused"),
        (lambda: erosion([look(0, 1, 2, -1)], 20), "dose_refused"),
        (lambda: erosion([look(0, 1, 2)], 20, reading_error_mm=-1), "dose_refused"),
        (lambda: pooled_wear([]), "no_depths"),
        (lambda: pooled_wear([WornFace(1, 1, 1, "flooded")]), "no_depths"),
        (lambda: pooled_wear([WornFace(0, 1, 1)]), "depth_refused"),
    ],
)
def test_what_cannot_be_reckoned_is_refused(reckon, code):
    with pytest.raises(BadInput) as refused:
        reckon()
    assert refused.value.code == code
