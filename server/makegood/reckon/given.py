"""What a person gave a sum to reckon with: read field by field, refused by name, nothing passed over."""

import json
import math
import sys
from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import TypeGuard

from makegood.errors import BadInput, NotFound
from makegood.science.range import Range, exactly, spread

STANDARD_INPUT = "-"
# Far beyond any wall; larger numbers only make sums overflow.
LARGEST_NUMBER = 1e15


def bad(name: str, say: str) -> BadInput:
    """Return the refusal of one field."""
    return BadInput("bad_value", say, {name: say})


def missing(name: str, say: str) -> BadInput:
    """Return the refusal of what must be there and is not."""
    return BadInput("missing_field", say, {name: "missing"})


def read_text(place: str) -> str:
    """Return the text of a file, or of standard input for "-"."""
    try:
        raw = _standard_input() if place == STANDARD_INPUT else Path(place).read_bytes()
    except FileNotFoundError as why:
        raise NotFound(
            "file_unknown", f"There is no file {place}. Check its name and folder.", {"file": place}
        ) from why
    except (OSError, ValueError) as why:
        raise BadInput(
            "file_unreadable", f"The file {place} cannot be read; check what it is.", {"file": place}
        ) from why
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as why:
        raise BadInput("file_not_text", "Give text in UTF-8.", {"file": place}) from why


def _standard_input() -> bytes:
    binary = getattr(sys.stdin, "buffer", None)
    return binary.read() if binary is not None else sys.stdin.read().encode()


def read_json(place: str) -> object:
    """Return the JSON in a file, or in standard input for "-"."""
    text = read_text(place)
    try:
        read: object = json.loads(
            text, parse_constant=_refuse_constant, parse_float=_sized, parse_int=_sized_whole
        )
    except (ValueError, RecursionError) as why:
        where = f" (line {why.lineno}, column {why.colno})" if isinstance(why, json.JSONDecodeError) else ""
        raise BadInput(
            "bad_json", f"This is not JSON{where}. Give one JSON description.", {"file": place}
        ) from why
    return read


def _refuse_constant(name: str) -> float:
    raise bad("number", f"{name} is no number that can be reckoned with; leave the field out or write null.")


def _sized(text: str) -> float:
    number = float(text)
    if not abs(number) <= LARGEST_NUMBER:
        raise bad("number", "Give numbers of at most fifteen digits before the point.")
    return number


def _sized_whole(text: str) -> int:
    _sized(text)
    return int(text)


def is_number(value: object) -> TypeGuard[float]:
    """Whether a value is a finite number and not a truth value."""
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)


class Given:
    """One JSON description; each reader takes a field's name and further names it also answers to."""

    def __init__(self, fields: object, place: str = "input") -> None:
        if not isinstance(fields, Mapping):
            raise bad(place, "Give a JSON description in braces, with a name for each value.")
        self._fields: Mapping[str, object] = fields
        self._asked: set[str] = set()

    def value(self, *names: str) -> object:
        """Return the first of these fields that is there and not null, else None."""
        self._asked.update(names)
        return next((self._fields[name] for name in names if self._fields.get(name) is not None), None)

    def number(self, *names: str) -> float | None:
        """Return a number, or None if it was not given."""
        value = self.value(*names)
        if value is None or is_number(value):
            return value
        raise bad(names[0], f"Give {names[0]} as a number.")

    def needed(self, *names: str) -> float:
        """Return a number that must be there."""
        value = self.number(*names)
        if value is None:
            raise missing(names[0], f"Give {names[0]}.")
        return value

    def text(self, *names: str) -> str | None:
        """Return words, or None if they were not given."""
        value = self.value(*names)
        if value is None or isinstance(value, str):
            return value
        raise bad(names[0], f"Give {names[0]} in quotes.")

    def flag(self, name: str) -> bool:
        """Return true or false; false if it was not given."""
        value = self.value(name)
        if value is None or isinstance(value, bool):
            return bool(value)
        raise bad(name, f"Give {name} as true or false.")

    def day(self, *names: str) -> date | None:
        """Return a date, or None if it was not given."""
        text = self.text(*names)
        if text is None:
            return None
        try:
            return date.fromisoformat(text)
        except ValueError as why:
            raise bad(names[0], f"Write {names[0]} like 2026-03-01.") from why

    def chosen(self, name: str, among: Sequence[str]) -> str | None:
        """Return one of the words a field may have, or None if it was not given."""
        text = self.text(name)
        if text is not None and text not in among:
            raise BadInput("unknown_choice", f"Choose {name} from: {', '.join(among)}.", {name: text})
        return text

    def sequence(self, *names: str) -> list[object] | None:
        """Return a list, or None if it was not given."""
        value = self.value(*names)
        if value is None or isinstance(value, list):
            return value
        raise bad(names[0], f"Give {names[0]} as a list in square brackets.")

    def numbers(self, *names: str) -> list[float] | None:
        """Return a list of numbers, or None if it was not given."""
        values = self.sequence(*names)
        if values is not None and not all(map(is_number, values)):
            raise bad(names[0], f"Give {names[0]} as a list of numbers.")
        return values  # type: ignore[return-value]

    def parts(self, *names: str) -> list["Given"] | None:
        """Return a list of descriptions, or None if it was not given."""
        values = self.sequence(*names)
        return None if values is None else [Given(value, names[0]) for value in values]

    def part(self, name: str) -> "Given | None":
        """Return a description within this one, or None if it was not given."""
        value = self.value(name)
        return None if value is None else Given(value, name)

    def range(self, *names: str) -> Range | None:
        """Return low, likely and high [>= 0], from one number or three; None if not given."""
        value = self.value(*names)
        if value is None:
            return None
        if is_number(value) and value >= 0:
            return exactly(value)
        if isinstance(value, Mapping):
            ends = [value.get(end) for end in ("low", "likely", "high")]
            low, likely, high = ends
            if is_number(low) and is_number(likely) and is_number(high) and 0 <= low <= likely <= high:
                return spread(low, likely, high)
        raise bad(
            names[0], f"Give {names[0]} as a number from 0 up, or as low, likely and high in that order."
        )

    def names(self) -> list[str]:
        """Return the names of all fields, each of which then counts as read."""
        self._asked.update(self._fields)
        return list(self._fields)

    def unread(self) -> list[str]:
        """Return a warning for each field that nothing asked for, such as a misspelt one."""
        return [f"not_used: {name}" for name in self._fields if name not in self._asked]
