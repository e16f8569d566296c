"""Why not today. Temperature with trend: a national specification, clause 497 (read)."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from makegood.errors import BadInput
from makegood.science.gate import TRENDS, Today, days_left_to_dry, why_not_today
from makegood.science.range import exactly

FINE = Today(15, "rising", wall_dry=True)


def reasons(today: Today) -> dict[str, str]:
    return {reason.code: reason.level for reason in why_not_today(today).reasons}


def test_fine_day_goes():
    assert why_not_today(FINE) == ("go", [])


@pytest.mark.parametrize(
    ("temperature_c", "trend", "stopped"),
    [
        (5, "falling", True),
        (5.1, "falling", False),
        (4, "rising", False),
        (3, "rising", False),
        (2.9, "rising", True),
        (5, "steady", True),
        (5.1, "steady", False),
        (-10, "rising", True),
    ],
)
def test_temperature_with_trend(temperature_c, trend, stopped):
    today = replace(FINE, temperature_c=temperature_c, trend=trend)
    assert (why_not_today(today).verdict == "stop") is stopped
    assert ("too_cold" in reasons(today)) is stopped


@pytest.mark.parametrize(
    ("temperature_c", "code"), [(7.9, "cool_for_lime"), (8, None), (30, None), (30.1, "hot_for_lime")]
)
def test_stricter_range_for_lime_is_a_caution(temperature_c, code):
    today = replace(FINE, temperature_c=temperature_c)
    assert reasons(today) == ({} if code is None else {code: "caution"})
    assert why_not_today(today).verdict == ("go" if code is None else "caution")


@pytest.mark.parametrize(
    ("nights", "covered", "level"),
    [
        ((3, 1, 0), False, "stop"),
        ((3, 1, 0), True, "caution"),
        ((-1, 4, 4), True, "stop"),
        ((3, 1, 0.5), False, None),
        # The fourth night is past the days that matter.
        ((3, 1, 0.5, -5), False, None),
    ],
)
def test_frost_ahead(nights, covered, level):
    today = replace(FINE, nights_c=nights, frost_free_days=3, covered=covered)
    assert reasons(today).get("frost_ahead") == level


def test_frost_sentence_counts_the_nights():
    [reason] = why_not_today(replace(FINE, nights_c=(3, 1, 0), frost_free_days=3)).reasons
    assert "3 nights" in reason.say


def test_forecast_too_short_is_said_but_stops_nobody():
    today = replace(FINE, nights_c=(5, 5), frost_free_days=14)
    assert reasons(today) == {"forecast_too_short": "note"}
    assert why_not_today(today).verdict == "go"


def test_frozen_wall_stops():
    assert reasons(replace(FINE, wall_frozen=True)) == {"frozen": "stop"}


@pytest.mark.parametrize(
    ("wall_dry", "expected"),
    [(True, {}), (False, {"wall_not_dry": "stop"}), (None, {"wall_not_looked_at": "caution"})],
)
def test_wall_behind(wall_dry, expected):
    assert reasons(replace(FINE, wall_dry=wall_dry)) == expected


@pytest.mark.parametrize(
    ("rain_in_h", "covered", "expected"),
    [
        (None, False, {}),
        (24, False, {}),
        (23.9, False, {"rain_due": "stop"}),
        (0, True, {"rain_due": "caution"}),
    ],
)
def test_rain_due(rain_in_h, covered, expected):
    assert reasons(replace(FINE, rain_in_h=rain_in_h, covered=covered)) == expected


@pytest.mark.parametrize(
    ("change", "expected"),
    [
        ({"sun_on_wall": True, "temperature_c": 19.9}, {}),
        ({"sun_on_wall": True, "temperature_c": 20}, {"sun_on_wall": "caution"}),
        ({"wind_m_s": 7.9}, {}),
        ({"wind_m_s": 8}, {"drying_wind": "caution"}),
    ],
)
def test_sun_and_wind(change, expected):
    assert reasons(replace(FINE, **change)) == expected


def test_all_reasons_are_given_worst_first():
    bad = Today(
        2,
        "falling",
        nights_c=(-3,),
        frost_free_days=14,
        wall_dry=False,
        wall_frozen=True,
        rain_in_h=1,
        wind_m_s=20,
    )
    verdict = why_not_today(bad)
    assert verdict.verdict == "stop"
    levels = [reason.level for reason in verdict.reasons]
    assert levels == ["stop"] * 5 + ["caution"]
    assert all(reason.say.endswith(".") for reason in verdict.reasons)


@given(st.floats(-60, 60), st.floats(-60, 60), st.sampled_from(TRENDS))
def test_warmer_never_turns_go_to_too_cold(one, other, trend):
    cold, warm = sorted((one, other))
    if "too_cold" not in reasons(replace(FINE, temperature_c=cold, trend=trend)):
        assert "too_cold" not in reasons(replace(FINE, temperature_c=warm, trend=trend))


def test_days_left_to_dry_may_be_more_than_thirty():
    assert days_left_to_dry(0) == {"low": 0.2, "likely": 10, "high": 31.4}
    assert days_left_to_dry(12)["likely"] == 0
    assert days_left_to_dry(1.4)["high"] == pytest.approx(30)
    assert days_left_to_dry(10, exactly(60)) == exactly(50)


@pytest.mark.parametrize(
    ("reckon", "code"),
    [
        (lambda: why_not_today(replace(FINE, trend="up")), "trend_unknown"),
        (lambda: why_not_today(replace(FINE, temperature_c=100)), "out_of_range"),
        (lambda: why_not_today(replace(FINE, temperature_c=float("nan"))), "out_of_range"),
        (lambda: why_not_today(replace(FINE, wind_m_s=-1)), "out_of_range"),
        (lambda: why_not_today(replace(FINE, rain_in_h=-1)), "out_of_range"),
        (lambda: days_left_to_dry(-1), "out_of_range"),
    ],
)
def test_what_cannot_be_judged_is_refused(reckon, code):
    with pytest.raises(BadInput) as refused:
        reckon()
    assert refused.value.code == code
