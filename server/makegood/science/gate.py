"""Why not today: what stands against laying lime or earth plaster now, each reason with a code.

Stop means do not lay; caution means lay only with care; a note changes nothing. Usual cautions only: the
maker's sheet, local practice and the person at the wall decide.
Sources: temperature with trend read, a national specification clause 497 (through an architect's
specification); 8 to 30 C read, a producer's sheet (name withheld); drying times read, Heritage Science
2021 9:143 table 6.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from makegood.errors import BadInput
from makegood.science.range import Range, spread

STOP_AT_FALLING_C = 5.0
STOP_UNDER_RISING_C = 3.0
LIME_LOWEST_C = 8.0
LIME_HIGHEST_C = 30.0
FROST_C = 0.0
# Days until a soaked adobe wall was dry; likely is the middle of a wide spread, assumed. Over 30 days is
# real.
DRYING_DAYS: Range = spread(0.2, 10.0, 31.4)
# Common practice, no source: fresh work wants a day without rain; sun or a fresh breeze dries it too fast.
RAIN_FREE_H = 24.0
DRYING_WIND_M_S = 8.0
DRYING_SUN_C = 20.0

TRENDS = ("falling", "steady", "rising")


@dataclass(frozen=True)
class Today:
    """What is known at the wall now; None is not known.

    temperature_c: air in the shade [C]; trend: falling, steady or rising; nights_c: lowest temperature of
    each coming night [C]; frost_free_days: how long this work must not freeze; wall_dry; wall_frozen: wall
    or materials; rain_in_h: hours until rain is expected, None for none in sight; covered: sheeted against
    rain and frost; sun_on_wall; wind_m_s: mean wind.
    """

    temperature_c: float
    trend: str
    nights_c: Sequence[float] = ()
    frost_free_days: float = 0.0
    wall_dry: bool | None = None
    wall_frozen: bool = False
    rain_in_h: float | None = None
    covered: bool = False
    sun_on_wall: bool = False
    wind_m_s: float | None = None


class Reason(NamedTuple):
    """One thing that stands against today: code, level (stop, caution, note), and a sentence."""

    code: str
    level: str
    say: str


class Verdict(NamedTuple):
    """The worst level met, or "go", and the reasons, worst first."""

    verdict: str
    reasons: list[Reason]


def why_not_today(today: Today) -> Verdict:
    """Return whether to lay today, and everything that stands against it.

    Steady counts as falling, the safer of the two.
    Raises: BadInput `trend_unknown`, `out_of_range`.
    Source: see the head of this file and the constants.
    """
    _check(today)
    found = [*_temperature(today), *_frost(today), *_wall(today), *_rain(today), *_sun_and_wind(today)]
    order = ("stop", "caution", "note")
    reasons = sorted(found, key=lambda reason: order.index(reason.level))
    worst = reasons[0].level if reasons and reasons[0].level != "note" else "go"
    return Verdict(worst, reasons)


def days_left_to_dry(days_since_wet: float, drying_days: Range = DRYING_DAYS) -> Range:
    """Return how many more days a soaked wall may need [days, >= 0], from the days since it was wetted.

    There is no upper limit on drying_days: over 30 days has been measured. A dry wall is told by looking,
    not by this figure.
    Raises: BadInput `out_of_range`. Source: read, 0.2 to 31.4 days, see the head of this file.
    """
    if not days_since_wet >= 0:
        raise BadInput(
            "out_of_range", "Give days since the wall got wet, zero or more.", {"days": "below zero"}
        )
    return spread(*(max(0.0, drying_days[end] - days_since_wet) for end in ("low", "likely", "high")))


def _temperature(today: Today) -> list[Reason]:
    at, rising = today.temperature_c, today.trend == "rising"
    if rising and at < STOP_UNDER_RISING_C:
        return [Reason("too_cold", "stop", "Below 3 °C: wait until it is 3 °C and rising.")]
    if not rising and at <= STOP_AT_FALLING_C:
        return [Reason("too_cold", "stop", "5 °C or less and not rising: wait for a warmer day.")]
    if at < LIME_LOWEST_C:
        return [
            Reason("cool_for_lime", "caution", "Below 8 °C: lime sets very slowly; many makers say wait.")
        ]
    if at > LIME_HIGHEST_C:
        return [
            Reason(
                "hot_for_lime",
                "caution",
                "Above 30 °C: it dries before it sets; work early, shade and mist it.",
            )
        ]
    return []


def _frost(today: Today) -> list[Reason]:
    reasons = []
    if today.wall_frozen:
        reasons.append(Reason("frozen", "stop", "Wall or materials are frozen: nothing holds on ice."))
    needed = [
        night for night, low in enumerate(today.nights_c) if night < today.frost_free_days and low <= FROST_C
    ]
    if needed:
        level = "caution" if today.covered and needed[0] > 0 else "stop"
        reasons.append(
            Reason(
                "frost_ahead", level, f"Frost in {needed[0] + 1} nights or less: it breaks up fresh plaster."
            )
        )
    elif len(today.nights_c) < today.frost_free_days:
        reasons.append(
            Reason(
                "forecast_too_short",
                "note",
                f"It must not freeze for {today.frost_free_days:g} days; the forecast ends before that.",
            )
        )
    return reasons


def _wall(today: Today) -> list[Reason]:
    if today.wall_dry is None:
        return [Reason("wall_not_looked_at", "caution", "Look and feel first: is the wall behind dry?")]
    if not today.wall_dry:
        return [
            Reason(
                "wall_not_dry",
                "stop",
                "The wall is still wet inside: wait; over 30 days can be needed after a storm.",
            )
        ]
    return []


def _rain(today: Today) -> list[Reason]:
    if today.rain_in_h is None or today.rain_in_h >= RAIN_FREE_H:
        return []
    if today.covered:
        return [
            Reason("rain_due", "caution", "Rain within a day: keep it sheeted, with air behind the sheet.")
        ]
    return [Reason("rain_due", "stop", "Rain within a day: sheet it first, or wait.")]


def _sun_and_wind(today: Today) -> list[Reason]:
    reasons = []
    if today.sun_on_wall and today.temperature_c >= DRYING_SUN_C:
        reasons.append(
            Reason("sun_on_wall", "caution", "Sun on the wall: hang shade, mist, or follow the shadow.")
        )
    if today.wind_m_s is not None and today.wind_m_s >= DRYING_WIND_M_S:
        reasons.append(
            Reason(
                "drying_wind",
                "caution",
                "A drying wind: hang damp cloth, mist often; no ladder work in gusts.",
            )
        )
    return reasons


def _check(today: Today) -> None:
    if today.trend not in TRENDS:
        raise BadInput(
            "trend_unknown", "Say whether it gets warmer: falling, steady or rising.", {"trend": today.trend}
        )
    if not -60 <= today.temperature_c <= 60:
        raise BadInput(
            "out_of_range", "Give the temperature between -60 and 60 °C.", {"temperature_c": "range"}
        )
    if today.wind_m_s is not None and not 0 <= today.wind_m_s <= 120:
        raise BadInput("out_of_range", "Give the wind between 0 and 120 m/s.", {"wind_m_s": "range"})
    if today.rain_in_h is not None and not today.rain_in_h >= 0:
        raise BadInput(
            "out_of_range", "Give the hours until rain, zero or more.", {"rain_in_h": "below zero"}
        )
