"""A new step on a ticket: legal where the ticket stands now, and after everything already done to it."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta
from typing import cast

from makegood.domain.row import read_instant, write_instant
from makegood.domain.ticket import TicketStates, TicketStep, legal, state_of
from makegood.domain.vocabulary import shared
from makegood.errors import BadInput, NotAllowed

_SECOND_LOOKS = ("checked", "rechecked")


@dataclass(frozen=True)
class Doer:
    """Who made a step: the person's name, and the device it was made on."""

    person: str
    device: str

    def is_same_as(self, other: "Doer") -> bool:
        """Tell whether both are one person as far as anybody can know: one device, or one name."""
        return self.device == other.device or is_same_name(self.person, other.person)


def is_same_name(name: str, other: str) -> bool:
    """Tell whether two names are one as people write them, case and spaces aside."""
    return _folded(name) == _folded(other)


def _folded(name: str) -> str:
    return " ".join(name.casefold().split())


def last_done(steps: Sequence[TicketStep]) -> str | None:
    """Return the id of the step that says last that the repair is done."""
    done = [(one.at, one.id) for one in steps if one.kind == "done"]
    return max(done)[1] if done else None


def check_second_look(kind: str, who: Doer, did_it: Doer | None, role: str, own_work: object) -> None:
    """Refuse a check of one's own work; a keeper may make one that says so. Raises NotAllowed.

    `did_it` made the last done step; None if nobody did.
    """
    if kind not in _SECOND_LOOKS or did_it is None or not who.is_same_as(did_it):
        return
    if role == "keeper" and own_work is True:
        return
    raise NotAllowed(
        "own_work_refused",
        "Whoever did a repair cannot check it too. Ask somebody else to look; only a keeper may check their own.",
        {"kind": "own work"},
    )


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
