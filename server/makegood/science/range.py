"""A number that is not known exactly: its low, likely and high value, and the few sums that keep their order.

Valid for quantities that are never negative, as all amounts of material are.
Source: own derivation (interval sums end by end).
"""

from collections.abc import Iterable
from typing import TypedDict


class Range(TypedDict):
    """Low, likely and high value of one quantity, low <= likely <= high, in the unit its key names."""

    low: float
    likely: float
    high: float


def spread(low: float, likely: float, high: float) -> Range:
    """Return the range of three values given in order."""
    return {"low": low, "likely": likely, "high": high}


def exactly(value: float) -> Range:
    """Return the range of a value taken as certain."""
    return spread(value, value, value)


def times(one: Range, other: Range) -> Range:
    """Multiply two ranges end by end; right for quantities >= 0."""
    return spread(one["low"] * other["low"], one["likely"] * other["likely"], one["high"] * other["high"])


def scaled(one: Range, factor: float) -> Range:
    """Multiply a range by a number >= 0."""
    return times(one, exactly(factor))


def plus(one: Range, other: Range) -> Range:
    """Add two ranges end by end: the cautious sum, as if all went wrong together."""
    return spread(one["low"] + other["low"], one["likely"] + other["likely"], one["high"] + other["high"])


def total(ranges: Iterable[Range]) -> Range:
    """Add ranges end by end; nothing at all is exactly 0."""
    result = exactly(0.0)
    for one in ranges:
        result = plus(result, one)
    return result


def one_and(share: Range) -> Range:
    """Return 1 + share, the factor by which a loss or a bulking swells an amount."""
    return plus(exactly(1.0), share)


def around(loose: float, likely: float, tight: float) -> Range:
    """Return the range of one quantity reckoned in three states, whichever way it moves between them."""
    return spread(min(loose, likely, tight), likely, max(loose, likely, tight))
