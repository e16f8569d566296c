"""The json fields of a row that only its wall, or the mixes there are, can tell right from wrong."""

from collections.abc import Callable, Mapping
from typing import Any

from makegood.domain import handing
from makegood.domain.building import check_backdrop, check_coats, check_mark, check_openings, check_surface
from makegood.domain.row import fields_of, refuse
from makegood.domain.vocabulary import choices


def check_shapes(row_type: str, given: Mapping[str, Any], wall: object) -> dict[str, Any]:
    """Return fields with their shapes in the form they are kept in; `wall` is the surface they lie on."""
    known = fields_of(row_type)
    return {name: _settle(known[name].get("shape"), name, value, wall) for name, value in given.items()}


def _settle(shape: str | None, name: str, value: object, wall: object) -> object:
    if value is None:
        return value
    if shape is not None and shape in handing.CHECKS:
        return handing.CHECKS[shape](name, value)
    check = _CHECKS.get(shape or "")
    return value if check is None else check(name, value, wall)


def _coats(name: str, value: object, _wall: object) -> object:
    coats = check_coats(value)
    unknown = [str(one["mix"])[:40] for one in coats if one["mix"] not in choices("mixes")]
    if unknown:
        raise refuse(name, f"choose mixes that this server knows, not {', '.join(unknown)}.")
    return coats


_CHECKS: dict[str, Callable[[str, object, object], object]] = {
    "surface": lambda _name, value, _wall: check_surface(value),
    "mark": lambda _name, value, wall: check_mark(value, wall),
    "openings": lambda _name, value, wall: check_openings(value, wall),
    "backdrop": lambda _name, value, _wall: check_backdrop(value),
    "coats": _coats,
}
