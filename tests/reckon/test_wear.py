"""`reckon endurance` and `reckon erosion`: what they answer beyond the outside cases, and refuse."""

import pytest


def test_a_handful_is_said_to_be_too_few(reckon):
    answer = reckon.answer("endurance", given={"durations": [10, 20], "observed": [1, 0]})
    assert (answer["median"], answer["warnings"]) == (10, ["too_few"])
    assert reckon.answer("endurance", given={"intervals": [[0, 3]]})["warnings"] == ["too_few"]


def test_sound_at_left_keeps_apart_intervals_that_only_touch(reckon):
    touching = [[0, 5], [5, 9]]
    assert reckon.answer("endurance", given={"intervals": touching})["support"] == [[5, 5]]
    apart = reckon.answer("endurance", given={"intervals": touching, "sound_at_left": True})
    assert apart["support"] == [[0, 5], [5, 9]]


@pytest.mark.parametrize(
    ("given", "code"),
    [
        ({}, "missing_field"),
        ({"durations": [1], "observed": [1], "intervals": [[0, 1]]}, "missing_field"),
        ({"durations": [1]}, "missing_field"),
        ({"durations": [1, 2], "observed": [1]}, "lengths_differ"),
        ({"durations": [], "observed": []}, "no_durations"),
        ({"durations": [-1], "observed": [1]}, "duration_refused"),
        ({"durations": ["a"], "observed": [1]}, "bad_value"),
        ({"durations": [1], "observed": [2]}, "bad_value"),
        ({"durations": [1], "observed": [[]]}, "bad_value"),
        ({"intervals": []}, "no_durations"),
        ({"intervals": [[2, 1]]}, "interval_refused"),
        ({"intervals": [[None, 1]]}, "bad_value"),
        ({"intervals": [[-1, 1]]}, "bad_value"),
        ({"intervals": [5]}, "bad_value"),
        ({"intervals": [[0, 1]], "weights": [0]}, "weight_refused"),
        ({"intervals": [[0, 1]], "weights": [1, 1]}, "lengths_differ"),
    ],
)
def test_what_endurance_cannot_use_is_refused(reckon, given, code):
    assert reckon.refusal("endurance", given=given)["code"] == code


def test_doses_to_breach_count_storms_like_the_last(reckon):
    depths = [
        {"on": "2025-01-01", "mean_mm": 1, "deepest_mm": 4},
        {"on": "2026-01-01", "depth_mean_mm": 3, "depth_max_mm": 10, "l_m2": 120},
    ]
    answer = reckon.answer(
        "erosion", given={"depths": depths, "coat_thickness_mm": 22, "last_storm_l_m2": 30}
    )
    # By hand: 6 mm over 120 L/m2 is 0.05 mm per L/m2; 12 mm are left, 1.5 mm to a storm: 8 storms.
    assert answer["deepest"]["mm_per_l_m2"]["likely"] == pytest.approx(0.05)
    assert answer["doses_to_breach"]["likely"] == pytest.approx(8)
    assert answer["mean"]["doses"]["likely"] == pytest.approx(19 / 0.5)


def test_one_depth_gives_no_rate(reckon):
    answer = reckon.answer(
        "erosion", given={"depths": [{"on": "2026-01-01", "mean_mm": 1, "deepest_mm": 4}], "coat_mm": 20}
    )
    assert (answer["years_to_breach"], answer["warnings"]) == (None, ["one_depth_only"])
    assert (answer["mean"]["mm_per_year"], answer["deepest"]["remaining_mm"]) == (None, 16)


@pytest.mark.parametrize(
    ("given", "code"),
    [
        ({"coat_mm": 20}, "no_depths"),
        ({"depths": [{"on": "2026-01-01", "mean_mm": 1, "deepest_mm": 4}]}, "missing_field"),
        ({"depths": [{"on": "yesterday", "mean_mm": 1, "deepest_mm": 4}], "coat_mm": 20}, "bad_value"),
        ({"depths": [{"mean_mm": 1, "deepest_mm": 4}], "coat_mm": 20}, "missing_field"),
        ({"depths": [{"on": "2026-01-01", "mean_mm": 5, "deepest_mm": 4}], "coat_mm": 20}, "depth_refused"),
        (
            {"depths": [{"on": "2026-01-01", "mean_mm": 1, "deepest_mm": 4, "rain": 3}], "coat_mm": 20},
            "unknown_field",
        ),
        ({"depths": [{"on": "2026-01-01", "mean_mm": 1, "deepest_mm": 4}], "coat_mm": 0}, "coat_refused"),
        ({"depths": "deep", "coat_mm": 20}, "bad_value"),
    ],
)
def test_what_erosion_cannot_use_is_refused(reckon, given, code):
    assert reckon.refusal("erosion", given=given)["code"] == code
