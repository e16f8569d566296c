"""The plan of a work day: what always holds, for any tickets, people and weather."""

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from makegood.errors import BadInput
from makegood.science.planning.weather import judge_day
from makegood.science.planning.work_day import URGENCIES, can_do, next_coat_on, plan_work
from tests.science.planning.days import COVERS, FINE, LIME, MIXES, ask, day, job, visit, worker

SKILLS = ("anyone", "careful_beginner", "some_plastering")
HOURS = st.floats(0.1, 9).map(lambda hours: round(hours, 2))


@st.composite
def visits(draw):
    """Other work, or preparing and one to three coats."""
    if draw(st.booleans()):
        return [visit("work", draw(HOURS), skill=draw(st.sampled_from(SKILLS)))]
    coats = draw(
        st.lists(st.tuples(HOURS, st.floats(0.5, 90), st.sampled_from(sorted(MIXES))), min_size=1, max_size=3)
    )
    skill = draw(st.sampled_from(SKILLS))
    return [visit("prepare", draw(HOURS)), *(visit("lay", *coat, skill=skill) for coat in coats)]


@st.composite
def asks(draw):
    """Up to eight tickets and four people in any May."""
    jobs = [
        job(
            f"t{n}",
            *draw(visits()),
            urgency=draw(st.sampled_from(URGENCIES)),
            turn=float(n),
            wall=draw(st.sampled_from(("south", "north"))),
            place=draw(st.sampled_from(("barn", "house"))),
            left_out=draw(st.sampled_from((None, None, None, "engineer_first"))),
            wall_dry=draw(st.sampled_from((True, None, False))),
            wet_on=draw(st.sampled_from((None, "2026-04-27"))),
            covered=draw(st.booleans()),
        )
        for n in range(draw(st.integers(0, 8)))
    ]
    crew = [
        worker(f"p{n}", draw(st.floats(0, 10)), *draw(st.sets(st.sampled_from(SKILLS[1:]))))
        for n in range(draw(st.integers(0, 4)))
    ]
    weather = [
        day(on, draw(st.sampled_from((None, -1, 4, 9))), 18, draw(st.sampled_from((None, 0, 0, 0, 4))))
        for on in range(1, draw(st.integers(1, 25)))
    ]
    return ask(jobs, crew, forecast=weather, days=draw(st.integers(1, 30)))


def blocks_of(plan):
    """Each block with its date."""
    return [(on["on"], block) for on in plan["days"] for block in on["blocks"]]


@given(asks())
@settings(max_examples=150, deadline=None)
def test_nobody_works_more_than_their_hours_nor_twice_at_once(given):
    for planned in plan_work(given)["days"]:
        for n, person in enumerate(given["crew"]):
            own = sorted((b["from_h"], b["to_h"]) for b in planned["blocks"] if b["worker"] == n)
            assert sum(to - at for at, to in own) <= person["hours"] + 1e-6
            assert all(to <= person["hours"] + 1e-6 for _, to in own)
            assert all(own[k][1] <= own[k + 1][0] + 1e-9 for k in range(len(own) - 1))


@given(asks())
@settings(max_examples=150, deadline=None)
def test_everybody_has_the_skill_and_engineer_first_is_never_planned(given):
    plan = plan_work(given)
    jobs = {one["id"]: one for one in given["jobs"]}
    for _, block in blocks_of(plan):
        assert can_do(
            given["crew"][block["worker"]], jobs[block["job"]]["visits"][block["visit"]]["skill"], COVERS
        )
        assert jobs[block["job"]]["left_out"] is None
    for one in given["jobs"]:
        if one["left_out"]:
            assert {"job": one["id"], "code": "engineer_first"} in plan["left_out"]


@given(asks())
@settings(max_examples=150, deadline=None)
def test_each_ticket_is_planned_or_left_out_with_a_reason_and_no_visit_is_done_twice(given):
    plan = plan_work(given)
    worked, left = {block["job"] for _, block in blocks_of(plan)}, [one["job"] for one in plan["left_out"]]
    assert len(left) == len(set(left))
    assert worked | set(left) == {one["id"] for one in given["jobs"]}
    assert not worked & set(left)
    assert all(one["code"] for one in plan["left_out"])
    for one in given["jobs"]:
        for n, asked in enumerate(one["visits"]):
            spent = sum(
                b["to_h"] - b["from_h"]
                for _, b in blocks_of(plan)
                if (b["job"], b["visit"]) == (one["id"], n)
            )
            assert spent <= asked["hours"]["likely"] + 1e-6
            whole = one["id"] in worked and one["id"] not in plan["goes_on"]
            assert not whole or spent == pytest.approx(asked["hours"]["likely"])


@given(asks())
@settings(max_examples=150, deadline=None)
def test_urgency_is_never_passed_over_without_a_reason(given):
    plan = plan_work(given)
    rank = {one["id"]: URGENCIES.index(one["urgency"]) for one in given["jobs"]}
    last = {}
    for on, block in blocks_of(plan):
        last[block["job"]] = on
    left = {one["job"] for one in plan["left_out"]}
    for planned in plan["days"]:
        here = {block["job"] for block in planned["blocks"]}
        said = {one["job"] for one in planned["waits"]}
        for more in rank:
            open_still = more not in left and (more in plan["goes_on"] or last[more] > planned["on"])
            if open_still and more not in here and any(rank[less] > rank[more] for less in here):
                assert more in said


