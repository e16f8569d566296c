"""Where a ticket stands: its steps, folded over the moves that shared/ticket_states.json allows.

Nothing stores the state. Two phones that hold the same steps, in whatever order they came, see the same.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import TypedDict

_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_MILLISECOND = timedelta(milliseconds=1)


@dataclass(frozen=True)
class TicketStep:
    """One step: its kind, the ISO instant it was made at (checked at the door), and its id."""

    kind: str
    at: str
    id: str


# "from" is a Python keyword, so this type cannot be written as a class.
Move = TypedDict("Move", {"from": list[str], "to": str})


class TicketStates(TypedDict):
    """shared/ticket_states.json; the first state is the one a new ticket has."""

    states: list[str]
    steps: dict[str, Move]


@dataclass(frozen=True)
class Standing:
    """A ticket's state, and the ids of the steps that were not legal when their turn came."""

    state: str
    refused: tuple[str, ...]


def legal(state: str, step: str, states: TicketStates) -> bool:
    """Say whether a step of this kind may be taken from this state; an unknown kind never may."""
    move = states["steps"].get(step)
    return move is not None and state in move["from"]


def _turn(step: TicketStep) -> tuple[int, str]:
    """Order by instant and then id; whole milliseconds, because a phone's clock knows no finer."""
    at = datetime.fromisoformat(step.at)
    if at.tzinfo is None:
        at = at.replace(tzinfo=UTC)
    return (at - _EPOCH) // _MILLISECOND, step.id


def state_of(steps: Iterable[TicketStep], states: TicketStates) -> Standing:
    """Fold the steps, oldest first; a step that is not legal in its turn changes nothing."""
    state = states["states"][0]
    refused: list[str] = []
    for step in sorted(steps, key=_turn):
        if legal(state, step.kind, states):
            state = states["steps"][step.kind]["to"]
        else:
            refused.append(step.id)
    return Standing(state, tuple(refused))
