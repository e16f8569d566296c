"""Spells and running totals of one face."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from makegood.science.weather.spells import HourlyDose, spells, worst_within

doses = st.dictionaries(st.integers(0, 2000), st.floats(0.002, 50), min_size=1).map(
    lambda by_hour: HourlyDose(sorted(by_hour), [by_hour[hour] for hour in sorted(by_hour)], [])
)


def test_spell_counts_what_lies_in_it():
    [spell] = spells(HourlyDose([10, 11, 20], [1.0, 2.0, 4.0], [12, 13, 90]))
    assert spell == (10, 20, 7.0, 3, 2, True)


def test_spell_that_ends_in_unknown_hours_is_not_surely_over():
    first, second = spells(HourlyDose([0, 100], [1.0, 2.0], [50]))
    assert (first.sure_end, first.missing_hours) == (True, 0)
    first, second = spells(HourlyDose([0, 100], [1.0, 2.0], [50, 51, 52, 53]))
    assert not first.sure_end
    assert second.sure_end


def test_face_that_stayed_dry_has_no_spell_and_no_worst():
    dry = HourlyDose([], [], [3])
    assert spells(dry) == []
    assert worst_within(dry, 24) is None


@pytest.mark.parametrize(("length_h", "last_hour", "l_m2"), [(1, 30, 5.0), (24, 30, 9.0), (96, 30, 12.0)])
def test_worst_totals(length_h, last_hour, l_m2):
    worst = worst_within(HourlyDose([0, 7, 30], [3.0, 4.0, 5.0], [8]), length_h)
    assert (worst.last_hour, worst.l_m2) == (last_hour, l_m2)
    assert worst.missing_hours == (0 if length_h == 1 else 1)


@given(doses)
def test_spells_share_out_the_whole_dose(dose):
    found = spells(dose)
    assert sum(spell.l_m2 for spell in found) == pytest.approx(sum(dose.l_m2))
    assert sum(spell.wet_hours for spell in found) == len(dose.hours)
    for earlier, later in pairwise(found):
        assert later.first_hour - earlier.last_hour > 96


@given(doses, st.integers(1, 200))
def test_worst_total_is_the_greatest_of_all_windows(dose, length_h):
    by_hour = dict(zip(dose.hours, dose.l_m2, strict=True))
    windows = [
        sum(l_m2 for at, l_m2 in by_hour.items() if hour - length_h < at <= hour) for hour in dose.hours
    ]
    worst = worst_within(dose, length_h)
    assert worst.l_m2 == pytest.approx(max(windows))


@given(doses)
def test_longer_windows_never_hold_less(dose):
    one, day, days = (worst_within(dose, length_h).l_m2 for length_h in (1, 24, 96))
    assert one == max(dose.l_m2)
    assert one <= day * (1 + 1e-12)
    assert day <= days * (1 + 1e-12)
