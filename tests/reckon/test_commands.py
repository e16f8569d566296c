"""The command itself: where input comes from, one shape of refusals, a light start, nothing thrown."""

import io
import json
import subprocess
import sys

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from makegood.reckon.commands import SUMS
from tests.house.tree import ROOT

FLAT = {"kind": "flat", "width_m": 4, "height_m": 3}
HEAVY = (
    "flask",
    "sqlalchemy",
    "marshmallow",
    "PIL",
    "alembic",
    "waitress",
    "icalendar",
    "makegood.store",
    "makegood.api",
)


def python(*arguments: str, fed: str = "") -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, *arguments],
        input=fed,
        capture_output=True,
        text=True,
        check=False,
        cwd=ROOT / "server",
    )


def test_as_a_process():
    done = python("-m", "makegood", "reckon", "area", fed=json.dumps({"surface": FLAT}))
    assert (done.returncode, done.stderr) == (0, "")
    assert json.loads(done.stdout)["area_m2"] == 12


def test_refusal_as_a_process():
    done = python("-m", "makegood", "reckon", "area", fed="{")
    assert (done.returncode, done.stdout) == (2, "")
    assert json.loads(done.stderr)["code"] == "bad_json"


@pytest.mark.parametrize("name", ["area", "estimate", "curing", "driving-rain"])
def test_starts_without_server_or_database(name):
    code = (
        "import sys\nfrom makegood.__main__ import main\nmain(['reckon', *sys.argv[1:]])\n"
        f"print([name for name in {HEAVY!r} if name in sys.modules])"
    )
    options = ["-", "--bearing", "0"] if name == "driving-rain" else []
    done = python("-c", code, name, *options, fed="{}")
    assert json.loads(done.stderr)["code"] in ("missing_field", "column_missing")
    assert done.stdout == "[]\n"


def test_input_from_a_file(reckon, tmp_path):
    place = tmp_path / "wall.json"
    place.write_text(json.dumps({"surface": FLAT}), encoding="utf-8-sig")
    assert reckon.answer("area", str(place))["area_m2"] == 12


def test_standard_input_without_bytes(monkeypatch, reckon):
    from makegood.reckon.given import read_json

    monkeypatch.setattr("sys.stdin", io.StringIO('{"a": 1}'))
    assert read_json("-") == {"a": 1}


@pytest.mark.parametrize("text", ["", "{", "[1, 2", "\x00", "[" * 100_000, '{"a": 1} {'])
def test_what_is_no_json_is_refused(reckon, text):
    assert reckon.refusal("area", text=text)["code"] == "bad_json"


@pytest.mark.parametrize("number", ["NaN", "Infinity", "-Infinity", "1e999", "1e16", "9" * 5000])
def test_numbers_out_of_bounds_are_refused(reckon, number):
    text = f'{{"surface": {{"kind": "flat", "width_m": {number}, "height_m": 3}}}}'
    assert reckon.refusal("area", text=text)["code"] in ("bad_value", "bad_json")


@pytest.mark.parametrize(
    "arguments", [[], ["nonsense"], ["area", "--what"], ["area", "-", "more"], ["gate", "--ics", "x"]]
)
def test_what_cannot_be_asked_is_refused(reckon, arguments):
    assert reckon.refusal(*arguments)["code"] == "bad_argument"


def test_missing_file_and_file_that_is_no_text(reckon, tmp_path):
    assert reckon.refusal("area", str(tmp_path / "none.json"))["code"] == "file_unknown"
    (tmp_path / "photo.json").write_bytes(b"\xff\xd8\xff\xe0")
    assert reckon.refusal("area", str(tmp_path / "photo.json"))["code"] == "file_not_text"


@pytest.mark.parametrize("name", [name for name in SUMS if name != "shopping"])
@pytest.mark.parametrize("fed", [[], 3, "wall", None, True])
def test_what_is_no_description_is_refused(reckon, name, fed):
    assert reckon.refusal(name, given=fed)["code"] == "bad_value"


def test_numbers_that_run_out_are_refused_not_printed(reckon):
    given = {"solids": [{"mass_kg": 1e14, "solid_density_kg_l": 1e-310}]}
    assert reckon.refusal("yield", given=given)["code"] == "out_of_range"


def test_help_is_no_refusal(capsys):
    from makegood.__main__ import main

    with pytest.raises(SystemExit) as ended:
        main(["reckon", "--help"])
    assert ended.value.code == 0
    assert "driving-rain" in capsys.readouterr().out


FIELDS = [
    "surface", "view", "outline_m", "kind", "width_m", "height_m", "batter_deg", "solids",
    "mass_kg", "solid_density_kg_l", "bulk_density_kg_l", "loose_volume_l", "voids", "water_l",
    "air", "area_m2", "perimeter_m", "method", "coats", "mix", "thickness_mm", "loss", "low",
    "likely", "high", "jobs", "estimates", "round_up_to", "bags", "bag_kg", "price", "materials",
    "unit", "l", "durations", "observed", "intervals", "weights", "against", "depths", "on",
    "mean_mm", "deepest_mm", "l_m2", "coat_mm", "last_storm_l_m2", "start", "frost_free_days",
    "check_after_days", "temperature_c", "trend", "nights_c", "wall_dry", "rain_in_h",
    "days_since_wet", "rain_mm", "wind_m_s", "bearing_deg", "free_rain_l_m2", "deposition",
    "terrain", "depth_mean_mm", "length_m", "count", "recipes", "nhl_2",
]  # fmt: skip
NAMES = st.sampled_from(FIELDS)
WORDS = st.sampled_from(
    [
        "flat",
        "seen",
        "patch_two_coats",
        "fill_crack",
        "lime_coat",
        "limewash",
        "2026-04-01",
        "9999-12-31",
        "kg",
        "falling",
        "II",
        "",
    ]
)
NUMBERS = st.one_of(st.integers(-3, 40), st.floats(allow_nan=False, allow_infinity=False), st.floats(0, 1))
VALUES = st.recursive(
    st.one_of(st.none(), st.booleans(), NUMBERS, WORDS),
    lambda inner: st.one_of(st.lists(inner, max_size=4), st.dictionaries(NAMES, inner, max_size=6)),
    max_leaves=25,
)


@pytest.mark.parametrize("name", list(SUMS))
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(fields=st.dictionaries(NAMES, VALUES, max_size=10))
def test_anything_at_all_is_answered_or_refused(reckon, name, fields):
    status, out, err = reckon.run(name, given=fields)
    assert status in (0, 2)
    assert json.loads(err if status else out, parse_constant=pytest.fail)
    assert (out if status else err) == ""


CELLS = st.sampled_from(
    [
        "2026-03-01T00:00",
        "2026-03-01T01:00",
        "9999-12-31T23:00",
        "0001-01-01",
        "5",
        "-1",
        "1e300",
        "nan",
        "",
        "T",
        '"',
        "361",
    ]
)
ROWS = st.lists(st.lists(CELLS, max_size=5).map(",".join), max_size=12)


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(rows=ROWS)
def test_any_weather_table_is_answered_or_refused(reckon, rows):
    text = "\n".join(["time,wind_m_s,wind_from_deg,rain_mm", *rows])
    status, out, err = reckon.run("driving-rain", "-", "--bearing", "200", text=text)
    assert status in (0, 2)
    assert json.loads(err if status else out, parse_constant=pytest.fail)
