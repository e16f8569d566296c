"""Coats to dated steps."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from makegood.errors import BadInput
from makegood.science.curing import CuringCoat, curing_plan
from makegood.science.range import exactly, spread

START = date(2026, 4, 1)
DAYS = st.lists(st.floats(0, 60), min_size=3, max_size=3).map(lambda days: spread(*sorted(days)))


def coat(
    thickness_mm=10, rich=0.5, stipple=False, damp=(2, 3, 4), interval=(5, 7, 10), frost_free=(14, 21, 28)
):
    mix = {"kind": "plaster", "rich": rich, "stipple": stipple, "coverage_m2_per_l": None, "coat_mm": None}
    return CuringCoat(thickness_mm, mix, spread(*damp), spread(*interval), spread(*frost_free))


def on(day: int) -> date:
    return START + timedelta(days=day)


def dates(plan, kind: str) -> list[tuple[date, date, date]]:
    return [step[2:] for step in plan.steps if step.kind == kind]


def test_one_coat():
    plan = curing_plan(START, [coat()])
    assert [step.kind for step in plan.steps] == ["lay", "damp_until", "check", "frost_free_until", "check"]
    assert dates(plan, "lay") == [(START, START, START)]
    assert dates(plan, "damp_until") == [(on(2), on(3), on(4))]
    assert dates(plan, "frost_free_until") == [(on(14), on(21), on(28))]
    assert dates(plan, "check") == [(on(7),) * 3, (on(30),) * 3]


def test_next_coat_waits_for_the_longer_of_interval_and_damp_curing():
    assert dates(curing_plan(START, [coat(), coat()]), "lay")[1] == (on(5), on(7), on(10))
    slow = coat(damp=(6, 8, 14))
    assert dates(curing_plan(START, [slow, coat()]), "lay")[1] == (on(6), on(8), on(14))


def test_frost_stays_away_until_the_coat_that_minds_longest():
    plan = curing_plan(START, [coat(frost_free=(60, 60, 60)), coat(frost_free=(1, 1, 1))])
    assert dates(plan, "frost_free_until") == [(on(60), on(60), on(60))]


def test_checks_count_from_the_last_coat():
    assert dates(curing_plan(START, [coat(), coat()], (28,)), "check") == [(on(33), on(35), on(38))]


def test_part_days_are_rounded_up():
    assert dates(curing_plan(START, [coat(damp=(0.5, 1.1, 2))]), "damp_until") == [(on(1), on(2), on(2))]


def test_long_waits_are_taken():
    plan = curing_plan(START, [coat(interval=(30, 45, 90)), coat()])
    assert dates(plan, "lay")[1] == (on(30), on(45), on(90))


def test_leap_day_counts():
    plan = curing_plan(date(2028, 2, 28), [coat(damp=(1, 2, 2))])
    assert dates(plan, "damp_until")[0][:2] == (date(2028, 2, 29), date(2028, 3, 1))


@pytest.mark.parametrize(
    ("stack", "warnings"),
    [
        ([coat(12, 0.5), coat(8, 0.4)], []),
        ([coat(12, 0.4), coat(8, 0.5)], ["richer_than_below"]),
        ([coat(8, 0.5), coat(12, 0.5)], ["thicker_than_below"]),
        ([coat(4, 0.7, stipple=True), coat(12, 0.5)], []),
    ],
)
def test_stack_that_breaks_the_rules_is_warned_of_not_stopped(stack, warnings):
    plan = curing_plan(START, stack)
    assert plan.warnings == warnings
    assert len(dates(plan, "lay")) == len(stack)


@given(st.lists(st.tuples(DAYS, DAYS, DAYS), min_size=1, max_size=5))
def test_dates_stand_in_order(waits):
    mix = coat().mix
    plan = curing_plan(START, [CuringCoat(10, mix, *wait) for wait in waits])
    assert all(START <= step.earliest <= step.likely <= step.latest for step in plan.steps)
    laid = dates(plan, "lay")
    assert laid == sorted(laid)
    assert [step.likely for step in plan.steps] == sorted(step.likely for step in plan.steps)


@pytest.mark.parametrize(
    ("start", "coats", "code"),
    [
        (START, [], "no_coats"),
        (START, [coat(damp=(-1, 0, 0))], "days_refused"),
        (START, [coat(damp=(0, 0, 1000))], "days_refused"),
        (START, [coat(damp=(3, 2, 1))], "days_refused"),
        (date.max, [coat()], "date_refused"),
    ],
)
def test_what_cannot_be_planned_is_refused(start, coats, code):
    with pytest.raises(BadInput) as refused:
        curing_plan(start, coats)
    assert refused.value.code == code


def test_certain_days_give_one_date():
    mix = coat().mix
    plan = curing_plan(START, [CuringCoat(10, mix, exactly(3), exactly(7), exactly(21))])
    assert dates(plan, "damp_until") == [(on(3),) * 3]