@given(asks())
@settings(max_examples=150, deadline=None)
def test_waits_and_the_gate_are_kept(given):
    plan = plan_work(given)
    jobs = {one["id"]: one for one in given["jobs"]}
    forecast = {one["on"]: one for one in given["forecast"]}
    laid = {}
    for on, block in blocks_of(plan):
        one = jobs[block["job"]]
        coat = one["visits"][block["visit"]]["coat"]
        before = [when for (name, n), when in laid.items() if name == one["id"] and n < block["visit"]]
        assert all(date.fromisoformat(on) >= next_coat_on(when, LIME) for when in before)
        if coat:
            laid[one["id"], block["visit"]] = date.fromisoformat(on)
            assert judge_day(one, coat, date.fromisoformat(on), forecast).stop is None


@given(asks())
@settings(max_examples=150, deadline=None)
def test_all_that_is_laid_is_mixed_in_batches_that_fit(given):
    plan = plan_work(given)
    jobs = {one["id"]: one for one in given["jobs"]}
    for planned in plan["days"]:
        wanted = 0.0
        for block in planned["blocks"]:
            one = jobs[block["job"]]["visits"][block["visit"]]
            share = (block["to_h"] - block["from_h"]) / one["hours"]["likely"]
            wanted += sum(portion["litres"] * share for portion in one["portions"])
        assert sum(batch["litres"] for batch in planned["batches"]) == pytest.approx(wanted, abs=1e-5)
        for batch in planned["batches"]:
            ways = MIXES[batch["mix"]]
            assert batch["litres"] <= ways["container_l"] + 1e-6
            assert batch["until_h"] - batch["at_h"] <= ways["working_h"] + 1e-6
            assert {jobs[name]["place"] for name in batch["jobs"]} == {batch["place"]}


@given(asks())
@settings(max_examples=50, deadline=None)
def test_the_same_question_has_the_same_answer_whatever_the_order_of_tickets(given):
    assert plan_work({**given, "jobs": given["jobs"][::-1]}) == plan_work(given)


def test_two_coats_come_after_prepared_wall_and_wait():
    one = job("a", visit("prepare", 1), visit("lay", 1.5, 20), visit("lay", 1, 8))
    plan = plan_work(ask([one], [worker("Ada")]))
    assert [on["on"] for on in plan["days"]] == ["2026-05-01", "2026-05-09"]
    assert plan["days"][0]["blocks"] == [
        {"worker": 0, "job": "a", "visit": 0, "from_h": 0, "to_h": 1},
        {"worker": 0, "job": "a", "visit": 1, "from_h": 1, "to_h": 2.5},
    ]


def test_the_next_coat_waits_for_the_longer_of_interval_and_damp_curing():
    on = date(2026, 5, 1)
    assert next_coat_on(on, LIME) == on + timedelta(days=8)
    assert next_coat_on(on, {**LIME, "damp_days": {"low": 9, "likely": 9.5, "high": 12}}) == on + timedelta(
        days=10
    )


def test_people_are_kept_for_what_fewer_can_do():
    cover = job("cover", visit("work", 2), urgency="make_safe_now")
    coat = job("coat", visit("lay", 4, 30, skill="some_plastering"))
    plan = plan_work(ask([cover, coat], [worker("Ada", 6, "some_plastering"), worker("Ben")]))
    assert {(b["worker"], b["job"]) for b in plan["days"][0]["blocks"]} == {(0, "coat"), (1, "cover")}


def test_one_prepares_while_the_other_lays():
    coats = [job(name, visit("prepare", 1), visit("lay", 1, 9, skill="some_plastering")) for name in "ab"]
    plan = plan_work(ask(coats, [worker("Ada", 6, "some_plastering"), worker("Ben")]))
    at = {(b["job"], b["visit"]): (b["worker"], b["from_h"]) for b in plan["days"][0]["blocks"]}
    assert at == {("a", 0): (1, 0), ("a", 1): (0, 1), ("b", 0): (1, 1), ("b", 1): (0, 2)}


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"start": "2026-02-30"}, "date_refused"),
        ({"days": 0}, "out_of_range"),
        ({"days": 91}, "out_of_range"),
        ({"crew": [worker("Ada", 25)]}, "hours_refused"),
        ({"crew": [worker("Ada", float("nan"))]}, "hours_refused"),
        ({"jobs": [job("a", visit("work", 0))]}, "hours_refused"),
        ({"forecast": [*FINE[1:], day(1, 9, 300)], "jobs": [job("a", visit("lay", 1, 5))]}, "out_of_range"),
    ],
)
def test_what_cannot_be_planned_is_refused(change, code):
    with pytest.raises(BadInput) as refused:
        plan_work({**ask([], [worker("Ada")]), **change})
    assert refused.value.code == code
