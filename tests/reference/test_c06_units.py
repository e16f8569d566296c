"""C6: measures by definition.

Source: NIST Handbook 44 App. C (231 in3 to the US gallon read in a copy of App. C; 2150.42 in3 to the US
bushel from memory); inch and pound exact by international definition; the rest worked out here in whole
fractions of them.
"""

from fractions import Fraction

import pytest

from makegood.science.units import convert

INCH_MM = Fraction("25.4")
POUND_KG = Fraction("0.45359237")
CUBIC_INCH_L = (INCH_MM / 100) ** 3
CUBIC_FOOT_L = 1728 * CUBIC_INCH_L

BY_DEFINITION = [
    ("us_gal", "l", 231 * CUBIC_INCH_L),
    ("tbsp", "ml", 231 * CUBIC_INCH_L * 1000 / 256),
    ("us_gal", "tbsp", Fraction(256)),
    ("ft3", "l", CUBIC_FOOT_L),
    ("ft3", "us_gal", Fraction(1728, 231)),
    ("yd3", "l", 27 * CUBIC_FOOT_L),
    ("lb", "kg", POUND_KG),
    ("lb_ft3", "kg_m3", POUND_KG / CUBIC_FOOT_L * 1000),
    ("us_bushel", "l", Fraction("2150.42") * CUBIC_INCH_L),
    ("in", "mm", INCH_MM),
    ("ft", "mm", 12 * INCH_MM),
    ("knot", "m_s", Fraction(1852, 3600)),
    ("mph", "m_s", 63360 * INCH_MM / 1000 / 3600),
]
AS_PRINTED = [
    ("us_gal", "l", 3.785411784),
    ("tbsp", "ml", 14.78676478125),
    ("ft3", "l", 28.316846592),
    ("yd3", "l", 764.554857984),
    ("lb_ft3", "kg_m3", 16.018463374),
    ("us_bushel", "l", 35.23907016688),
]


@pytest.mark.parametrize(("given", "wanted", "expected"), BY_DEFINITION)
def test_a_measure_is_what_its_definition_says(given, wanted, expected):
    assert convert(1, given, wanted) == pytest.approx(float(expected), rel=1e-14)


@pytest.mark.parametrize(("given", "wanted", "expected"), AS_PRINTED)
def test_a_measure_is_as_printed(given, wanted, expected):
    assert convert(1, given, wanted) == pytest.approx(expected, rel=1e-9)


def test_a_tablespoon_to_the_gallon_is_0_390625_percent():
    assert convert(1, "tbsp", "us_gal") * 100 == pytest.approx(0.390625, rel=1e-12)
