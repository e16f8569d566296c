"""A new step on a ticket: legal where the ticket stands now, and after everything already done to it."""

from collections.abc import Sequence
from datetime import timedelta
from typing import cast

from makegood.domain.row import read_instant, write_instant
from makegood.domain.ticket import TicketStates, TicketStep, legal, state_of
from makegood.domain.vocabulary import shared
from makegood.errors import BadInput


def place_step(steps: Sequence[TicketStep], kind: str, at: str) -> str:
    """Return the time the new step counts from; raises BadInput with illegal_step.

    A phone whose clock is behind would put its step before steps it follows, and the ticket would stand
    elsewhere than where the person saw it go. Such a step counts from one millisecond after the last one;
    its row's made_at keeps what the phone said.
    """
    states = cast(TicketStates, shared("ticket_states"))
    state = state_of(steps, states).state
    if not legal(state, kind, states):
        sentence = f"The ticket is “{state}” by now; “{kind}” cannot follow on that. Look at it again."
        raise BadInput("illegal_step", sentence, {"kind": f"the ticket is {state}"})
    last = max((one.at for one in steps), default="")
    newest = read_instant(last)
    return at if newest is None or at > last else write_instant(newest + timedelta(milliseconds=1))
