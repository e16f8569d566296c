"""Turning measures; their sizes are held by tests/reference/test_c06_units.py."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from makegood.errors import BadInput
from makegood.science.units import UNITS, celsius_from_fahrenheit, convert, fahrenheit_from_celsius

PAIRS = [(a, b) for a in UNITS for b in UNITS if UNITS[a][0] == UNITS[b][0]]


@given(st.sampled_from(PAIRS), st.floats(-1e6, 1e6))
def test_there_and_back_is_where_one_began(pair, value):
    assert convert(convert(value, *pair), *reversed(pair)) == pytest.approx(value, rel=1e-12)


def test_a_length_is_no_volume():
    with pytest.raises(BadInput) as refusal:
        convert(1, "ft", "l")
    assert refusal.value.code == "unit_mismatch"


def test_unknown_unit_is_refused():
    with pytest.raises(BadInput) as refusal:
        convert(1, "cubit", "m")
    assert refusal.value.code == "unit_unknown"


@given(st.floats(-100, 200))
def test_temperatures_there_and_back(celsius):
    assert celsius_from_fahrenheit(fahrenheit_from_celsius(celsius)) == pytest.approx(celsius, abs=1e-9)


@pytest.mark.parametrize(("fahrenheit", "celsius"), [(32, 0), (212, 100), (-40, -40)])
def test_fixed_points_of_temperature(fahrenheit, celsius):
    assert celsius_from_fahrenheit(fahrenheit) == pytest.approx(celsius)
