"""Hourly weather as people export it, to clean hours: what is missing stays missing, what is false is named.

Rows hold `time, wind_m_s, wind_from_deg, rain_mm`, or other column names and units by layout. Nothing is
filled in: an hour without a reading is a gap, never a dry hour.
Limits for false readings are own choices (common practice, no source) unless a constant says otherwise.
"""

import csv
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise
from math import isfinite
from typing import NamedTuple

from makegood.errors import BadInput
from makegood.science.weather.clock import EPOCH, HOUR, Clock
from makegood.science.weather.dates import YEAR_FIRST, read_time
from makegood.science.weather.notices import Noted, Notice

# Exact by definition: the mile is 1609.344 m, the nautical mile 1852 m, the inch 25.4 mm.
WIND_UNITS_M_S = {"m/s": 1.0, "mph": 0.44704, "kn": 1852 / 3600, "km/h": 1 / 3.6}
RAIN_UNITS_MM = {"mm": 1.0, "inch": 25.4}
_UNITS = {*WIND_UNITS_M_S, *RAIN_UNITS_MM}
WIND_HEADERS = {"wind_m_s": "m/s", "wind_mph": "mph", "wind_kn": "kn", "wind_km_h": "km/h"}
RAIN_HEADERS = {"rain_mm": "mm", "rain_inch": "inch"}

DOUBTFUL_WIND_M_S = 75.0
FALSE_WIND_RATIO = 3.0
# The strongest gust measured near the ground is about 113 m/s (from memory); no hourly mean can be more.
IMPOSSIBLE_WIND_M_S = 120.0
# The most rain measured in one hour is about 305 mm (from memory).
DOUBTFUL_RAIN_MM = 305.0
# Longer than any hourly series; a date mistyped by centuries would make a gap of millions of hours.
LONGEST_YEARS = 200

_NOT_GIVEN = {"", "na", "nan", "null", "none", "m", "-", "--"}
_VARIABLE = {"vrb", "var", "variable", "990", "990.0", "999", "999.0"}
_TRACE = {"t", "trace"}
_REGULAR_STEPS = 5


@dataclass(frozen=True)
class Layout:
    """Column names and units of a weather table.

    A wind or rain column left as None is looked for under `wind_m_s`, `wind_mph`, `wind_kn`, `wind_km_h` and
    `rain_mm`, `rain_inch`; its unit then comes from that name unless given here. zone: the IANA name for times
    without an offset. Of a table of several stations, only rows with `station_is` under `station` are read.
    date_order: one of dates.DATE_ORDERS.
    """

    time: str = "time"
    wind_from: str = "wind_from_deg"
    wind: str | None = None
    rain: str | None = None
    wind_unit: str | None = None
    rain_unit: str | None = None
    delimiter: str = ","
    zone: str | None = None
    station: str | None = None
    station_is: str | None = None
    date_order: str = YEAR_FIRST


class Hour(NamedTuple):
    """One hour: `number` counts from 1970-01-01 00:00 in the table's own clock; None is not recorded."""

    number: int
    wind_m_s: float | None
    wind_from_deg: float | None
    rain_mm: float | None


@dataclass(frozen=True)
class WeatherTable:
    """Hours in time order, none twice, and what was left out on the way."""

    hours: tuple[Hour, ...]
    notices: tuple[Notice, ...]


@dataclass
class _Row:
    line: int
    hour: int
    wind: float | None
    wind_from: float | None
    rain: float | None


def read_weather(lines: Iterable[str], layout: Layout | None = None) -> WeatherTable:
    """Return the clean hours of a comma-separated table.

    lines: text lines, the first one the heading. Times are ISO 8601 or in the layout's order, all with an offset
    (then counted in UTC) or all without; minutes are dropped. Direction 0 and 360 both mean north; a calm hour needs none.
    A wind above 75 m/s that is also more than 3 times the next lower one, or any above 120 m/s, is set aside.
    Raises: BadInput `column_missing`, `unit_unknown`, `zone_unknown`, `weather_empty`, `weather_not_text`,
    `weather_not_hourly`, `weather_too_long`, `time_offsets_mixed`, `rain_not_recorded` (no rain column, no
    reading in it, or nothing but zeros), `wind_not_recorded`.
    Source: own rules; the false wind rule follows a real table that holds one wind of 1,048 mph (next 42.6).
    """
    noted = Noted()
    rows = list(_rows(lines, layout or Layout(), noted))
    if not rows:
        raise BadInput("weather_empty", "The table holds no hour that can be read; check the time column.")
    _set_false_winds_aside(rows, noted)
    hours = _in_order(rows, noted)
    _require_hourly(hours, len(rows))
    _require_readings(hours)
    return WeatherTable(hours, noted.notices())


