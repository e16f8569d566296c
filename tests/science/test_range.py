"""Ranges keep their order through every sum."""

from hypothesis import given
from hypothesis import strategies as st

from makegood.science.range import Range, around, exactly, one_and, plus, scaled, spread, times, total

amounts = st.floats(0, 1e6)
ranges = st.tuples(amounts, amounts, amounts).map(lambda three: spread(*sorted(three)))


def in_order(one: Range) -> bool:
    return one["low"] <= one["likely"] <= one["high"]


@given(ranges, ranges, st.floats(0, 1000))
def test_sums_and_products_stay_in_order(one: Range, other: Range, factor: float) -> None:
    assert all(
        in_order(result)
        for result in (plus(one, other), times(one, other), scaled(one, factor), one_and(one))
    )


@given(st.lists(ranges, max_size=6))
def test_a_total_is_the_sum_of_its_parts(many: list[Range]) -> None:
    assert total(many)["likely"] == sum(one["likely"] for one in many)


@given(amounts, amounts, amounts)
def test_three_states_whichever_way_they_move(loose: float, likely: float, tight: float) -> None:
    made = around(loose, likely, tight)
    assert in_order(made)
    assert made["likely"] == likely


def test_a_certain_value_has_no_spread() -> None:
    assert exactly(2.5) == {"low": 2.5, "likely": 2.5, "high": 2.5}
