"""Rain driven onto a face of given bearing and slope, from hourly weather or from a storm's bare totals.

Model: per hour, rain crosses an upright plane square to the wind at (2/9) v r^(8/9) litres per square
metre and a level plane at r; the two are the parts of one flux vector, laid onto the outward normal of the
face. On an upright wall that is ISO 15927-3 exactly, on a flat roof the rainfall itself; in between it is an
own derivation. Range: open, even terrain; see `LIMITS` for where the standard itself says no.
Sources: ISO 15927-3:2009 (formula and roughness read as code, scope read); Building Science Digest BSD-148
(read; it puts the accuracy of such sums at about 10 %).
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from math import cos, log, radians, sin
from statistics import fmean
from typing import NamedTuple

from makegood.errors import BadInput
from makegood.science.range import Range, spread
from makegood.science.weather.spells import HourlyDose, Spell, Worst, spells, worst_within
from makegood.science.weather.table import Hour

# Terrain class: K_R, z0 [m], z_min [m]. I open sea or flat; II farmland; III suburb or wood; IV town.
# Source: ISO 15927-3, read as code.
ROUGHNESS = {
    "I": (0.17, 0.01, 2.0),
    "II": (0.19, 0.05, 4.0),
    "III": (0.22, 0.3, 8.0),
    "IV": (0.24, 1.0, 16.0),
}
# Distance to a row of obstacles as high as the wall [m]: factor O. From memory of ISO 15927-3; confirm first.
OBSTRUCTION_FROM_MEMORY = (
    (8.0, 0.2),
    (15.0, 0.3),
    (25.0, 0.4),
    (40.0, 0.5),
    (60.0, 0.6),
    (80.0, 0.7),
    (100.0, 0.8),
    (120.0, 0.9),
)
# Factor W by kind of wall. From memory of ISO 15927-3; confirm first.
WALL_FROM_MEMORY = {"gable": 0.4, "eaves": 0.3, "flat_roof": 0.4, "tall_top": 0.5, "tall_rest": 0.2}
# Where ISO 15927-3 does not hold. Source: its scope, read.
LIMITS = {
    "convective": "Over a quarter of the rain fell in cloudbursts, outside ISO 15927-3: only compare faces.",
    "mountains": "Mountains with cliffs or gorges: outside ISO 15927-3.",
    "snow_or_hail": "Snow or hail: outside ISO 15927-3, which counts rain only.",
    "from_memory": "A factor from memory of the standard was used; confirm it first.",
    "gaps": "Hours are missing from the weather table: the true dose is higher, never lower.",
}
# Own stand-in for "severe convective storm": hourly rain above 10 mm (no source).
CLOUDBURST_MM_H = 10.0
CLOUDBURST_SHARE = 0.25
TOTALS_H = (1, 24, 96)

_SMALLEST_DROP_MM = 0.5


@dataclass(frozen=True)
class Face:
    """A plane of wall or dome: the bearing it faces [deg from north, clockwise] and its slope [deg].

    Slope 90 is an upright wall, 0 a flat roof, between them it leans back, above 90 it overhangs (up to 180).
    """

    bearing_deg: float
    slope_deg: float = 90.0

    def __post_init__(self) -> None:
        _within("bearing_deg", self.bearing_deg, 0, 360)
        _within("slope_deg", self.slope_deg, 0, 180)


@dataclass(frozen=True)
class Exposure:
    """What stands between the open airfield and this face; left as it is, the dose is the airfield index.

    terrain: roughness class I to IV, with height_m above ground; topography C_T, obstruction O and wall W:
    bare factors (0 to 2). O and W are from memory of the standard when taken from the tables here. `heeded`
    names further limits known to hold: mountains, snow_or_hail.
    """

    terrain: str | None = None
    height_m: float = 10.0
    topography: float = 1.0
    obstruction: float = 1.0
    wall: float = 1.0
    heeded: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        for name in ("topography", "obstruction", "wall"):
            _within(name, getattr(self, name), 0, 2)

    @property
    def factor(self) -> float:
        """Return C_R x C_T x O x W of ISO 15927-3, for the wind-driven part only [-]."""
        rough = 1.0 if self.terrain is None else roughness(self.terrain, self.height_m)
        return rough * self.topography * self.obstruction * self.wall

    @property
    def from_memory(self) -> bool:
        """Return whether a factor was used that could not be confirmed."""
        return self.obstruction != 1 or self.wall != 1


@dataclass
class RainHours:
    """Weather ready for any number of faces: wet hours as flux vectors [L/m2 per h], and unknown hours.

    east, north: the horizontal part, pointing to where the wind comes from; down: the falling part.
    """

    hours: list[int] = field(default_factory=list)
    east: list[float] = field(default_factory=list)
    north: list[float] = field(default_factory=list)
    down: list[float] = field(default_factory=list)
    missing: list[int] = field(default_factory=list)
    known_hours: int = 0
    rain_in_gaps_mm: float = 0.0


class FaceDose(NamedTuple):
    """Driving rain on one face over a weather table [L/m2], with spells, worst totals and limits met."""

    l_m2: float
    spells: list[Spell]
    worst: list[Worst]
    known_hours: int
    missing_hours: int
    rain_in_gaps_mm: float
    warnings: list[str]


def wall_index(wind_m_s: float, rain_mm_h: float, angle_deg: float) -> float:
    """Return the rain on an upright wall in one hour [L/m2], wind meeting it `angle_deg` off square.

    wind_m_s: hourly mean at 10 m [m/s, >= 0]; rain_mm_h: [mm/h, >= 0]; nothing at 90 degrees and more.
    Source: ISO 15927-3, I = (2/9) v r^(8/9) cos(D - theta), read as code.
    """
    return max(0.0, driven_upright(wind_m_s, rain_mm_h) * _cos_deg(angle_deg))


def roughness(terrain: str, height_m: float) -> float:
    """Return C_R, the share of the airfield wind left at a height above ground [m] in a terrain class.

    Source: ISO 15927-3, K_R ln(max(z, z_min) / z0), read as code. Raises: BadInput `terrain_unknown`.
    """
    if terrain not in ROUGHNESS:
        raise BadInput("terrain_unknown", "Give the terrain as I, II, III or IV.", {"terrain": terrain})
    _within("height_m", height_m, 0, 200)
    k_r, z0_m, z_min_m = ROUGHNESS[terrain]
    return k_r * log(max(height_m, z_min_m) / z0_m)


def obstruction_from_memory(distance_m: float) -> float:
    """Return the factor O for obstacles at a distance [m, from 4]; 1 beyond 120 m. From memory: confirm.

    Nearer than 4 m the table has no figure; that of 4 to 8 m is returned.
    """
    return next((factor for reach_m, factor in OBSTRUCTION_FROM_MEMORY if distance_m <= reach_m), 1.0)


def rain_hours(hours: Iterable[Hour]) -> RainHours:
    """Return weather hours, in time order, ready for any number of faces.

    An hour without rain is dry whatever the wind. A wet hour with no wind speed, or with wind but no
    direction, is unknown and its rain is added up apart; unknown too is any hour without a rain reading, and
    any hour left out between the first and the last.
    """
    rain = RainHours()
    previous: int | None = None
    for hour, wind_m_s, wind_from_deg, rain_mm in hours:
        if previous is not None and hour > previous + 1:
            rain.missing.extend(range(previous + 1, hour))
        previous = hour
        if rain_mm is None or (rain_mm > 0 and not _wind_known(wind_m_s, wind_from_deg)):
            rain.missing.append(hour)
            rain.rain_in_gaps_mm += rain_mm or 0.0
            continue
        rain.known_hours += 1
        if rain_mm > 0:
            driven, from_rad = driven_upright(wind_m_s or 0.0, rain_mm), radians(wind_from_deg or 0.0)
            rain.hours.append(hour)
            rain.east.append(driven * sin(from_rad))
            rain.north.append(driven * cos(from_rad))
            rain.down.append(rain_mm)
    return rain


def _wind_known(wind_m_s: float | None, wind_from_deg: float | None) -> bool:
    return wind_m_s is not None and (wind_m_s == 0 or wind_from_deg is not None)


def dose_by_hour(rain: RainHours, face: Face, exposure: Exposure | None = None) -> HourlyDose:
    """Return the rain on a face hour by hour [L/m2 of true surface]; hours that bring nothing are left out.

    The wind-driven part is scaled by `exposure.factor`, the falling part is not.
    Source: own derivation, flux vector times outward normal, see
    tests/reference/weather/test_c10_driving_rain.py.
    """
    driven = (exposure or Exposure()).factor * _sin_deg(face.slope_deg)
    to_east, to_north = driven * _sin_deg(face.bearing_deg), driven * _cos_deg(face.bearing_deg)
    level = _cos_deg(face.slope_deg)
    hours, doses = [], []
    for hour, east, north, down in zip(rain.hours, rain.east, rain.north, rain.down, strict=True):
        l_m2 = east * to_east + north * to_north + down * level
        # Below this only rounding is left, of a wind that runs along the wall.
        if l_m2 > 1e-12:
            hours.append(hour)
            doses.append(l_m2)
    return HourlyDose(hours, doses, rain.missing)


def face_dose(rain: RainHours, face: Face, exposure: Exposure | None = None) -> FaceDose:
    """Return total, spells, worst 1 h, 24 h and 96 h of one face [L/m2], and limits met.

    Unknown hours add nothing and are counted; the total is then a lower bound.
    Source: ISO 15927-3 and the sum over hours, see the head of this file.
    """
    exposure = exposure or Exposure()
    dose = dose_by_hour(rain, face, exposure)
    worst = [worst_within(dose, length_h) for length_h in TOTALS_H]
    return FaceDose(
        sum(dose.l_m2),
        spells(dose),
        [total for total in worst if total is not None],
        rain.known_hours,
        len(rain.missing),
        rain.rain_in_gaps_mm,
        limits_met(rain, exposure),
    )


def limits_met(rain: RainHours, exposure: Exposure) -> list[str]:
    """Return the keys of `LIMITS` that hold for this weather and place.

    `convective` is a stand-in: over 25 % (read) of the rain in hours above 10 mm (own choice, no source).
    """
    met: list[str] = [name for name in ("mountains", "snow_or_hail") if name in exposure.heeded]
    heavy = sum(mm for mm in rain.down if mm > CLOUDBURST_MM_H)
    if heavy > CLOUDBURST_SHARE * sum(rain.down):
        met.append("convective")
    if exposure.from_memory:
        met.append("from_memory")
    if rain.missing:
        met.append("gaps")
    return met


@dataclass(frozen=True)
class BareStorm:
    """All that is often known of a storm: total rain [mm], mean wind [m/s], where from [deg], how long [h].

    Without a direction the wall may have been in the lee or full in the wind; without a duration 2 to 24 h
    is taken.
    """

    rain_mm: float
    wind_m_s: float
    wind_from_deg: float | None = None
    duration_h: float | None = None

    def __post_init__(self) -> None:
        _within("rain_mm", self.rain_mm, 0, 2000)
        _within("wind_m_s", self.wind_m_s, 0, 120)
        if self.wind_from_deg is not None:
            _within("wind_from_deg", self.wind_from_deg, 0, 360)
        if self.duration_h is not None:
            _within("duration_h", self.duration_h, 0.1, 400)


# Assumed (no source): the wind by eye is right within a fifth; it rained a quarter, half or all of the
# time, in a storm of 2, 8 or 24 hours where nobody knows; the direction was named to the nearest of eight
# winds.
_WINDS = (0.8, 1.0, 1.2)
_SHARES_RAINING = (0.25, 0.5, 1.0)
_HOURS = (2.0, 8.0, 24.0)
_TURNED_DEG = (-22.5, 0.0, 22.5)
_ALL_ROUND_DEG = [float(angle_deg) for angle_deg in range(0, 360, 5)]


def storm_dose(storm: BareStorm, face: Face, exposure: Exposure | None = None) -> Range:
    """Return low, likely and high dose of one storm on a face [L/m2], from its bare totals.

    The hourly formula with the rain spread evenly over the hours it rained. As r enters to the power 8/9,
    short heavy rain drives less water onto a wall than the same rain over a long time. Low and high are the
    ends of all that is assumed together; without a direction, likely is the mean over all directions.
    Source: ISO 15927-3 for the hour; the rest own derivation, see tests/science/test_driving_rain.py.
    """
    factor = (exposure or Exposure()).factor
    hours = _HOURS if storm.duration_h is None else (storm.duration_h,) * 3
    raining_h = [length_h * share for length_h, share in zip(hours, _SHARES_RAINING, strict=True)]
    angles_deg, middle_deg = _angles(storm, face)
    likely = fmean(_spread_evenly(storm, face, factor, raining_h[1], angle) for angle in middle_deg)
    ends = [
        _spread_evenly(storm, face, factor * wind, length_h, angle)
        for wind in _WINDS
        for length_h in raining_h
        for angle in angles_deg
    ]
    return spread(min(*ends, likely), likely, max(*ends, likely))


def _angles(storm: BareStorm, face: Face) -> tuple[list[float], list[float]]:
    """Return the angles off square the wind may have had [deg], and those that likely is the mean of."""
    if storm.wind_from_deg is None:
        return _ALL_ROUND_DEG, _ALL_ROUND_DEG
    off_deg = abs((storm.wind_from_deg - face.bearing_deg + 180) % 360 - 180)
    return [min(180.0, max(0.0, off_deg + turned)) for turned in _TURNED_DEG], [off_deg]


def _spread_evenly(storm: BareStorm, face: Face, factor: float, raining_h: float, angle_deg: float) -> float:
    driven = factor * raining_h * driven_upright(storm.wind_m_s, storm.rain_mm / raining_h)
    upright = driven * _cos_deg(angle_deg) * _sin_deg(face.slope_deg)
    return max(0.0, upright + storm.rain_mm * _cos_deg(face.slope_deg))


def driving_rain_factor(rain_mm_h: float) -> float:
    """Return DRF = 1 / V_t [s/m]: how slowly the middling drop falls, so how far wind carries it.

    rain_mm_h: [mm/h, > 0]. Drops under 0.5 mm are drizzle (read, AMS glossary); the factor stops there.
    Source: DRF read, BSD-148 (0.20 to 0.25 average, 0.15 cloudburst, over 0.5 drizzle); drop size and fall
    speed from memory: D50 = 1.30 r^0.232 (ln 2)^(1/2.25), V_t a cubic in D50.
    """
    drop_mm = max(_SMALLEST_DROP_MM, 1.30 * rain_mm_h**0.232 * log(2) ** (1 / 2.25))
    return float(1 / (-0.166033 + 4.91844 * drop_mm - 0.888016 * drop_mm**2 + 0.054888 * drop_mm**3))


def wind_at(wind_10m_m_s: float, height_m: float, alpha: float = 0.25) -> float:
    """Return V(z) = V10 (z/10)^alpha [m/s].

    Source: read, BSD-148; alpha 0.25 (suburb) fits its factors (calc).
    """
    return float(wind_10m_m_s * (height_m / 10) ** alpha)


def digest_wall_rain(free_rain: float, deposition: float, height: float = 1.0, shelter: float = 1.0) -> float:
    """Return what of the free driving rain reaches a wall, in the unit of `free_rain`.

    free_rain: DRF x V x rainfall x cos of the angle, summed; deposition RDF: 0.5 peaked roof with overhang,
    1.0 upper corners; height factor and shelter factor (0.5 sheltered).
    Source: read, BSD-148.
    """
    return free_rain * deposition * height * shelter


def driven_upright(wind_m_s: float, rain_mm_h: float) -> float:
    """Return the rain across an upright plane square to the wind in one hour [L/m2]; wind [m/s], rain [mm].

    Source: ISO 15927-3, read as code.
    """
    return float(2 / 9 * wind_m_s * rain_mm_h ** (8 / 9))


# Quarter turns are exact, so that a wall side-on to the wind takes nothing, an upright one no falling rain.
def _cos_deg(angle_deg: float) -> float:
    return 0.0 if angle_deg % 180 == 90 else cos(radians(angle_deg))


def _sin_deg(angle_deg: float) -> float:
    return 0.0 if angle_deg % 180 == 0 else sin(radians(angle_deg))


def _within(name: str, given: float, low: float, high: float) -> None:
    # Written so that NaN is refused as well.
    if not low <= given <= high:
        raise BadInput("out_of_range", f"Give {name} between {low:g} and {high:g}.", {name: str(given)})
