"""How fast a face wears back, what cover is left, and how many storms like the last until it is through.

Mean depth and deepest depth are both needed: the mean says how much material is gone, the deepest where
the wall breaks through first. On rained-on test walls the deepest was 4 to 8 times the mean (calc from
C12's source).
Model: wear is even in time, or in driving rain, between the first and the last look. Range: two looks and up.
Source: professional rule (remaining = coat less depth; years = remaining / rate from two dated depths),
held by tests/reference/wear/test_c12_test_walls.py and tests/science/test_erosion.py.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise
from math import isfinite
from typing import NamedTuple

from makegood.errors import BadInput
from makegood.science.range import Range, spread

DAYS_A_YEAR = 365.25
# Assumed: a depth taken with rule and straight edge is right within 1 mm.
READING_ERROR_MM = 1.0

_MOST_DEPTH_MM = 2000.0


@dataclass(frozen=True)
class DatedDepth:
    """One look: its date, mean and deepest depth below the face as laid [mm].

    l_m2: driving rain since the look before [L/m2], None where not known.
    """

    on: date
    mean_mm: float
    deepest_mm: float
    l_m2: float | None = None


class Wear(NamedTuple):
    """Wear of one kind of depth; a range is None where it cannot be told.

    mm_per_year, mm_per_l_m2: the rate; left_mm: cover left now, 0 when through; years, doses: until none
    is left, a dose being the driving rain of one storm like the last. High is None where the slowest rate
    is no wear at all.
    """

    mm_per_year: Range | None
    mm_per_l_m2: Range | None
    left_mm: float
    years: "Until | None"
    doses: "Until | None"


class Until(NamedTuple):
    """Years, or storms, until the cover is gone: low at the fastest rate, high None if it may never be."""

    low: float
    likely: float
    high: float | None


class Erosion(NamedTuple):
    """Wear by mean depth (material) and by deepest depth (breach), whether it is through, and warnings."""

    mean: Wear
    deepest: Wear
    breached: bool
    warnings: list[str]


class WornFace(NamedTuple):
    """One face or test wall after a rain: worn area [m2], volume gone [L], deepest spot [mm].

    set_aside: why it does not count, such as a fault of the test; None where it does.
    """

    area_m2: float
    volume_l: float
    deepest_mm: float
    set_aside: str | None = None


class PooledWear(NamedTuple):
    """Several faces together: how many count, how many were set aside, means, depth over all their area."""

    counted: int
    set_aside: int
    area_m2: float
    volume_l: float
    mean_mm: float
    deepest_mm: float


def pooled_wear(faces: Sequence[WornFace]) -> PooledWear:
    """Return mean area, mean volume, mean of the deepest spots, and the mean depth over all area together.

    1 L on 1 m2 is 1 mm. Raises: BadInput `no_depths` when no face counts, `depth_refused`.
    Source: own derivation, held by tests/reference/wear/test_c12_test_walls.py.
    """
    counted = [face for face in faces if face.set_aside is None]
    if not counted:
        raise BadInput("no_depths", "Give at least one face that counts.", {"faces": "empty"})
    if not all(face.area_m2 > 0 and face.volume_l >= 0 and face.deepest_mm >= 0 for face in counted):
        raise BadInput("depth_refused", "Give areas above zero, volumes and depths of zero or more.")
    many = len(counted)
    area_m2, volume_l = sum(face.area_m2 for face in counted), sum(face.volume_l for face in counted)
    return PooledWear(
        many,
        len(faces) - many,
        area_m2 / many,
        volume_l / many,
        volume_l / area_m2,
        sum(face.deepest_mm for face in counted) / many,
    )


def erosion(
    depths: Sequence[DatedDepth],
    coat_mm: float,
    last_storm_l_m2: float | None = None,
    reading_error_mm: float = READING_ERROR_MM,
) -> Erosion:
    """Return rates, remaining cover and what is left until breach.

    depths: in any order, none twice on a date; coat_mm: thickness of cover as laid [mm, > 0];
    last_storm_l_m2: what the last storm drove onto this face [L/m2, > 0]. Likely is the rate from first to
    last look; low and high are the slowest and fastest between two looks, and at least what the reading
    error allows. It is breached when the deepest depth reaches the coat.
    Warnings: `one_depth_only` (no rate), `depth_fell` (repaired or misread in between: no rate),
    `no_wear_seen`.
    Raises: BadInput `no_depths`, `depth_refused`, `date_twice`, `coat_refused`, `dose_refused`.
    Source: professional rule, see the head of this file; the ranges are an own derivation.
    """
    looks = sorted(depths, key=lambda look: look.on)
    _check(looks, coat_mm, last_storm_l_m2, reading_error_mm)
    warnings = _warnings(looks)
    rated = looks if not {"one_depth_only", "depth_fell"} & set(warnings) else []

    def wear(of: Sequence[float]) -> Wear:
        return _wear(rated, of, max(0.0, coat_mm - of[-1]), (last_storm_l_m2, reading_error_mm))

    return Erosion(
        wear([look.mean_mm for look in looks]),
        wear([look.deepest_mm for look in looks]),
        looks[-1].deepest_mm >= coat_mm,
        warnings,
    )


def _wear(
    looks: Sequence[DatedDepth], of: Sequence[float], left_mm: float, measure: tuple[float | None, float]
) -> Wear:
    last_storm_l_m2, error_mm = measure
    days = [float((later.on - earlier.on).days) for earlier, later in pairwise(looks)]
    rain = [look.l_m2 for look in looks[1:] if look.l_m2 is not None]
    per_day = _rate(of, days, error_mm) if looks else None
    per_year = per_day and spread(*(per_day[end] * DAYS_A_YEAR for end in ("low", "likely", "high")))
    known_rain = bool(looks) and len(rain) == len(looks) - 1 and all(l_m2 > 0 for l_m2 in rain)
    per_l_m2 = _rate(of, rain, error_mm) if known_rain else None
    return Wear(
        per_year,
        per_l_m2,
        left_mm,
        _until(left_mm, per_year),
        _until(left_mm / last_storm_l_m2, per_l_m2) if last_storm_l_m2 else None,
    )


def _rate(depths_mm: Sequence[float], exposures: Sequence[float], error_mm: float) -> Range:
    whole = sum(exposures)
    likely = (depths_mm[-1] - depths_mm[0]) / whole
    between = [(b - a) / exposure for (a, b), exposure in zip(pairwise(depths_mm), exposures, strict=True)]
    # Two readings, each off by as much as it may be, and both the wrong way.
    by_error = 2 * error_mm / whole
    return spread(max(0.0, min(*between, likely - by_error)), likely, max(*between, likely + by_error))


def _until(left: float, rate: Range | None) -> Until | None:
    if rate is None or rate["likely"] <= 0:
        return None
    return Until(left / rate["high"], left / rate["likely"], left / rate["low"] if rate["low"] > 0 else None)


def _warnings(looks: Sequence[DatedDepth]) -> list[str]:
    if len(looks) == 1:
        return ["one_depth_only"]
    if any(b.mean_mm < a.mean_mm or b.deepest_mm < a.deepest_mm for a, b in pairwise(looks)):
        return ["depth_fell"]
    return ["no_wear_seen"] if looks[-1].deepest_mm == looks[0].deepest_mm else []


def _check(
    looks: Sequence[DatedDepth], coat_mm: float, last_storm_l_m2: float | None, error_mm: float
) -> None:
    if not looks:
        raise BadInput("no_depths", "Give at least one dated depth.", {"depths": "empty"})
    for look in looks:
        if not 0 <= look.mean_mm <= look.deepest_mm <= _MOST_DEPTH_MM:
            raise BadInput(
                "depth_refused",
                "Give depths of 0 to 2000 mm, the mean no more than the deepest.",
                {"depths": look.on.isoformat()},
            )
    if any(a.on == b.on for a, b in pairwise(looks)):
        raise BadInput("date_twice", "Give one look for each date.", {"depths": "same date"})
    if not 0 < coat_mm <= _MOST_DEPTH_MM:
        raise BadInput(
            "coat_refused", "Give the thickness of cover above 0 and up to 2000 mm.", {"coat_mm": "range"}
        )
    given = [last_storm_l_m2, *(look.l_m2 for look in looks)]
    if any(l_m2 is not None and not (isfinite(l_m2) and l_m2 >= 0) for l_m2 in given) or not error_mm >= 0:
        raise BadInput(
            "dose_refused", "Give driving rain and reading error of zero or more.", {"l_m2": "below zero"}
        )
