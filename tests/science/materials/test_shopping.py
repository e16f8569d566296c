"""Shopping: merged first, rounded once, never short."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from makegood.errors import BadInput
from makegood.science.materials.shopping import merge_needs, round_up_once, shopping_list
from makegood.science.range import exactly, scaled, spread

LIME: Any = {"unit": "kg", "bag_kg": 25, "bulk_kg_l": exactly(0.6)}
STONE: Any = {"unit": "each", "bag_kg": None, "bulk_kg_l": None}
OIL: Any = {"unit": "l", "bag_kg": None, "bulk_kg_l": exactly(0.93)}


def need(likely: float, unit: str = "kg") -> Any:
    return {
        "unit": unit,
        "amount": spread(0.9 * likely, likely, 1.2 * likely),
        "l": exactly(likely),
        "damp_l": None,
    }


@given(st.lists(st.floats(0.1, 60), min_size=1, max_size=12))
def test_merging_first_never_buys_more_bags_and_never_runs_short(amounts: list[float]) -> None:
    merged = shopping_list(merge_needs([{"lime": need(kg)} for kg in amounts]), {"lime": LIME}, {})["lime"]
    apart = sum(shopping_list({"lime": need(kg)}, {"lime": LIME}, {})["lime"]["bags"] or 0 for kg in amounts)
    assert (merged["bags"] or 0) <= apart
    assert merged["buy"] >= 1.2 * sum(amounts) * (1 - 1e-7)
    assert merged["left"] == pytest.approx(merged["buy"] - sum(amounts))


def test_bags_of_the_site_s_own_size_and_price() -> None:
    line = shopping_list({"lime": need(40)}, {"lime": LIME}, {"lime": {"bag_kg": 20, "price": 11.5}})["lime"]
    assert (line["bags"], line["buy"], line["price"], line["carry_kg"]) == (3, 60, 34.5, 60)
    assert (
        shopping_list({"lime": need(40)}, {"lime": LIME}, {"lime": {"bag_kg": 20, "price": None}})["lime"][
            "price"
        ]
        is None
    )


def test_what_is_counted_comes_in_wholes_and_what_is_poured_does_not() -> None:
    bought = shopping_list(
        {"stone": need(2.5, "each"), "oil": need(0.4, "l")}, {"stone": STONE, "oil": OIL}, {}
    )
    assert (bought["stone"]["bags"], bought["stone"]["carry_kg"]) == (3, 0)
    assert bought["oil"]["bags"] is None
    assert bought["oil"]["buy"] == pytest.approx(0.48)
    assert bought["oil"]["carry_kg"] == pytest.approx(0.48 * 0.93)


def test_needs_without_a_volume_merge_with_those_that_have_one() -> None:
    merged = merge_needs([{"lime": {**need(2), "l": None}}, {"lime": {**need(3), "damp_l": exactly(4)}}])[
        "lime"
    ]
    assert merged["amount"] == scaled(need(5)["amount"], 1)
    assert (merged["l"], merged["damp_l"]) == (exactly(3), exactly(4))


def test_bare_amounts_are_merged_and_rounded_once() -> None:
    jobs = [{"lime": 12.0, "sand": 3.0}, {"lime": 13.5}]
    assert round_up_once(jobs, {"lime": 25}) == {
        "lime": {"amount": 25.5, "units": 2, "buy": 50},
        "sand": {"amount": 3.0, "units": None, "buy": 3.0},
    }


@pytest.mark.parametrize(
    ("jobs", "units"),
    [([{"lime": -1.0}], {}), ([{"lime": float("nan")}], {}), ([{"lime": 1.0}], {"lime": 0})],
)
def test_amounts_and_units_that_cannot_be_are_refused(
    jobs: list[dict[str, float]], units: dict[str, float]
) -> None:
    with pytest.raises(BadInput) as refusal:
        round_up_once(jobs, units)
    assert refusal.value.code == "bad_value"
