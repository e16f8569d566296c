"""Times as stations write them: the year first (ISO 8601), or the day or the month first, which only the numbers tell apart.

The forms are those stations commonly write (common practice, no source).
"""

import re
from collections.abc import Iterable
from datetime import datetime
from typing import Final, NamedTuple

YEAR_FIRST: Final = "year_first"
DAY_FIRST: Final = "day_first"
MONTH_FIRST: Final = "month_first"
DATE_ORDERS = (YEAR_FIRST, DAY_FIRST, MONTH_FIRST)
_YEAR_LAST = re.compile(
    r"(\d{1,2})([./-])(\d{1,2})\2(\d{4})(?:,?\s+|T)(\d{1,2}):(\d{2})(?::(\d{2}))?\s*([ap])?\.?\s*(?(8)m\.?)\Z",
    re.IGNORECASE,
)


class Order(NamedTuple):
    """The order of day, month and year in a table; `sure` once a number above 12 has told day from month."""

    order: str
    sure: bool


def read_time(text: str, order: str) -> datetime | None:
    """Return the time a cell holds; None if it holds none. Times with the year first are read in any order.

    order: one of DATE_ORDERS, which says what the first of two numbers before the year is.
    """
    try:
        return datetime.fromisoformat(text)
    except ValueError:
        pass
    found = _YEAR_LAST.match(text)
    if found is None or order == YEAR_FIRST:
        return None
    first, _, second, year, hour, minute, second_of, half = found.groups()
    day, month = (first, second) if order == DAY_FIRST else (second, first)
    try:
        at = datetime(int(year), int(month), int(day), _hour(int(hour), half), int(minute), int(second_of or 0))
    except ValueError:
        return None
    return at


def _hour(hour: int, half: str | None) -> int:
    """Return the hour of the day; raises ValueError for the 13th hour of half a day."""
    if half is None:
        return hour
    if not 1 <= hour <= 12:
        raise ValueError(hour)
    return hour % 12 + (12 if half.lower() == "p" else 0)


def order_of(texts: Iterable[str]) -> Order:
    """Return the order in which times are written; the day first where nothing tells it from the month."""
    undecided = False
    for text in texts:
        found = _YEAR_LAST.match(text)
        if found is None:
            continue
        undecided = True
        if int(found[1]) > 12:
            return Order(DAY_FIRST, sure=True)
        if int(found[3]) > 12:
            return Order(MONTH_FIRST, sure=True)
    return Order(DAY_FIRST, sure=False) if undecided else Order(YEAR_FIRST, sure=True)
