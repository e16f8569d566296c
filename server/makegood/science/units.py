"""Measures people use, and their size in the measures the sums use: exact by definition, no rounding.

Source: NIST Handbook 44 App. C for gallon, tablespoon and bushel; the inch is 25.4 mm, the pound 0.45359237
kg, the nautical mile 1852 m, all exact by international definition. A cup here is the US cup of 16
tablespoons. Held by tests/reference/test_c06_units.py.
"""

from makegood.errors import BadInput

_FOOT = 0.3048
_INCH = 0.0254
_POUND = 0.45359237
_CUBIC_FOOT_L = _FOOT**3 * 1000
_GALLON_L = 231 * _INCH**3 * 1000

# unit: (what it measures, how many of the base unit: m, m2, L, kg, kg/L, m/s, L/m2)
UNITS: dict[str, tuple[str, float]] = {
    "m": ("length", 1.0),
    "mm": ("length", 0.001),
    "cm": ("length", 0.01),
    "in": ("length", _INCH),
    "ft": ("length", _FOOT),
    "m2": ("area", 1.0),
    "ft2": ("area", _FOOT**2),
    "yd2": ("area", 9 * _FOOT**2),
    "l": ("volume", 1.0),
    "ml": ("volume", 0.001),
    "m3": ("volume", 1000.0),
    "tbsp": ("volume", _GALLON_L / 256),
    "cup": ("volume", _GALLON_L / 16),
    "us_gal": ("volume", _GALLON_L),
    "ft3": ("volume", _CUBIC_FOOT_L),
    "yd3": ("volume", 27 * _CUBIC_FOOT_L),
    "us_bushel": ("volume", 2150.42 * _INCH**3 * 1000),
    "kg": ("mass", 1.0),
    "g": ("mass", 0.001),
    "lb": ("mass", _POUND),
    "oz": ("mass", _POUND / 16),
    "kg_l": ("density", 1.0),
    "kg_m3": ("density", 0.001),
    "lb_ft3": ("density", _POUND / _CUBIC_FOOT_L),
    "m_s": ("speed", 1.0),
    "km_h": ("speed", 1 / 3.6),
    "mph": ("speed", 5280 * _FOOT / 3600),
    "knot": ("speed", 1852 / 3600),
    "rain_mm": ("rain", 1.0),
    "rain_in": ("rain", 25.4),
}


def convert(value: float, given: str, wanted: str) -> float:
    """Return a value in another unit of the same kind; raises BadInput `unit_unknown` or `unit_mismatch`."""
    for unit in (given, wanted):
        if unit not in UNITS:
            raise BadInput("unit_unknown", f"Use one of these units: {', '.join(UNITS)}.", {"unit": unit})
    (kind, size), (other_kind, other_size) = UNITS[given], UNITS[wanted]
    if kind != other_kind:
        say = f"A {kind} cannot be turned into a {other_kind}."
        raise BadInput("unit_mismatch", say, {"unit": f"{given} to {wanted}"})
    return value if given == wanted else value * size / other_size


def celsius_from_fahrenheit(fahrenheit: float) -> float:
    """Return a temperature [degrees C] from [degrees F]."""
    return (fahrenheit - 32) / 1.8


def fahrenheit_from_celsius(celsius: float) -> float:
    """Return a temperature [degrees F] from [degrees C]."""
    return celsius * 1.8 + 32
