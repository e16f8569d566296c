"""`reckon shopping`: merged first, rounded once."""

import pytest

COATS = [{"mix": "lime_base_coat", "thickness_mm": 12}]


def printed_estimate(reckon, area_m2):
    return reckon.answer("estimate", given={"area_m2": area_m2, "coats": COATS})


def test_jobs_are_merged_before_they_are_rounded(reckon):
    given = {"jobs": [{"lime": 12.4}, {"lime": 12.4, "sand": 3}], "round_up_to": {"lime": 25, "jam": 1}}
    answer = reckon.answer("shopping", given=given)
    assert answer["materials"]["lime"] == {"amount": 24.8, "units": 1, "buy": 25, "round_up_to": 25}
    assert answer["materials"]["sand"] == {"amount": 3, "units": None, "buy": 3, "round_up_to": None}
    assert answer["warnings"] == ["not_used: round_up_to.jam"]


def test_printed_estimates_are_bought_by_their_high_side_in_whole_bags(reckon):
    one, other = printed_estimate(reckon, 1.5), printed_estimate(reckon, 2.5)
    answer = reckon.answer("shopping", given={"estimates": [one, other]})
    lime = answer["materials"]["nhl_2"]
    high = one["materials"]["nhl_2"]["high"] + other["materials"]["nhl_2"]["high"]
    assert lime["high"] == pytest.approx(high)
    assert lime["buy"] == 25 * lime["bags"] >= high > 25 * (lime["bags"] - 1)
    assert reckon.answer("shopping", given=[one, other]) == answer
    assert reckon.answer("shopping", given={"jobs": [one, other]}) == answer


def test_own_bags_prices_and_units_of_sale(reckon):
    given = {
        "estimates": [printed_estimate(reckon, 4)],
        "bags": {"nhl_2": {"bag_kg": 20, "price": 11.5}},
        "round_up_to": {"water": 10, "sharp_sand": 40},
    }
    answer = reckon.answer("shopping", given=given)
    lime, water, sand = (answer["materials"][key] for key in ("nhl_2", "water", "sharp_sand"))
    assert lime["buy"] % 20 == 0
    assert answer["price"] == pytest.approx(11.5 * lime["bags"])
    assert (water["buy"] % 10, water["carry_kg"]) == (0, pytest.approx(water["buy"]))
    assert (sand["buy"], sand["bag_kg"]) == (40 * sand["bags"], 40)
    assert answer["warnings"] == ["some_prices_unknown"]


@pytest.mark.parametrize(
    ("given", "code"),
    [
        ({}, "missing_field"),
        ({"jobs": [{"lime": -1}]}, "bad_value"),
        ({"jobs": [{"lime": "much"}]}, "bad_value"),
        ({"jobs": [{"lime": 1}], "round_up_to": {"lime": 0}}, "bad_value"),
        ({"jobs": [1]}, "bad_value"),
        ({"estimates": [{}]}, "missing_field"),
        (
            {"estimates": [{"materials": {"jam": {"unit": "kg", "low": 1, "likely": 1, "high": 1}}}]},
            "unknown_material",
        ),
        (
            {"estimates": [{"materials": {"nhl_2": {"unit": "kg", "low": 3, "likely": 1, "high": 1}}}]},
            "bad_value",
        ),
        ({"estimates": [], "bags": {"nhl_2": {"bag_kg": 0}}}, "bags_refused"),
    ],
)
def test_what_cannot_be_is_refused(reckon, given, code):
    assert reckon.refusal("shopping", given=given)["code"] == code
