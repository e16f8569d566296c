"""A ticket's state follows from its steps, in whatever order they came."""

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from makegood.domain.ticket import Standing, TicketStates, TicketStep, legal, state_of
from makegood.paths import shared_dir

VECTORS = json.loads((shared_dir() / "vectors" / "ticket_state.json").read_text("utf-8"))["cases"]
STATES: TicketStates = json.loads((shared_dir() / "ticket_states.json").read_text("utf-8"))

MOVES = {
    ("open", "taken"), ("open", "done"), ("taken", "done"), ("done", "checked"),
    ("taken", "reopened"), ("done", "reopened"), ("checked", "reopened"),
}  # fmt: skip
MINUTES = st.integers(0, 5).map(lambda minute: f"2031-03-01T08:0{minute}:00Z")


@pytest.mark.parametrize("case", VECTORS, ids=[case["name"] for case in VECTORS])
def test_state_is_as_written_by_hand(case: dict[str, Any]) -> None:
    steps = [TicketStep(**step) for step in case["in"]["steps"]]
    assert state_of(steps, STATES) == Standing(case["out"]["state"], tuple(case["out"]["refused"]))


@pytest.mark.parametrize("state", ["open", "taken", "done", "checked"])
@pytest.mark.parametrize("step", ["taken", "done", "checked", "reopened", "polished"])
def test_only_the_seven_moves_are_legal(state: str, step: str) -> None:
    assert legal(state, step, STATES) is ((state, step) in MOVES)


DRAWN = st.lists(st.tuples(st.sampled_from(list(STATES["steps"])), MINUTES), max_size=8)


@given(DRAWN, st.randoms(use_true_random=False))
def test_order_of_arrival_changes_nothing(drawn: list[tuple[str, str]], random: Any) -> None:
    steps = [TicketStep(kind, at, f"s{i}") for i, (kind, at) in enumerate(drawn)]
    shuffled = random.sample(steps, len(steps))
    assert state_of(shuffled, STATES) == state_of(steps, STATES)


def test_a_time_that_cannot_be_read_is_an_error_not_a_guess() -> None:
    steps = [TicketStep("taken", "yesterday", "a"), TicketStep("done", "2031-03-01T08:00:00Z", "b")]
    with pytest.raises(ValueError, match="yesterday"):
        state_of(steps, STATES)
