"""Whether a coat may be laid on a day, by the forecast: the gate of `science.gate`, asked for a date to come.

Model: the temperature at work is the middle of the day's low and high, taken as steady (assumed, the cautious
side); a night's low is the lower of the two dates it joins; 1 mm or more is a day with rain (assumed). What is
not known stops nobody and is said as a caution. Source: own derivation; limits as in `science.gate`.
"""

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from math import ceil
from typing import NamedTuple

from makegood.science.gate import Today, days_left_to_dry, why_not_today
from makegood.science.planning.shapes import ForecastDay, Job, Waits

RAINY_MM = 1.0
# Stands for a temperature nobody knows: one that nothing speaks against.
_MILD_C = 15.0
_RAIN_TODAY_H, _RAIN_TOMORROW_H = 0.0, 12.0


class DayAnswer(NamedTuple):
    """What stops the work on that day, None if nothing does; and what wants care."""

    stop: str | None
    cautions: list[str]


def judge_day(job: Job, coat: Waits, on: date, forecast: Mapping[str, ForecastDay]) -> DayAnswer:
    """Return whether a coat of this ticket may be laid on a date.

    forecast: by date as text. Codes are those of the gate, and `forecast_unknown`. Source: `science.gate`.
    """
    here = forecast.get(on.isoformat())
    low, high, rain = (here["low_c"], here["high_c"], here["rain_mm"]) if here else (None, None, None)
    known = low is not None and high is not None
    today = Today(
        (low + high) / 2 if low is not None and high is not None else _MILD_C,
        "steady",
        nights_c=_nights(on, ceil(coat["frost_free_days"]["likely"]), forecast),
        frost_free_days=coat["frost_free_days"]["likely"],
        wall_dry=_dry(job, on),
        rain_in_h=_rain_in_h(on, forecast),
        covered=job["covered"],
    )
    reasons = why_not_today(today).reasons
    stops = [reason.code for reason in reasons if reason.level == "stop"]
    cautions = [reason.code for reason in reasons if reason.level == "caution"]
    unknown = [] if known and rain is not None else ["forecast_unknown"]
    return DayAnswer(stops[0] if stops else None, [*cautions, *unknown])


def _nights(on: date, most: int, forecast: Mapping[str, ForecastDay]) -> Sequence[float]:
    nights: list[float] = []
    low = _low(on, forecast)
    for night in range(most):
        following = _low(on + timedelta(days=night + 1), forecast)
        if low is None:
            break
        nights.append(low if following is None else min(low, following))
        low = following
    return nights


def _low(on: date, forecast: Mapping[str, ForecastDay]) -> float | None:
    here = forecast.get(on.isoformat())
    return here["low_c"] if here else None


def _rain_in_h(on: date, forecast: Mapping[str, ForecastDay]) -> float | None:
    for days, hours in ((0, _RAIN_TODAY_H), (1, _RAIN_TOMORROW_H)):
        here = forecast.get((on + timedelta(days=days)).isoformat())
        if here and here["rain_mm"] is not None and here["rain_mm"] >= RAINY_MM:
            return hours
    return None


def _dry(job: Job, on: date) -> bool | None:
    """A wall seen wet may be dry after the likely time, but somebody has to look: then None."""
    if job["wall_dry"] is not False or job["wet_on"] is None:
        return job["wall_dry"]
    days = max(0, (on - date.fromisoformat(job["wet_on"])).days)
    return None if days_left_to_dry(days)["likely"] <= 0 else False
