"""A storm as it is written down, by its hours or by bare totals, onto faces and onto the parts of a wall.

Hours count where every wet one is known; else the totals, which carry their spread; else what the known
hours brought, as the least there was. Parts: bands of height, and on round walls sectors of 30 degrees
either side of the drawn middle line.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate
from math import atan2, cos, degrees, isfinite, radians, sin
from typing import NamedTuple, TypedDict

from makegood.science.dome import Flat
from makegood.science.driving_rain import (
    BareStorm,
    Exposure,
    Face,
    dose_by_hour,
    driven_upright,
    rain_hours,
    storm_dose,
    wind_at,
)
from makegood.science.surface import Surface, surface_from
from makegood.science.weather.table import Hour

SECTORS_DEG = (-75.0, -45.0, -15.0, 15.0, 45.0, 75.0)
LENGTHS_H = (1, 24, 96)


class Hours(TypedDict):
    """Hours on end, one list each: rain [mm], mean wind [m/s], where from [deg]; None is not recorded."""

    rain_mm: Sequence[float | None]
    wind_m_s: Sequence[float | None]
    from_deg: Sequence[float | None]


@dataclass(frozen=True)
class Told:
    """What is written down of a storm: totals (rain [mm], wind [m/s], from [deg], how long [h]) and hours."""

    rain_mm: float | None = None
    wind_m_s: float | None = None
    wind_from_deg: float | None = None
    duration_h: float | None = None
    hours: Hours | None = None


class ToldDose(TypedDict):
    """Low, likely and high dose [L/m2], what it was reckoned from, and how many hours are not known."""

    low: float
    likely: float
    high: float
    by: str
    missing_h: int


class Part(NamedTuple):
    """A part of a wall: its sector's middle right of the drawn middle line [deg], its heights [m], its face."""

    turn_deg: float
    low_m: float
    high_m: float
    face: Face


class Totals(TypedDict):
    """Totals of hours: rain [mm] in all and at most in 1, 24 and 96 h; wet hours [h]; wind of the wet hours.

    wind_m_s is the mean, wind_from_deg where the driven rain came from on the whole, peak_mm_h the wettest
    hour; each None where nothing is recorded. missing_h counts hours without rain, or wet without wind.
    """

    rain_mm: float | None
    worst_mm: list[float | None]
    wet_h: int
    wind_m_s: float | None
    wind_from_deg: float | None
    missing_h: int


def told_dose(storm: Told, face: Face, driven: float = 1.0) -> ToldDose | None:
    """Return the dose of a storm on a face; None where rain or wind is not recorded.

    driven: factor on the wind-driven part [-, 0 to 2]. Source: own derivation, see the head of this file.
    """
    exposure = Exposure(wall=driven)
    by_hours = _by_hours(storm.hours, face, exposure) if storm.hours else None
    if by_hours and not by_hours["missing_h"]:
        return by_hours
    if storm.rain_mm == 0:
        return _exactly(0.0, "totals", 0)
    if storm.rain_mm is None or storm.wind_m_s is None:
        return by_hours
    duration_h = storm.duration_h or None
    bare = BareStorm(storm.rain_mm, storm.wind_m_s, storm.wind_from_deg, duration_h and max(0.1, duration_h))
    return {**storm_dose(bare, face, exposure), "by": "totals", "missing_h": 0}


def _by_hours(given: Hours, face: Face, exposure: Exposure) -> ToldDose | None:
    rain = rain_hours(hours_of(given))
    if not rain.known_hours:
        return None
    return _exactly(sum(dose_by_hour(rain, face, exposure).l_m2), "hours", len(rain.missing))


def _exactly(l_m2: float, by: str, missing_h: int) -> ToldDose:
    return {"low": l_m2, "likely": l_m2, "high": l_m2, "by": by, "missing_h": missing_h}


def hours_of(given: Hours) -> list[Hour]:
    """Return the hours of a storm row, numbered from 0."""
    rows = zip(given["wind_m_s"], given["from_deg"], given["rain_mm"], strict=True)
    return [Hour(number, *row) for number, row in enumerate(rows)]


