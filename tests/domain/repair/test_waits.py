"""What is laid on which day: lifts, coats and washes in their order, and the defect that is through last."""

from datetime import date, timedelta

from makegood.domain.repair.waits import coats_of, curing_coats, frost_free_days, last_day, waits_of
from makegood.science.curing import curing_plan
from makegood.science.laid import laid_coats
from makegood.science.range import exactly, spread
from tests.domain.repair.test_whole import BOOK, reckoned, square, ticket


def mix(kind, damp, interval):
    """A mix that waits about so many days."""
    around = {"damp_days": damp, "interval_days": interval, "frost_free_days": 9}
    return {"kind": kind, "hazards": [], **{key: spread(days - 1, days, days + 1) for key, days in around.items()}}


MIXES = {"a": mix("plaster", 3, 6), "b": mix("plaster", 7.5, 5), "w": mix("wash", 1, 1)}
LAYERS = [
    {"mix": key, "part": part, "thickness_mm": 10, "lifts": lifts, "wet_l": exactly(5)}
    for key, part, lifts in (("a", "dub_out", 2), ("b", "coat", 1), ("w", "coat", 1), ("w", "coat", 1))
]


def test_waits_follow_the_longer_of_damp_time_and_interval():
    waits = waits_of(laid_coats(LAYERS, MIXES), MIXES)
    assert [(one.mix, one.times, one.starts_days["likely"]) for one in waits] == [("a", 2, 0), ("b", 1, 12), ("w", 2, 20)]
    assert [one.first_n for one in waits] == [None, 1, 2]
    assert waits[0].thickness_mm == 5
    assert last_day(waits)["likely"] == 12 + 8 + 1 + 1


def test_last_lift_may_wait_longer_than_those_before_it():
    waits = waits_of(laid_coats(LAYERS, MIXES, [{"wait": "filling", "days": exactly(42)}]), MIXES)
    assert (waits[0].next_days["likely"], waits[0].after_days["likely"]) == (6, 42)
    assert waits[1].starts_days["likely"] == 6 + 42


def test_waits_and_the_dated_plan_agree_day_by_day():
    for method in ("patch_three_coats", "dub_out_then_coats", "limewash", "recob_in_lifts"):
        coats = coats_of(reckoned([square(1, 0.5)], ticket(method=method)), BOOK["mixes"])
        start = date(2026, 4, 1)
        plan = curing_plan(start, curing_coats(coats, BOOK["mixes"]))
        laid = [step.likely for step in plan.steps if step.kind == "lay"]
        waits = waits_of(coats, BOOK["mixes"])
        after = [one.starts_days["likely"] + n * one.next_days["likely"] for one in waits for n in range(one.times)]
        assert [start + timedelta(days=days) for days in after] == laid, method
        frost = next(step.likely for step in plan.steps if step.kind == "frost_free_until")
        assert start + timedelta(days=frost_free_days(coats, BOOK["mixes"])["likely"]) == frost


def test_defect_that_is_through_last_is_told():
    shallow, deep = square(0.5, 0.3), square(3, 0.3)
    deep.readings[0].update(depth_mean_mm=90, depth_max_mm=110)
    row = ticket(method="dub_out_then_coats")
    both = coats_of(reckoned([shallow, deep], row), BOOK["mixes"])
    assert both == coats_of(reckoned([deep], row), BOOK["mixes"])
    assert len(both) > len(coats_of(reckoned([shallow], row), BOOK["mixes"]))
    assert coats_of(reckoned([], row), BOOK["mixes"]) == []
