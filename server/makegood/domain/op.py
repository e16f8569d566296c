"""One op as a phone sends it: whether it can be read at all."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import repeat
from typing import Any

from makegood.domain.row import is_clean, is_uuid, read_instant, types, write_instant
from makegood.errors import BadInput

PUT, DROP = "put", "del"
_DEEPEST = 12
_MAX_REV = 2**53


@dataclass(frozen=True)
class Op:
    """A readable op; whether it may be done is another question. `at` is what the phone's clock said."""

    op: str
    type: str
    id: str
    site: str
    kind: str
    base: int
    at: str
    set: Mapping[str, Any]


def op_id_of(raw: object) -> str | None:
    """Return the op id of whatever came in, if it has a usable one."""
    found = raw.get("op") if isinstance(raw, dict) else None
    return found if is_uuid(found) else None


def read_op(raw: object) -> Op:
    """Return the op; raises BadInput with bad_op or unknown_type."""
    if not isinstance(raw, dict):
        raise _unreadable("it is no change at all", "op")
    for name in ("op", "id", "site"):
        if not is_uuid(raw.get(name)):
            raise _unreadable("an id is missing or malformed", name)
    if not isinstance(raw.get("type"), str) or raw["type"] not in types():
        raise BadInput(
            "unknown_type",
            "This server does not know this kind of change; it may need an update.",
            {"type": "unknown"},
        )
    if raw.get("kind") not in (PUT, DROP):
        raise _unreadable("it neither puts nor deletes", "kind")
    base = raw.get("base")
    if isinstance(base, bool) or not isinstance(base, int) or not 0 <= base < _MAX_REV:
        raise _unreadable("it does not say what its editor saw", "base")
    return Op(
        raw["op"], raw["type"], raw["id"], raw["site"], raw["kind"], base, _read_at(raw), _read_set(raw)
    )


def _read_at(raw: Mapping[str, object]) -> str:
    at = read_instant(raw.get("at"))
    if at is None:
        raise _unreadable("its time is missing or malformed", "at")
    return write_instant(at)


def _read_set(raw: Mapping[str, object]) -> dict[str, Any]:
    given = raw.get("set", {} if raw.get("kind") == DROP else None)
    if not isinstance(given, dict) or not _is_plain(given, _DEEPEST):
        raise _unreadable("its fields are missing, nested too deeply or hold text that cannot be kept", "set")
    return given


def _is_plain(value: object, depth: int) -> bool:
    # One comparison for each of most values: every field of every op passes here.
    kind = type(value)
    if kind is str:
        return is_clean(value)  # type: ignore[arg-type]
    if kind is float:
        return math.isfinite(value)  # type: ignore[arg-type]
    if kind is dict or kind is list:
        return depth > 0 and _holds_plain(value, depth - 1)  # type: ignore[arg-type]
    return value is None or kind is bool or kind is int


def _holds_plain(found: dict[object, object] | list[object], depth: int) -> bool:
    if isinstance(found, list):
        return all(map(_is_plain, found, repeat(depth)))
    return all(map(_is_plain, found, repeat(0))) and all(map(_is_plain, found.values(), repeat(depth)))


def _unreadable(why: str, name: str) -> BadInput:
    return BadInput("bad_op", f"This change could not be read: {why}. It stays on your phone.", {name: why})


