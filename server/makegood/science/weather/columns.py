"""Which column of a weather table holds what: guessed from its heading and its readings, for a person to confirm.

The words are those stations commonly write (common practice, no source). A unit that the heading does not name
is a guess from the readings: the finest step of a gauge in inches is 0.01, which as mm no usual gauge shows.
"""

import csv
import re
from collections.abc import Sequence
from dataclasses import dataclass

from makegood.science.weather.dates import order_of
from makegood.science.weather.table import RAIN_UNITS_MM, WIND_UNITS_M_S, Layout

_TIME = ("time_hour", "time", "timestamp", "datetime", "date_time", "valid", "fecha_hora", "date", "fecha", "hora")
_WIND = ("wind_speed", "windspeed", "wind", "wspd", "sknt", "wind_avg", "velocidad_viento", "viento", "ff")
_FROM = ("wind_from", "wind_dir", "wind_direction", "winddir", "wdir", "drct", "direccion_viento", "dir_viento", "dd")
_RAIN = ("precip", "rain", "rainfall", "precipitation", "prcp", "p01m", "p01i", "lluvia", "precipitacion", "rr")
_STATION = ("station", "origin", "site", "stn", "estacion")
_NOT_MEAN_WIND = ("gust", "max", "racha", "chill", "dir", "from", "drct")
_UNIT_WORDS = {
    "m_s": "m/s", "ms": "m/s", "mps": "m/s", "mph": "mph", "mi_h": "mph", "kn": "kn", "kt": "kn", "kts": "kn",
    "knots": "kn", "sknt": "kn", "km_h": "km/h", "kmh": "km/h", "kph": "km/h", "mm": "mm", "p01m": "mm",
    "in": "inch", "inch": "inch", "inches": "inch", "p01i": "inch",
}  # fmt: skip
_DELIMITERS = (",", ";", "\t")
_LOOKED_AT = 2000
_MOST_STATIONS = 50
# Between the least a gauge in inches shows (0.01) and the least one in millimetres does (0.1).
_INCHES_UNDER = 0.05


@dataclass(frozen=True)
class Guess:
    """A layout to begin with, the columns there are, stations if there are several, and which units are sure."""

    layout: Layout
    columns: tuple[str, ...]
    stations: tuple[str, ...]
    wind_unit_sure: bool
    rain_unit_sure: bool
    date_order_sure: bool


def guess_columns(lines: Sequence[str]) -> Guess:
    """Return which columns of a table hold what, as far as that can be told; the first line is the heading.

    A column that is not found keeps the name `Layout` gives it, so that reading then says what is missing.
    """
    delimiter = _delimiter(lines[0] if lines else "")
    rows = list(_cells(lines[: _LOOKED_AT + 1], delimiter))
    heading = [name.strip().lstrip("\ufeff") for name in (rows[0] if rows else [])]
    wind = _named(heading, _WIND, _NOT_MEAN_WIND)
    rain = _named(heading, _RAIN, ("rate", "intensity"))
    told_wind, told_rain = _unit_in(wind, WIND_UNITS_M_S), _unit_in(rain, RAIN_UNITS_MM)
    rain_unit = told_rain or _rain_unit_by_step(_figures(_column(rows, heading, rain)))
    station = _named(heading, _STATION, ())
    stations = _stations(lines, delimiter, heading, station)
    several = station if len(stations) > 1 else None
    usual = Layout()
    time = _named(heading, _TIME, ())
    order = order_of(cell.strip() for cell in _column(rows, heading, time))
    layout = Layout(
        time=time or usual.time,
        date_order=order.order,
        wind_from=_named(heading, _FROM, ()) or usual.wind_from,
        wind=wind,
        rain=rain,
        wind_unit=told_wind or ("mph" if rain_unit == "inch" else "m/s"),
        rain_unit=rain_unit,
        delimiter=delimiter,
        station=several,
        station_is=stations[0] if several else None,
    )
    return Guess(layout, tuple(heading), stations, told_wind is not None, told_rain is not None, order.sure)


def _delimiter(heading: str) -> str:
    return max(_DELIMITERS, key=heading.count)


def _cells(lines: Sequence[str], delimiter: str) -> list[list[str]]:
    try:
        return list(csv.reader(lines, skipinitialspace=True, delimiter=delimiter))
    except csv.Error:
        return []


def _plain(name: str) -> str:
    return re.sub(r"[^a-z0-9]+", "_", name.lower()).strip("_")


def _named(heading: Sequence[str], words: Sequence[str], never: Sequence[str]) -> str | None:
    """Return the column that bears one of the words: as its whole name first, then within it."""
    fit = [name for name in heading if not any(word in _plain(name) for word in never)]
    for word in words:
        for name in fit:
            if _plain(name) == word:
                return name
    for word in words:
        for name in fit:
            if f"_{word}_" in f"_{_plain(name)}_":
                return name
    return None


def _unit_in(name: str | None, units: dict[str, float]) -> str | None:
    padded = f"_{_plain(name or '')}_"
    return next((unit for word, unit in _UNIT_WORDS.items() if unit in units and f"_{word}_" in padded), None)


def _column(rows: Sequence[list[str]], heading: Sequence[str], name: str | None) -> list[str]:
    if name is None:
        return []
    at = heading.index(name)
    return [row[at] for row in rows[1:] if len(row) > at]


def _figures(cells: Sequence[str]) -> list[float]:
    found = []
    for cell in cells:
        try:
            found.append(float(cell))
        except ValueError:
            continue
    return found


def _rain_unit_by_step(readings: Sequence[float]) -> str:
    least = min((one for one in readings if one > 0), default=1.0)
    return "inch" if least < _INCHES_UNDER else "mm"


def _stations(lines: Sequence[str], delimiter: str, heading: Sequence[str], name: str | None) -> tuple[str, ...]:
    """Return the names under the station column, most rows first; none where there are too many to be stations."""
    if name is None:
        return ()
    at, counts = heading.index(name), dict[str, int]()
    for row in _cells(lines[1:], delimiter):
        if len(row) > at:
            counts[row[at].strip()] = counts.get(row[at].strip(), 0) + 1
    return tuple(sorted(counts, key=lambda one: (-counts[one], one))) if len(counts) <= _MOST_STATIONS else ()
