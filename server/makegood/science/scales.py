"""Named scales: a measured figure to its class, with the source of every boundary.

Agencies disagree (5 mm/h is moderate rain on two scales here and heavy on a third; others call a crack
hairline up to 0.25 mm), so figures are stored and classes derived, and the scale is always named.
Crack width alone never decides urgency.
"""

from collections.abc import Sequence
from math import floor
from typing import NamedTuple

from makegood.errors import BadInput


class Scale(NamedTuple):
    """Classes in rising order and the limits between them.

    includes: for each limit, whether it belongs to the class below it;
    basis: "read", or "from memory" where the screen has to say so.
    """

    unit: str
    limits: Sequence[float]
    includes: Sequence[bool]
    classes: Sequence[str]
    source: str
    basis: str


class Classed(NamedTuple):
    """A figure on a scale: place of its class from 0, name of the class, and the scale with its source."""

    place: int
    name: str
    scale: str
    source: str
    basis: str


def _scale(
    unit: str, limits: Sequence[tuple[float, bool]], classes: Sequence[str], source: str, basis: str
) -> Scale:
    return Scale(unit, [at for at, _ in limits], [below for _, below in limits], classes, source, basis)


_BEAUFORT_M_S = (0.2, 1.5, 3.3, 5.4, 7.9, 10.7, 13.8, 17.1, 20.7, 24.4, 28.4, 32.6)
_FIVE_GRADES = ("1", "2", "3", "4", "5")
_NZS = "NZS 4298 appendix"

SCALES: dict[str, Scale] = {
    "crack_bre_251": _scale(
        "mm",
        [(0.1, False), (1, True), (5, True), (15, True), (25, True)],
        ("0", "1", "2", "3", "4", "5"),
        "BRE Digest 251, through a BRE page and PMC5384476 table 1; 5 mm in class 2 is own convention",
        "read",
    ),
    "rain_ams": _scale(
        "mm/h",
        [(2.5, True), (7.6, True)],
        ("light", "moderate", "heavy"),
        "American Meteorological Society, Glossary, rain",
        "read",
    ),
    "rain_wmo": _scale(
        "mm/h",
        [(2.5, False), (10, False), (50, True)],
        ("slight", "moderate", "heavy", "violent"),
        "WMO-style classes, through a secondary guide",
        "read",
    ),
    "rain_uk": _scale(
        "mm/h",
        [(1, True), (4, True), (32, True)],
        ("slight", "moderate", "heavy", "violent"),
        "UK-style classes, through a secondary guide; another source puts the steps at 1, 4, 16 and 50",
        "read",
    ),
    "wind_beaufort": _scale(
        "m/s",
        [(limit, True) for limit in _BEAUFORT_M_S],
        tuple(str(force) for force in range(13)),
        "Beaufort scale, two nautical tables",
        "read",
    ),
    "spray_erodibility": _scale(
        "mm/h",
        [(20, False), (50, False), (90, False), (120, False)],
        _FIVE_GRADES,
        f"{_NZS} D, pressure spray for 60 minutes; 5 fails",
        "from memory",
    ),
    "drip_erodibility": _scale(
        "mm",
        [(0, True), (5, False), (10, False), (15, False)],
        _FIVE_GRADES,
        f"{_NZS} E, 100 mL dripping from 400 mm; 5 fails",
        "from memory",
    ),
    "exposure_spell": _scale(
        "L/m2 per spell",
        [(33, False), (56.5, False), (100, True)],
        ("sheltered", "moderate", "severe", "very severe"),
        "BS 8104 and national practice, as a comment in published code; per spell, not per year",
        "read",
    ),
}

_CRACK_GROUPS = ("aesthetic", "aesthetic", "aesthetic", "serviceability", "serviceability", "stability")
_SEVERAL_FROM_MM = 3.0


def classify(scale: str, figure: float) -> Classed:
    """Return the class of a figure [unit of the scale, >= 0] on a named scale.

    Raises: BadInput `scale_unknown`, `out_of_range`. Source: the one named in the answer.
    """
    if scale not in SCALES:
        raise BadInput("scale_unknown", f"Name one of these scales: {', '.join(SCALES)}.", {"scale": scale})
    # Written so that NaN is refused as well.
    if not figure >= 0:
        raise BadInput("out_of_range", "Give a figure that is not below zero.", {scale: str(figure)})
    rows = SCALES[scale]
    place = sum(
        figure > limit or (figure == limit and not below)
        for limit, below in zip(rows.limits, rows.includes, strict=True)
    )
    return Classed(place, rows.classes[place], scale, rows.source, rows.basis)


def crack_class(width_mm: float, several: bool = False) -> Classed:
    """Return the class of a crack by its greatest width [mm, >= 0]; several from 3 mm up make class 3.

    Classes: 0 under 0.1; 1 to 1; 2 over 1 to 5; 3 over 5 to 15; 4 over 15 to 25; 5 over 25 mm.
    Source: read, BRE Digest 251 (see `SCALES`); "several" read as three or more, own convention.
    """
    if several and _SEVERAL_FROM_MM <= width_mm <= 5:
        width_mm = 5.1
    return classify("crack_bre_251", width_mm)


def crack_group(crack: Classed) -> str:
    """Return aesthetic (classes 0 to 2, read), serviceability (3, 4) or stability (5; both from memory)."""
    return _CRACK_GROUPS[crack.place]


def crack_step_mm(width_mm: float) -> float:
    """Return a crack width rounded to 0.1 mm, the finest step repeated readings can hold.

    Source: read, BRE Digest 343.
    """
    return _tenths(width_mm)


def beaufort(wind_m_s: float) -> int:
    """Return the Beaufort force 0 to 12 of a mean wind [m/s, >= 0], rounded to 0.1 m/s as the table is.

    Source: read, upper limits of forces 0 to 11 in two nautical tables.
    """
    return classify("wind_beaufort", _tenths(wind_m_s) if wind_m_s >= 0 else wind_m_s).place


def _tenths(figure: float) -> float:
    # Half goes up; a hair is added because 0.35 and its like are stored a little low.
    return floor(figure * 10 + 0.5 + 1e-9) / 10
