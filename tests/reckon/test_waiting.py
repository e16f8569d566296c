"""`reckon curing` and `reckon gate`: dated steps, the calendar file, and why not today."""

from datetime import date

import pytest
from icalendar import Calendar


def test_steps_of_a_method_from_a_start_date(reckon):
    answer = reckon.answer("curing", given={"start": "2026-04-01", "method": "patch_two_coats"})
    laid = [(step["mix"], step["likely"]) for step in answer["steps"] if step["kind"] == "lay"]
    # Days of shared/mixes.json: the second coat waits the 8 days of the first.
    assert laid == [("lime_coat", "2026-04-01"), ("lime_finish", "2026-04-09")]
    assert answer["warnings"] == ["frost_free_days_from_memory"]


def test_own_coats_days_and_checks(reckon):
    coats = [{"mix": "lime_finish", "thickness_mm": 4}, {"mix": "lime_coat", "thickness_mm": 8}]
    given = {"start": "2026-04-01", "coats": coats, "frost_free_days": 10, "check_after_days": [3]}
    answer = reckon.answer("curing", given=given)
    kinds = [step["kind"] for step in answer["steps"]]
    assert kinds.count("check") == 1
    assert answer["warnings"] == ["richer_than_below", "thicker_than_below"]


@pytest.mark.parametrize(
    ("mix", "likely"),
    [("lime_coat", "2026-04-22"), ("putty_coat", "2026-05-20"), ("earth_finish", "2026-04-08")],
)
def test_frost_must_stay_away_longer_from_air_lime(reckon, mix, likely):
    given = {"start": "2026-04-01", "coats": [{"mix": mix, "thickness_mm": 5}]}
    steps = reckon.answer("curing", given=given)["steps"]
    assert [step["likely"] for step in steps if step["kind"] == "frost_free_until"] == [likely]


def test_calendar_file_holds_each_step(reckon, tmp_path):
    place = tmp_path / "curing.ics"
    given = {"start": "2026-04-01", "method": "patch_two_coats", "title": "North wall"}
    answer = reckon.answer("curing", "--ics", str(place), given=given)
    entries = Calendar.from_ical(place.read_bytes()).walk("VEVENT")
    assert [entry.decoded("dtstart").isoformat() for entry in entries] == [
        step["likely"] for step in answer["steps"]
    ]
    assert all(str(entry["summary"]).startswith("North wall: ") for entry in entries)
    assert entries[0].decoded("dtend") == date(2026, 4, 2)


def test_calendar_that_cannot_be_written_is_refused(reckon, tmp_path):
    given = {"start": "2026-04-01", "method": "patch_two_coats"}
    assert (
        reckon.refusal("curing", "--ics", str(tmp_path / "no" / "x.ics"), given=given)["code"]
        == "file_unwritable"
    )


@pytest.mark.parametrize(
    ("given", "code"),
    [
        ({"method": "patch_two_coats"}, "missing_field"),
        ({"start": "2026-04-01"}, "missing_field"),
        ({"start": "2026-04-01", "coats": []}, "no_coats"),
        ({"start": "2026-04-01", "method": "keep_watch"}, "no_coats"),
        ({"start": "9999-12-30", "method": "patch_two_coats"}, "date_refused"),
        ({"start": "2026-04-01", "method": "patch_two_coats", "check_after_days": [-1]}, "bad_value"),
        (
            {
                "start": "2026-04-01",
                "coats": [{"mix": "lime_coat", "thickness_mm": 8}],
                "frost_free_days": 900,
            },
            "days_refused",
        ),
    ],
)
def test_what_curing_cannot_use_is_refused(reckon, given, code):
    assert reckon.refusal("curing", given=given)["code"] == code


def test_gate_says_stop_and_why(reckon):
    answer = reckon.answer("gate", given={"temperature_c": 5, "trend": "falling", "wall_dry": True})
    assert (answer["verdict"], [one["code"] for one in answer["reasons"]]) == ("stop", ["too_cold"])


def test_gate_lets_a_good_day_pass(reckon):
    given = {"temperature_c": 15, "trend": "steady", "wall_dry": True, "days_since_wet": 12}
    answer = reckon.answer("gate", given=given)
    assert (answer["verdict"], answer["reasons"], answer["warnings"]) == ("go", [], [])
    assert answer["days_left_to_dry"] == {"low": 0, "likely": 0, "high": pytest.approx(19.4)}


def test_gate_without_a_trend_takes_the_safer_one(reckon):
    answer = reckon.answer("gate", given={"temperature_c": 4})
    assert (answer["verdict"], answer["warnings"]) == ("stop", ["trend_assumed_steady"])
    assert reckon.refusal("gate", given={"trend": "falling"})["code"] == "missing_field"
    assert reckon.refusal("gate", given={"temperature_c": 4, "trend": "up"})["code"] == "unknown_choice"


def test_method_s_own_waits_hold_where_they_are_longer_and_earth_has_its_own(reckon):
    def damp(**given):
        steps = reckon.answer("curing", given={"start": "2026-04-01", "method": "patch_one_coat", **given})["steps"]
        return next(step for step in steps if step["kind"] == "damp_until")

    # Lime finish is kept damp 3, 7 or 10 days by its mix, 4, 7 or 10 by the method (common practice, no source).
    assert damp()["earliest"] == "2026-04-05"
    assert damp(finish_kind="earth")["likely"] == "2026-04-02"
    assert damp(coats=[{"mix": "lime_finish", "thickness_mm": 4}])["earliest"] == "2026-04-04"
