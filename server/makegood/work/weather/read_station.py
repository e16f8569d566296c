"""Read a weather station's table for a site: its columns, what is wrong with it line by line, and the storms in it.

Nothing is kept: the person chooses which spells were storms, and their rows come as any other change.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import Any
from zoneinfo import ZoneInfo

from makegood.domain.roles import may
from makegood.errors import BadInput, NotAllowed, NotFound
from makegood.science.scales import beaufort, classify
from makegood.science.weather.clock import zone_named
from makegood.science.weather.columns import Guess, guess_columns
from makegood.science.weather.notices import Notice
from makegood.science.weather.storms import APART_H, LEAST_MM, StormHours, storms_in
from makegood.science.weather.table import Hour, Layout, WeatherTable, hour_start, read_weather
from makegood.science.weather.told import totals_of
from makegood.store.device import Device

# The wettest that are given back; ten wet years hold far more, and nobody walked round after each.
MOST_SPELLS = 200
SCALE = "rain_ams"
_DIGITS = 4
# What is wrong with the table as a whole is told in the same way as what is wrong with a row; these are no such thing.
_REFUSED_AT_ONCE = frozenset({"zone_unknown", "weather_not_text"})


@dataclass(frozen=True)
class StationWish:
    """What the person says of the table; what is None is guessed. `keep_good`: go on without the rows left out."""

    layout: dict[str, str | None]
    zone: str = "UTC"
    apart_h: int = APART_H
    keep_good: bool = False


def check_may_log(device: Device, site_id: str) -> None:
    """Refuse whoever may not log storms on this site; raises NotFound or NotAllowed."""
    role = device.grants.get(site_id)
    if role is None:
        raise NotFound("site_unknown", "There is no such site in what this device may see.")
    if site_id in device.limited or not may(role, "make", "storm"):
        raise NotAllowed("not_allowed", "Your role on this site may look at storms, but not log them.")


def read_station(content: bytes, wish: StationWish) -> dict[str, Any]:
    """Return columns, troubles and spells of a table; raises BadInput for what is no text, or an unknown zone."""
    zone = zone_named(wish.zone)
    lines = _text(content).splitlines()
    guess = guess_columns(lines)
    given = {name: value for name, value in wish.layout.items() if value}
    layout = replace(guess.layout, zone=wish.zone, **given)
    answer = {"columns": _columns(guess, layout, given), "zone": wish.zone}
    try:
        if not lines:
            raise BadInput("weather_empty", "The table is empty. Choose the file that holds the hours.")
        table = read_weather(lines, layout)
    except BadInput as fault:
        if fault.code in _REFUSED_AT_ONCE:
            raise
        return {**answer, **_unread(fault)}
    return {**answer, **_read(table, wish, zone)}


def _text(content: bytes) -> str:
    if content[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return content.decode("utf-16", errors="replace")
    if b"\x00" in content:
        raise BadInput("weather_not_text", "Give a comma-separated text table with a heading.")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return content.decode("cp1252", errors="replace")


def _columns(guess: Guess, layout: Layout, given: dict[str, str]) -> dict[str, Any]:
    names = ("time", "wind", "wind_from", "rain", "wind_unit", "rain_unit", "date_order", "station", "station_is")
    return {
        "all": guess.columns,
        "stations": guess.stations,
        "wind_unit_sure": guess.wind_unit_sure or "wind_unit" in given,
        "rain_unit_sure": guess.rain_unit_sure or "rain_unit" in given,
        "date_order_sure": guess.date_order_sure or "date_order" in given,
        **{name: getattr(layout, name) for name in names},
    }


def _unread(fault: BadInput) -> dict[str, Any]:
    trouble = {"code": fault.code, "say": fault.message, "line": 1, "lines": [1], "count": 1, "left_out": True}
    return {"hours": 0, "first": None, "last": None, "troubles": [trouble], "spells": [], "spells_left_out": 0}


def _read(table: WeatherTable, wish: StationWish, zone: ZoneInfo) -> dict[str, Any]:
    troubles = [_trouble(one) for one in table.notices]
    waiting = not wish.keep_good and any(one["left_out"] for one in troubles)
    found = [] if waiting else storms_in(table.hours, wish.apart_h, LEAST_MM)
    wettest = {one.first_hour for one in sorted(found, key=lambda one: -one.rain_mm)[:MOST_SPELLS]}
    return {
        "hours": len(table.hours),
        "first": _instant(table.hours[0].number),
        "last": _instant(table.hours[-1].number),
        "troubles": troubles,
        "spells": [_spell(one, zone) for one in found if one.first_hour in wettest],
        "spells_left_out": max(0, len(found) - MOST_SPELLS),
    }


def _trouble(notice: Notice) -> dict[str, Any]:
    return {
        "code": notice.code,
        "say": notice.say,
        "line": notice.lines[0],
        "lines": notice.lines,
        "count": notice.count,
        "left_out": notice.left_out,
    }


def _instant(hour: int) -> str:
    return f"{hour_start(hour).isoformat(timespec='seconds')}Z"


def _spell(storm: StormHours, zone: ZoneInfo) -> dict[str, Any]:
    hours = storm_row_hours(storm)
    totals = totals_of(hours)
    peak_mm_h = max(mm or 0.0 for mm in hours["rain_mm"])
    wind = totals["wind_m_s"]
    worst = dict(zip(("rain_1h_mm", "rain_24h_mm", "rain_96h_mm"), totals["worst_mm"], strict=True))
    begun = datetime.fromisoformat(hours["from"]).astimezone(zone)
    return {
        "from": hours["from"],
        "on": begun.date().isoformat(),
        "hours": hours,
        "duration_h": len(storm.hours),
        "rain_mm": totals["rain_mm"],
        **worst,
        "wind_m_s": wind,
        "wind_from_deg": totals["wind_from_deg"],
        "wind_top_m_s": _top(storm.hours),
        "missing_h": totals["missing_h"],
        "peak_mm_h": peak_mm_h,
        "scale": SCALE,
        "class": classify(SCALE, peak_mm_h).name,
        "beaufort": None if wind is None else beaufort(wind),
    }


def _top(hours: Sequence[Hour]) -> float | None:
    return max((hour.wind_m_s for hour in hours if hour.wind_m_s is not None), default=None)


def storm_row_hours(storm: StormHours) -> Any:
    """Return the hours of a storm as its row holds them."""
    return {
        "from": hour_start(storm.first_hour).replace(tzinfo=UTC).isoformat().replace("+00:00", "Z"),
        "rain_mm": [_rounded(hour.rain_mm) for hour in storm.hours],
        "wind_m_s": [_rounded(hour.wind_m_s) for hour in storm.hours],
        "from_deg": [_rounded(hour.wind_from_deg) for hour in storm.hours],
    }


def _rounded(figure: float | None) -> float | None:
    return None if figure is None else round(figure, _DIGITS)
