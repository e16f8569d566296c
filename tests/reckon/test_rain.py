"""`reckon driving-rain` and `reckon storm`: tables with gaps and false readings, other units, limits."""

import pytest

HEADING = "time,wind_m_s,wind_from_deg,rain_mm\n"
HOURS = (
    "2026-03-01T00:00,5,200,2\n"
    "2026-03-01T01:00,5,,2\n"
    "2026-03-01T02:00,900,200,2\n"
    "2026-03-01T04:00,6,200,1\n"
    "2026-03-01T05:00,0,,0\n"
)


def test_gaps_are_counted_and_outliers_named(reckon, tmp_path):
    table = tmp_path / "storm.csv"
    table.write_text(HEADING + HOURS)
    answer = reckon.answer("driving-rain", str(table), "--bearing", "200")
    # By hand: 2/9 x 5 x 2^(8/9) + 2/9 x 6 x 1.
    assert answer["dose_l_m2"] == pytest.approx(2.0575 + 1.3333, abs=1e-4)
    assert (answer["known_hours"], answer["missing_hours"], answer["rain_in_gaps_mm"]) == (3, 3, 4)
    [false] = [one for one in answer["left_out"] if one["code"] == "wind_false"]
    assert (false["lines"], false["rows"]) == ([4], ["2026-03-01T02:00,900,200,2"])
    assert answer["warnings"] == ["gaps"]
    assert answer["worst_hour"]["last_hour"] == "2026-03-01T00:00"


def test_other_columns_and_units(reckon):
    table = "hour,mph,from,inch\n2026-03-01T00:00,11.184681460272,200,0.07874015748031496\n"
    options = [
        "--time-column", "hour", "--wind-column", "mph", "--wind-unit", "mph", "--wind-from-column", "from",
        "--rain-column", "inch", "--rain-unit", "inch",
    ]  # fmt: skip
    answer = reckon.answer("driving-rain", "-", "--bearing", "200", *options, text=table)
    assert answer["dose_l_m2"] == pytest.approx(2.0575, abs=1e-4)


def test_flat_roof_takes_the_rain_itself(reckon):
    answer = reckon.answer(
        "driving-rain", "-", "--bearing", "0", "--slope", "0", text=HEADING + "2026-03-01T00:00,5,200,2\n"
    )
    assert answer["dose_l_m2"] == pytest.approx(2)


def test_factors_and_limits(reckon):
    options = ["--obstruction", "0.5", "--wall", "0.4", "--mountains"]
    text = HEADING + "2026-03-01T00:00,5,200,2\n"
    answer = reckon.answer("driving-rain", "-", "--bearing", "200", *options, text=text)
    assert answer["dose_l_m2"] == pytest.approx(2.0575 * 0.2, abs=1e-4)
    assert answer["warnings"] == ["mountains", "from_memory"]
    assert len(answer["limits"]) == 2


@pytest.mark.parametrize(
    ("options", "text", "code"),
    [
        (["--bearing", "400"], HEADING + HOURS, "out_of_range"),
        (["--bearing", "nan"], HEADING + HOURS, "out_of_range"),
        (["--bearing", "north"], HEADING + HOURS, "bad_argument"),
        ([], HEADING + HOURS, "bad_argument"),
        (["--bearing", "0", "--terrain", "V"], HEADING + HOURS, "terrain_unknown"),
        (["--bearing", "0", "--wind-unit", "furlongs"], HEADING + HOURS, "bad_argument"),
        (["--bearing", "0"], "", "column_missing"),
        (["--bearing", "0"], "time,rain_mm\n", "column_missing"),
        (["--bearing", "0"], "time,wind_m_s,wind_from_deg\n2026-03-01T00:00,5,200\n", "rain_not_recorded"),
        (["--bearing", "0"], HEADING, "weather_empty"),
    ],
)
def test_what_cannot_be_is_refused(reckon, options, text, code):
    assert reckon.refusal("driving-rain", "-", *options, text=text)["code"] == code


def test_missing_file_is_named(reckon, tmp_path):
    refused = reckon.refusal("driving-rain", str(tmp_path / "none.csv"), "--bearing", "0")
    assert (refused["code"], list(refused["fields"])) == ("file_unknown", ["file"])
    assert reckon.refusal("driving-rain", str(tmp_path), "--bearing", "0")["code"] == "file_unreadable"


def test_storm_by_its_totals_keeps_its_order_and_needs_a_face(reckon):
    answer = reckon.answer(
        "storm", given={"rain_mm": 40, "wind_m_s": 12, "wind_from_deg": 210, "bearing_deg": 200}
    )
    dose = answer["dose_l_m2"]
    assert 0 < dose["low"] < dose["likely"] < dose["high"]
    level = reckon.answer("storm", given={"rain_mm": 40, "wind_m_s": 0, "bearing_deg": 0, "slope_deg": 0})
    assert level["dose_l_m2"] == {"low": 40, "likely": 40, "high": 40}
    assert reckon.refusal("storm", given={"rain_mm": 40, "wind_m_s": 12})["code"] == "missing_field"
