"""What a synced row is, and whether what a phone sends can become one, by shared/records.json."""

import math
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from functools import cache, cached_property
from typing import Any, NamedTuple

from makegood.domain.vocabulary import choices, shared
from makegood.errors import BadInput

_UUID = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}")
_SHA256 = re.compile(r"[0-9a-f]{64}")
_WORD = re.compile(r"[a-z0-9_]{1,60}")
_FIRST_DAY = date(1900, 1, 1)
_MAX_LIST = 200


class Key(NamedTuple):
    """Where a row is found."""

    type: str
    site_id: str
    id: str


@dataclass(frozen=True)
class Row:
    """One synced row.

    `fv` keeps the last writer of each field as [rev, device, at, op]; rev 0 means "in this very push".
    """

    type: str
    site_id: str
    id: str
    fields: dict[str, Any]
    fv: dict[str, list[Any]] = field(default_factory=dict)
    rev: int = 0
    deleted: bool = False
    made_at: str = ""
    made_by: str = ""
    made_on_device: str = ""

    @cached_property
    def key(self) -> Key:
        """Where this row is found."""
        return Key(self.type, self.site_id, self.id)


def types() -> dict[str, Any]:
    """Return the row types and their fields as shared/records.json has them."""
    found: dict[str, Any] = shared("records")["types"]
    return found


def fields_of(row_type: str) -> dict[str, dict[str, Any]]:
    """Return the fields of a row type."""
    found: dict[str, dict[str, Any]] = types()[row_type]["fields"]
    return found


def is_append_only(row_type: str) -> bool:
    """Tell whether rows of this type are never edited or dropped."""
    return bool(types()[row_type].get("append_only"))


def is_uuid(value: object) -> bool:
    """Tell whether a value is an id as phones make them."""
    return isinstance(value, str) and bool(_UUID.fullmatch(value))


def check_fields(row_type: str, given: Mapping[str, object], is_new: bool, today: date) -> dict[str, Any]:
    """Return the fields in the form they are kept in; a new row gets None for what was left out.

    Raises BadInput with the code of the first refusal met.
    """
    known = fields_of(row_type)
    for name in given:
        if name not in known:
            raise BadInput(
                "unknown_field",
                f"This server knows no “{name[:40]}” on a {row_type}.",
                {name[:40]: "unknown"},
            )
        if known[name].get("server"):
            raise BadInput(
                "server_only", f"Only the server sets “{name}” on a {row_type}.", {name: "server only"}
            )
    needed = [name for name, spec in known.items() if spec.get("need") and (given.get(name) is None)]
    missing = [name for name in needed if is_new or name in given]
    if missing:
        raise BadInput(
            "missing_field",
            f"Fill in what is missing: {', '.join(missing)}.",
            dict.fromkeys(missing, "missing"),
        )
    checked = {name: _check(name, known[name], value, today) for name, value in given.items()}
    return {**dict.fromkeys(known), **checked} if is_new else checked


def _check(name: str, spec: Mapping[str, Any], value: object, today: date) -> Any:
    return None if value is None else _KINDS[spec["kind"]](name, spec, value, today)


def refuse(name: str, sentence: str, code: str = "bad_value") -> BadInput:
    """Return the refusal of one field."""
    return BadInput(code, f"{name}: {sentence}", {name: sentence})


def read_instant(text: object) -> datetime | None:
    """Return an ISO 8601 instant that names its zone, in UTC; None if it is not one."""
    if not isinstance(text, str) or len(text) > 40:
        return None
    try:
        read = datetime.fromisoformat(text)
        return read.astimezone(UTC) if read.tzinfo else None
    except (ValueError, OverflowError):
        return None


def write_instant(instant: datetime) -> str:
    """Return an instant as it is kept and sent: UTC, to the millisecond."""
    return instant.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


def _check_day(name: str, day: date, today: date) -> None:
    if not _FIRST_DAY <= day <= today + timedelta(days=1):
        raise refuse(
            name, f"{day.isoformat()} is not a day between 1900 and tomorrow; check the date.", "date_refused"
        )


def _date(name: str, _spec: Mapping[str, Any], value: object, today: date) -> str:
    try:
        day = date.fromisoformat(value) if isinstance(value, str) and len(value) == 10 else None
    except ValueError:
        day = None
    if day is None:
        raise refuse(name, "give a date as YYYY-MM-DD.")
    _check_day(name, day, today)
    return day.isoformat()


def _instant(name: str, _spec: Mapping[str, Any], value: object, today: date) -> str:
    instant = read_instant(value)
    if instant is None:
        raise refuse(name, "give date, time and zone as in 2026-11-25T09:12:04Z.")
    _check_day(name, instant.date(), today)
    return write_instant(instant)


