"""New steps on a ticket."""

import pytest

from makegood.domain.step import place_step
from makegood.domain.ticket import TicketStep
from makegood.errors import BadInput

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