def face_at(wall: Surface, bearing_deg: float, turn_deg: float, z_m: float) -> Face:
    """Return the face of a wall at a turn [deg] to the right of its drawn middle line and at a height [m].

    Flat walls face one way all over, leant back by their batter. Source: own derivation.
    """
    if isinstance(wall, Flat):
        return Face(bearing_deg % 360, 90.0 - wall.batter_deg)
    slope = wall.slope(z_m)
    return Face((bearing_deg - turn_deg) % 360, degrees(atan2(1.0, -slope)) if isfinite(slope) else 0.0)


def parts_of(surface: object, bearing_deg: float, bands: int = 4) -> list[Part]:
    """Return the parts of a wall as drawn from the front: `bands` of equal height, round walls by sectors.

    Each stands for its middle: the slope is that of the surface half way up the band, a flat wall's batter
    leans it back. Bearings fall towards the viewer's right. Source: own derivation.
    """
    wall = surface_from(surface)
    step_m, turns = wall.height / bands, (0.0,) if isinstance(wall, Flat) else SECTORS_DEG
    found = []
    for band in range(bands):
        for turn_deg in turns:
            face = face_at(wall, bearing_deg, turn_deg, (band + 0.5) * step_m)
            found.append(Part(turn_deg, band * step_m, (band + 1) * step_m, face))
    return found


def part_doses(storm: Told, parts: Sequence[Part], foot_m: float = 0.0) -> list[ToldDose | None]:
    """Return the dose of each part, the wind slower near the ground by V(z) = V10 (z/10)^0.25.

    foot_m: height of the wall's foot above ground [m]; from 160 m up the factor stays 2.
    Source: Building Science Digest BSD-148 (read).
    """
    heights_m = [foot_m + (one.low_m + one.high_m) / 2 for one in parts]
    factors = [min(2.0, wind_at(1.0, height_m)) for height_m in heights_m]
    return [told_dose(storm, one.face, factor) for one, factor in zip(parts, factors, strict=True)]


def totals_of(given: Hours) -> Totals:
    """Return the totals of a storm's hours; hours that are not known add nothing and are counted.

    wind_from_deg is the direction of the summed flux of driven rain (ISO 15927-3). Source: own derivation.
    """
    rain = [mm for mm in given["rain_mm"] if mm is not None]
    wet = [hour for hour in hours_of(given) if hour.rain_mm]
    winds = [hour.wind_m_s for hour in wet if hour.wind_m_s is not None]
    missing = sum(1 for hour in hours_of(given) if hour.rain_mm is None or _wind_unknown(hour))
    return {
        "rain_mm": sum(rain) if rain else None,
        "worst_mm": [_worst(given["rain_mm"], length_h) if rain else None for length_h in LENGTHS_H],
        "wet_h": len(wet),
        "wind_m_s": sum(winds) / len(winds) if winds else None,
        "wind_from_deg": _mean_direction(wet),
        "missing_h": missing,
    }


def _wind_unknown(hour: Hour) -> bool:
    return bool(hour.rain_mm) and (
        hour.wind_m_s is None or (hour.wind_m_s > 0 and hour.wind_from_deg is None)
    )


def _worst(rain_mm: Sequence[float | None], length_h: int) -> float:
    sums = [0.0, *accumulate(mm or 0.0 for mm in rain_mm)]
    if length_h == 1:
        return max(mm or 0.0 for mm in rain_mm)
    return max(sums[last] - sums[max(0, last - length_h)] for last in range(1, len(sums)))


def _mean_direction(wet: Sequence[Hour]) -> float | None:
    known = [(h.wind_m_s, h.rain_mm, radians(h.wind_from_deg)) for h in wet
             if h.wind_m_s and h.rain_mm and h.wind_from_deg is not None]  # fmt: skip
    east = sum(driven_upright(wind, rain) * sin(from_rad) for wind, rain, from_rad in known)
    north = sum(driven_upright(wind, rain) * cos(from_rad) for wind, rain, from_rad in known)
    if abs(east) < 1e-9 and abs(north) < 1e-9:
        return None
    return degrees(atan2(east, north)) % 360
