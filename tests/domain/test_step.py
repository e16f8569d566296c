"""New steps on a ticket."""

import pytest

from makegood.domain.step import Doer, check_second_look, last_done, place_step
from makegood.domain.ticket import TicketStep
from makegood.errors import BadInput, NotAllowed

EIGHT, NINE = "2026-11-25T08:00:00.000Z", "2026-11-25T09:00:00.000Z"


def test_step_counts_from_its_own_time():
    assert place_step([TicketStep("taken", EIGHT, "a")], "done", NINE) == NINE


def test_step_of_a_clock_behind_counts_from_after_the_last_one():
    assert place_step([TicketStep("taken", NINE, "a")], "done", EIGHT) == "2026-11-25T09:00:00.001Z"
    assert place_step([TicketStep("taken", NINE, "a")], "done", NINE) == "2026-11-25T09:00:00.001Z"


@pytest.mark.parametrize(
    ("kinds", "step", "state"),
    [
        ([], "checked", "open"),
        (["taken"], "taken", "taken"),
        (["taken", "done", "checked"], "done", "checked"),
        ([], "reopened", "open"),
    ],
)
def test_illegal_step_is_refused_with_the_state_as_it_is(kinds, step, state):
    steps = [TicketStep(kind, f"2026-11-25T0{n}:00:00.000Z", str(n)) for n, kind in enumerate(kinds)]
    with pytest.raises(BadInput) as refused:
        place_step(steps, step, NINE)
    assert refused.value.code == "illegal_step"
    assert state in refused.value.message


ANN, BEN = Doer("Ann Lee", "phone 1"), Doer("Ben", "phone 2")


def test_last_done_is_the_newest_of_its_kind():
    steps = [TicketStep("done", NINE, "b"), TicketStep("done", EIGHT, "a"), TicketStep("reopened", NINE, "c")]
    assert last_done(steps) == "b"
    assert last_done([TicketStep("taken", NINE, "a")]) is None


@pytest.mark.parametrize("kind", ["checked", "rechecked"])
@pytest.mark.parametrize(
    "me", [ANN, Doer("Ann Lee", "phone 3"), Doer("  ann   LEE", "phone 3"), Doer("Zoe", "phone 1")]
)
@pytest.mark.parametrize(
    ("role", "own_work", "taken"),
    [("surveyor", True, False), ("surveyor", None, False), ("keeper", None, False), ("keeper", True, True)],
)
def test_nobody_checks_their_own_work_unless_a_keeper_says_so(kind, me, role, own_work, taken):
    if taken:
        check_second_look(kind, me, ANN, role, own_work)
        return
    with pytest.raises(NotAllowed) as refused:
        check_second_look(kind, me, ANN, role, own_work)
    assert refused.value.code == "own_work_refused"


def test_somebody_else_checks_and_other_steps_are_free():
    check_second_look("checked", BEN, ANN, "surveyor", None)
    check_second_look("checked", BEN, None, "surveyor", None)
    check_second_look("reopened", ANN, ANN, "helper", None)
