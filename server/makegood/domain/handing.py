"""The json fields of work days, hand-outs, steps and storms: lists of ids, crews, forecasts, amounts used, hours."""

import re
from collections.abc import Callable, Mapping
from datetime import date
from typing import Any

from makegood.domain.row import as_number, is_uuid, read_instant, refuse

_WORD = re.compile(r"[a-z0-9_]{1,60}")
_MOST_IDS, _MOST_PEOPLE, _MOST_DAYS, _MOST_HOURS, _MOST_WORDS = 200, 50, 60, 400, 100
_ANSWERS = ("ok", "not_ok", "not_looked")
_HOURLY = {"rain_mm": (0, 500), "wind_m_s": (0, 120), "from_deg": (0, 360)}


def check_ids(name: str, value: object) -> list[str]:
    """Return up to 200 row ids, each once; refuses anything else."""
    ids = value if isinstance(value, list) else None
    if ids is None or len(ids) > _MOST_IDS or not all(map(is_uuid, ids)) or len(set(ids)) < len(ids):
        raise refuse(name, f"name at most {_MOST_IDS} rows by their ids, each once.")
    return ids


def check_crew(name: str, value: object) -> list[dict[str, Any]]:
    """Return `[{"person", "hours", "skills": [...]}]`: who comes, for how long, and what each can do."""
    if not isinstance(value, list) or len(value) > _MOST_PEOPLE or not all(map(_is_worker, value)):
        raise refuse(
            name, f"give at most {_MOST_PEOPLE} people, each with a name, hours from 0 to 24 and skills."
        )
    return value


def _is_worker(one: object) -> bool:
    if not isinstance(one, dict) or not set(one) <= {"person", "hours", "skills"}:
        return False
    person, skills = one.get("person"), one.get("skills", [])
    named = isinstance(person, str) and len(person) <= 120
    return named and _within(one.get("hours"), 0, 24) and _is_words(skills)


def _is_words(value: object) -> bool:
    return isinstance(value, list) and len(value) <= _MOST_WORDS and all(map(_is_word, value))


def _is_word(value: object) -> bool:
    return isinstance(value, str) and bool(_WORD.fullmatch(value))


def check_forecast(name: str, value: object) -> list[dict[str, Any]]:
    """Return `[{"on", "low_c", "high_c", "rain_mm"}]` by day, each figure a number or None for not known."""
    if not isinstance(value, list) or len(value) > _MOST_DAYS or not all(map(_is_day, value)):
        raise refuse(
            name, f"give at most {_MOST_DAYS} days, each with a date, low_c, high_c and rain_mm or null."
        )
    return value


def _is_day(one: object) -> bool:
    if not isinstance(one, dict) or not set(one) <= {"on", "low_c", "high_c", "rain_mm"}:
        return False
    limits = {"low_c": (-60, 60), "high_c": (-60, 60), "rain_mm": (0, 2000)}
    return _is_date(one.get("on")) and all(_null_or_within(one.get(k), *v) for k, v in limits.items())


def _is_date(value: object) -> bool:
    try:
        return isinstance(value, str) and len(value) == 10 and bool(date.fromisoformat(value))
    except ValueError:
        return False


def check_used(name: str, value: object) -> dict[str, Any]:
    """Return `{material: {"kg" | "l" | "m2" | "each": number}}`: what really went into a repair."""
    if (
        not isinstance(value, dict)
        or len(value) > _MOST_WORDS
        or not all(map(_is_amount, value, value.values()))
    ):
        raise refuse(name, "give each material one amount, as kg, l, m2 or each, from 0 to 100000.")
    return value


def _is_amount(material: object, amount: object) -> bool:
    if not _is_word(material) or not isinstance(amount, dict) or len(amount) != 1:
        return False
    ((unit, number),) = amount.items()
    return unit in ("kg", "l", "m2", "each") and _within(number, 0, 100_000)


def check_checks(name: str, value: object) -> dict[str, str]:
    """Return `{check: "ok" | "not_ok" | "not_looked"}`: how each point of a second look came out."""
    if not isinstance(value, dict) or len(value) > _MOST_WORDS:
        raise refuse(name, "give each point that was looked at its answer.")
    if not all(_is_word(key) and answer in _ANSWERS for key, answer in value.items()):
        raise refuse(name, f"answer each point with one of: {', '.join(_ANSWERS)}.")
    return value


def check_hours(name: str, value: object) -> dict[str, Any]:
    """Return `{"from": instant, "rain_mm": [...], "wind_m_s": [...], "from_deg": [...]}`, an hour apart, equally long.

    At most 400 hours; None is "not recorded", never "dry".
    """
    if not isinstance(value, dict) or set(value) != {"from", *_HOURLY} or read_instant(value["from"]) is None:
        raise refuse(name, "give from, rain_mm, wind_m_s and from_deg.")
    columns = [value[column] for column in _HOURLY]
    if not all(isinstance(one, list) and 1 <= len(one) <= _MOST_HOURS for one in columns):
        raise refuse(name, f"give 1 to {_MOST_HOURS} hours.")
    if len({len(one) for one in columns}) > 1:
        raise refuse(name, "give rain, wind and direction for the same hours.")
    for column, limits in _HOURLY.items():
        if not all(_null_or_within(one, *limits) for one in value[column]):
            raise refuse(
                name, f"give {column} from {limits[0]} to {limits[1]}, or null where it was not recorded."
            )
    return value


def _within(value: object, low: float, high: float) -> bool:
    number = as_number(value)
    return number is not None and low <= number <= high


def _null_or_within(value: object, low: float, high: float) -> bool:
    return value is None or _within(value, low, high)


CHECKS: Mapping[str, Callable[[str, object], object]] = {
    "ids": check_ids,
    "crew": check_crew,
    "forecast": check_forecast,
    "used": check_used,
    "checks": check_checks,
    "hours": check_hours,
}
