"""What each role may see and do, from shared/roles.json."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from makegood.domain.vocabulary import shared
from makegood.errors import NotAllowed

_RANK = ("reader", "helper", "surveyor", "keeper")


@dataclass(frozen=True)
class Part:
    """What a device has on a site: its role, and whether it sees only what its hand-outs cover."""

    role: str
    limited: bool = False


def roles() -> tuple[str, ...]:
    """Return the roles, the least first."""
    return _RANK


def stronger(one: str | None, other: str) -> str:
    """Return the role that may do more."""
    return max((one or other, other), key=_RANK.index)


def together(held: Part | None, offered: Part) -> Part:
    """Return what a device has after another link: the role that may do more.

    A reader and a hand-out's helper each see or do what the other may not; of these two the later link counts, so that
    nobody gets more than a keeper ever offered.
    """
    if held is None:
        return offered
    if offered.limited:
        return offered if held.role == "reader" else held
    return offered if held.limited else Part(stronger(held.role, offered.role))


def visible_types(role: str) -> tuple[str, ...]:
    """Return the row types a role gets to see."""
    return tuple(_role(role)["see"])


def may(role: str | None, deed: str, row_type: str) -> bool:
    """Tell whether a role may `make`, `edit` or `drop` rows of a type; no role may nothing."""
    return role is not None and row_type in _role(role)[deed]


def may_step(role: str, kind: str) -> bool:
    """Tell whether a role may add this step to a ticket."""
    return kind in _role(role)["steps"]


def sees_originals(role: str) -> bool:
    """Tell whether a role may fetch a photo as it was taken, with its place."""
    return bool(_role(role)["originals"])


def without_hidden(role: str, row_type: str, fields: Mapping[str, Any]) -> dict[str, Any]:
    """Return a row's fields as a role gets them: what it may not know is None."""
    hidden = _role(role)["hides"].get(row_type, ())
    return {name: None if name in hidden else value for name, value in fields.items()}


def limited_types() -> tuple[str, ...]:
    """Return the row types a device that came in by a hand-out may see some rows of."""
    return tuple(_limited()["see"])


def limited_makes(row_type: str) -> tuple[str, ...]:
    """Return what types of rows such a device may add a row of this type to."""
    return tuple(_limited()["makes"].get(row_type, ()))


def as_limited_sees(row_type: str, fields: Mapping[str, Any], show_place: bool) -> dict[str, Any]:
    """Return a row's fields as such a device gets them; exact places only where the keeper shows them."""
    hidden = {*_limited()["hides"].get(row_type, ())}
    if not show_place:
        hidden |= {*_limited()["place"].get(row_type, ())}
    return {name: None if name in hidden else value for name, value in fields.items()}


def check_leads(role: str | None) -> None:
    """Refuse whoever may not let others in or send them away; raises NotAllowed."""
    if role is None or not may_invite(role):
        raise NotAllowed(
            "not_allowed",
            "Only a keeper of the site may invite others and see its devices. Ask one of them.",
            {"site_id": "not allowed"},
        )


def may_invite(role: str) -> bool:
    """Tell whether a role may let others in."""
    return bool(_role(role)["invite"])


def _role(role: str) -> dict[str, Any]:
    found: dict[str, Any] = shared("roles")["roles"][role]
    return found


def _limited() -> dict[str, Any]:
    found: dict[str, Any] = shared("roles")["limited"]
    return found
