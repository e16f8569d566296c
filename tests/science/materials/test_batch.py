"""Batches: whole, equal, no larger than vessel and time allow."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from makegood.science.materials.batch import batches, recipe, whole_units
from makegood.science.range import exactly


@given(st.floats(0.01, 5000), st.floats(1, 200), st.floats(0.5, 24), st.floats(1, 100))
def test_batches_add_up_and_fit(
    wet_l: float, container_l: float, working_h: float, laying_l_per_h: float
) -> None:
    plan = batches(wet_l, container_l, working_h, laying_l_per_h)
    limit = min(container_l, working_h * laying_l_per_h)
    assert plan["count"] * plan["each_l"] == pytest.approx(wet_l)
    assert plan["each_l"] <= limit * (1 + 1e-6)
    assert (plan["count"] - 1) * limit < wet_l


def test_what_limits_a_batch_is_named() -> None:
    assert batches(100, 40, 2, 10) == {"count": 5, "each_l": 20, "limited_by": "time"}
    assert batches(100, 20, 8, 10)["limited_by"] == "container"


def test_nothing_to_lay_is_no_batch() -> None:
    assert batches(0, 40, 2, 10) == {"count": 0, "each_l": 0, "limited_by": "time"}


def test_a_billionth_over_buys_no_further_unit() -> None:
    assert whole_units(0.1 + 0.2, 0.1) == 3
    assert whole_units(50.001, 25) == 3


def test_a_card_is_the_coefficients_times_the_litres() -> None:
    card = recipe(
        {"lime": {"kg": exactly(0.25), "l": exactly(0.4)}, "hair": {"kg": exactly(0.005), "l": None}}, 12
    )
    assert card == {
        "lime": {"kg": exactly(3.0), "l": exactly(pytest.approx(4.8))},
        "hair": {"kg": exactly(0.06), "l": None},
    }