def _rows(lines: Iterable[str], layout: Layout, noted: Noted) -> Iterator[_Row]:
    reader = csv.reader(lines, skipinitialspace=True, delimiter=layout.delimiter)
    aware: bool | None = None
    clock = Clock(layout.zone)
    try:
        columns = _Columns.find([name.strip().lstrip("\ufeff") for name in next(reader, [])], layout)
        for cells in reader:
            line = reader.line_num
            at = _row_time(cells, columns, layout.date_order, noted, line) if columns.is_here(cells, layout.station_is) else None
            if at is None:
                continue
            aware = _same_clock(aware, at)
            hour, told = clock.hour_of(at)
            if told:
                noted.note(told, line)
            if hour is not None:
                yield _row(cells, columns, hour, noted, line)
    except csv.Error as fault:
        raise BadInput("weather_not_text", "Give a comma-separated text table with a heading.") from fault


def _row_time(cells: list[str], columns: "_Columns", order: str, noted: Noted, line: int) -> datetime | None:
    if not cells:
        return None
    if len(cells) <= max(columns.time, columns.wind, columns.wind_from, columns.rain):
        noted.note("row_too_short", line)
        return None
    at = read_time(cells[columns.time].strip(), order)
    if at is None:
        noted.note("time_not_understood", line)
    return at


def _row(cells: list[str], columns: "_Columns", hour: int, noted: Noted, line: int) -> _Row:
    return _Row(
        line,
        hour,
        _wind(columns.figure(cells[columns.wind], columns.wind_unit, noted, line), columns.wind_factor, noted, line),
        _direction(cells[columns.wind_from].strip(), noted, line),
        _rain(columns.figure(cells[columns.rain], columns.rain_unit, noted, line), columns.rain_factor, noted, line),
    )


class _Columns(NamedTuple):
    time: int
    wind: int
    wind_from: int
    rain: int
    wind_factor: float
    rain_factor: float
    wind_unit: str
    rain_unit: str
    station: int | None
    comma: bool

    def is_here(self, cells: list[str], station_is: str | None) -> bool:
        return self.station is None or (len(cells) > self.station and cells[self.station].strip() == station_is)

    def figure(self, cell: str, unit: str, noted: Noted, line: int) -> str:
        """Return what stands in a cell without its unit, with a decimal point; nothing if the unit differs."""
        cell = cell.strip()
        if self.comma:
            cell = cell.replace(",", ".")
        number, _, carried = cell.partition(" ")
        if not carried or carried == unit or carried not in _UNITS:
            return number if carried == unit else cell
        noted.note("unit_differs", line)
        return ""

    @staticmethod
    def find(heading: list[str], layout: Layout) -> "_Columns":
        wind, wind_factor, wind_unit = _measured(heading, (layout.wind, layout.wind_unit), WIND_HEADERS, WIND_UNITS_M_S)
        try:
            rain, rain_factor, rain_unit = _measured(
                heading, (layout.rain, layout.rain_unit), RAIN_HEADERS, RAIN_UNITS_MM
            )
        except BadInput as fault:
            if fault.code != "column_missing":
                raise
            raise _rain_not_recorded() from fault
        return _Columns(
            _position(heading, layout.time),
            wind,
            _position(heading, layout.wind_from),
            rain,
            wind_factor,
            rain_factor,
            wind_unit,
            rain_unit,
            None if layout.station is None else _position(heading, layout.station),
            layout.delimiter != ",",
        )


def _measured(
    heading: list[str],
    wanted: tuple[str | None, str | None],
    headers: dict[str, str],
    units: dict[str, float],
) -> tuple[int, float, str]:
    """Return position, factor to the unit inside, and unit of one measured column."""
    column, unit = wanted
    usual = next(iter(headers))
    name = column or next((name for name in headers if name in heading), usual)
    unit = unit or headers.get(name) or headers[usual]
    if unit not in units:
        raise BadInput("unit_unknown", f"Use one of these units: {', '.join(units)}.", {name: unit})
    return _position(heading, name), units[unit], unit


def _position(heading: list[str], name: str) -> int:
    if name not in heading:
        raise BadInput(
            "column_missing",
            f"The table has no column {name}; name the column that holds it.",
            {name: "missing"},
        )
    return heading.index(name)


def _same_clock(aware: bool | None, at: datetime) -> bool:
    now_aware = at.tzinfo is not None
    if aware is not None and aware != now_aware:
        raise BadInput(
            "time_offsets_mixed",
            "Write all times with an offset such as Z or +02:00, or all without.",
            {"time": "mixed"},
        )
    return now_aware