def _text(name: str, spec: Mapping[str, Any], value: object, _today: date) -> str:
    if not isinstance(value, str) or not is_clean(value):
        raise refuse(name, "give plain text.")
    if len(value) > spec["max"]:
        sentence = f"{len(value)} characters are too many; keep it to {spec['max']}."
        raise refuse(name, sentence, "text_too_long")
    if spec.get("need") and not value.strip():
        raise refuse(name, "write something here.", "missing_field")
    if name == "of_id" and not is_uuid(value):
        raise refuse(name, "give the id of a row.")
    if name == "sha256" and not _SHA256.fullmatch(value):
        raise refuse(name, "give 64 hexadecimal digits in lower case.")
    return value


def is_clean(text: str) -> bool:
    """Tell whether every database can keep this text: no NUL, no half of a surrogate pair."""
    return "\x00" not in text and (text.isascii() or not any("\ud800" <= letter <= "\udfff" for letter in text))


def as_number(value: object) -> float | None:
    """Return a finite number, or None for anything else; true and false are no numbers."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    try:
        number = float(value)
    except OverflowError:
        return None
    return number if math.isfinite(number) else None


def _number(name: str, spec: Mapping[str, Any], value: object, _today: date) -> float:
    number = as_number(value)
    if number is None or not spec.get("min", -math.inf) <= number <= spec.get("max", math.inf):
        raise refuse(name, f"give a number from {spec.get('min')} to {spec.get('max')}.")
    return number


def _integer(name: str, spec: Mapping[str, Any], value: object, today: date) -> int:
    number = _number(name, spec, value, today)
    if not number.is_integer():
        raise refuse(name, "give a whole number.")
    return int(number)


def _flag(name: str, _spec: Mapping[str, Any], value: object, _today: date) -> bool:
    if not isinstance(value, bool):
        raise refuse(name, "give true or false.")
    return value


def _choice(name: str, spec: Mapping[str, Any], value: object, _today: date) -> str:
    allowed = _allowed(spec["of"]) if isinstance(spec["of"], str) else spec["of"]
    if not isinstance(value, str) or value not in allowed:
        raise refuse(name, f"choose one of: {', '.join(sorted(allowed))}.")
    return value


@cache
def _allowed(name: str) -> frozenset[str]:
    return choices(name)


def _ref(name: str, _spec: Mapping[str, Any], value: object, _today: date) -> str:
    if not is_uuid(value):
        raise refuse(name, "give the id of a row.")
    return str(value)


def _json(name: str, spec: Mapping[str, Any], value: object, _today: date) -> Any:
    check = _SHAPES.get(spec["shape"])
    return check(name, value) if check else value


def _signs(name: str, value: object) -> list[str]:
    if not isinstance(value, list) or not all(
        isinstance(one, str) and one in choices("signs") for one in value
    ):
        raise refuse(name, f"give a list out of: {', '.join(sorted(choices('signs')))}.")
    return list(dict.fromkeys(value))


def _defect_ids(name: str, value: object) -> list[str]:
    ids = value if isinstance(value, list) else []
    if not 1 <= len(ids) <= _MAX_LIST or not all(is_uuid(one) for one in ids) or len(set(ids)) < len(ids):
        raise refuse(name, f"name 1 to {_MAX_LIST} defects, each once.")
    return ids


def _bags(name: str, value: object) -> dict[str, Any]:
    if (
        not isinstance(value, dict)
        or len(value) > _MAX_LIST
        or not all(_is_bag(k, v) for k, v in value.items())
    ):
        raise refuse(
            name, "give each material its bag_kg (0.001 to 2000) and its price (0 or more, or null)."
        )
    return value


def _is_bag(material: object, bag: object) -> bool:
    if not isinstance(material, str) or not _WORD.fullmatch(material):
        return False
    if not isinstance(bag, dict) or not set(bag) <= {"bag_kg", "price"}:
        return False
    price = bag.get("price")
    return _within(bag.get("bag_kg"), 0.001, 2000) and (price is None or _within(price, 0, 1e9))


def _within(value: object, low: float, high: float) -> bool:
    number = as_number(value)
    return number is not None and low <= number <= high


# The other shapes lie on a wall: domain/building.py checks them, as it knows surfaces.
_SHAPES: dict[str, Callable[[str, object], Any]] = {"signs": _signs, "defect_ids": _defect_ids, "bags": _bags}
_KINDS: dict[str, Callable[[str, Mapping[str, Any], object, date], Any]] = {
    "text": _text,
    "number": _number,
    "integer": _integer,
    "flag": _flag,
    "choice": _choice,
    "date": _date,
    "instant": _instant,
    "ref": _ref,
    "json": _json,
}
