"""What each role may see and do, from shared/roles.json."""

from collections.abc import Mapping
from typing import Any

from makegood.domain.vocabulary import shared

_RANK = ("reader", "helper", "surveyor", "keeper")


def roles() -> tuple[str, ...]:
    """Return the roles, the least first."""
    return _RANK


def stronger(one: str | None, other: str) -> str:
    """Return the role that may do more."""
    return max((one or other, other), key=_RANK.index)


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


def may_invite(role: str) -> bool:
    """Tell whether a role may let others in."""
    return bool(_role(role)["invite"])


def _role(role: str) -> dict[str, Any]:
    found: dict[str, Any] = shared("roles")["roles"][role]
    return found