def hour_start(hour: int) -> datetime:
    """Return the beginning of an hour number, in the table's own clock (UTC if its times had offsets)."""
    return EPOCH + hour * HOUR


def _number(cell: str, noted: Noted, line: int) -> float | None:
    if cell.lower() in _NOT_GIVEN:
        return None
    try:
        number = float(cell)
    except ValueError:
        number = float("nan")
    if not isfinite(number):
        noted.note("number_not_understood", line)
        return None
    return number


def _wind(cell: str, factor: float, noted: Noted, line: int) -> float | None:
    wind = _number(cell, noted, line)
    if wind is None:
        return None
    if wind < 0:
        noted.note("wind_negative", line)
        return None
    return wind * factor


def _direction(cell: str, noted: Noted, line: int) -> float | None:
    if cell.lower() in _VARIABLE:
        noted.note("direction_variable", line)
        return None
    direction = _number(cell, noted, line)
    if direction is not None and not 0 <= direction <= 360:
        noted.note("direction_false", line)
        return None
    return direction


def _rain(cell: str, factor: float, noted: Noted, line: int) -> float | None:
    if cell.lower() in _TRACE:
        noted.note("rain_trace", line)
        return 0.0
    rain = _number(cell, noted, line)
    if rain is None:
        return None
    if rain < 0:
        noted.note("rain_negative", line)
        return None
    if rain * factor > DOUBTFUL_RAIN_MM:
        noted.note("rain_doubtful", line)
    return rain * factor


def _set_false_winds_aside(rows: list[_Row], noted: Noted) -> None:
    limit = _false_wind_above(sorted({row.wind for row in rows if row.wind is not None}, reverse=True))
    for row in rows:
        if row.wind is None or row.wind <= DOUBTFUL_WIND_M_S:
            continue
        if row.wind > limit:
            noted.note("wind_false", row.line)
            row.wind = None
        else:
            noted.note("wind_doubtful", row.line)


def _false_wind_above(falling: list[float]) -> float:
    """Return the wind above which readings are false, from the distinct winds in falling order [m/s]."""
    limit = IMPOSSIBLE_WIND_M_S
    for higher, lower in pairwise(falling):
        if higher <= DOUBTFUL_WIND_M_S:
            break
        if higher > FALSE_WIND_RATIO * lower:
            limit = min(limit, lower)
    return limit


def _in_order(rows: list[_Row], noted: Noted) -> tuple[Hour, ...]:
    by_hour: dict[int, _Row] = {}
    last = rows[0].hour
    latest: int | None = None
    for row in rows:
        if latest is not None and row.hour < latest:
            noted.note("time_goes_back", row.line)
        latest = row.hour
        if row.hour in by_hour:
            noted.note("hour_twice", row.line)
        else:
            if by_hour and row.hour > last + 1:
                noted.note("hours_missing", row.line)
            last = max(last, row.hour)
            by_hour[row.hour] = row
    return tuple(Hour(hour, r.wind, r.wind_from, r.rain) for hour, r in sorted(by_hour.items()))


def _require_hourly(hours: tuple[Hour, ...], rows: int) -> None:
    """Refuse shorter or longer steps: the hourly sum is not linear in rain, so it would come out wrong."""
    steps = {later.number - earlier.number for earlier, later in pairwise(hours)}
    if hours[-1].number - hours[0].number > LONGEST_YEARS * 8766:
        raise BadInput(
            "weather_too_long",
            f"The hours span more than {LONGEST_YEARS} years; check the dates.",
            {"time": "span"},
        )
    too_long = len(hours) > _REGULAR_STEPS and min(steps) > 1 and len(steps) == 1
    if too_long or (rows > _REGULAR_STEPS and rows >= 2 * len(hours)):
        raise BadInput(
            "weather_not_hourly",
            "Give one row for each hour: add up shorter steps; for longer ones use the storm's total.",
            {"time": "not hourly"},
        )


def _rain_not_recorded() -> BadInput:
    return BadInput(
        "rain_not_recorded",
        "Rain is not recorded in this table (no column, no reading, or nothing but zeros); that does not "
        "mean it was dry. Give another table, or the storm's total rain.",
        {"rain_mm": "not recorded"},
    )


def _require_readings(hours: tuple[Hour, ...]) -> None:
    if not any(hour.rain_mm for hour in hours):
        raise _rain_not_recorded()
    if all(hour.wind_m_s is None for hour in hours):
        raise BadInput(
            "wind_not_recorded",
            "Wind is not recorded in this table; give another one, or the storm's mean wind.",
            {"wind_m_s": "not recorded"},
        )
