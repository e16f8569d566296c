"""A weather station's table of ten years: from its bytes to the storms in it; and doses for the faces of a site."""

import random
from collections.abc import Iterable
from datetime import datetime, timedelta

from makegood.science.driving_rain import Face, face_dose, rain_hours
from makegood.science.weather.table import read_weather
from makegood.work.weather.read_station import StationWish, read_station
from tests.bench import Line, best_s

YEARS, FACES = 10, 30
TABLE_LIMIT_S, FACES_LIMIT_S = 3.0, 2.0


def cases() -> Iterable[Line]:
    """Return the lines of the table."""
    table = station_table()
    answer = read_station(table, StationWish({}, "Europe/Madrid", keep_good=True))
    if answer["hours"] < YEARS * 8700 or len(answer["spells"]) < 100:
        raise AssertionError("the table was not read; a speed of that means nothing")
    wish = StationWish({}, "Europe/Madrid", keep_good=True)
    megabytes = len(table) / 2**20
    what = f"a station's table of {YEARS} years ({megabytes:.1f} MiB), local time, to its storms"
    yield Line(what, best_s(lambda: read_station(table, wish), times=2), TABLE_LIMIT_S, "s")
    hours = read_weather(table.decode().splitlines()).hours
    rain = rain_hours(hours)

    def doses() -> None:
        for k in range(FACES):
            face_dose(rain, Face(360 / FACES * k))

    yield Line(f"doses of {FACES} faces over the same hours", best_s(doses, times=2), FACES_LIMIT_S, "s")


def station_table() -> bytes:
    """Return ten years of hours as a station writes them; it rains in one hour of ten, in runs."""
    chance, begun, raining = random.Random(3), datetime(2015, 1, 1), False
    lines = ["time,wind_m_s,wind_from_deg,rain_mm"]
    for hour in range(YEARS * 8766):
        raining = chance.random() < (0.8 if raining else 0.02)
        rain_mm = chance.uniform(0.1, 8) if raining else 0.0
        at = (begun + timedelta(hours=hour)).isoformat(sep=" ", timespec="minutes")
        lines.append(f"{at},{chance.uniform(0.1, 15):.1f},{chance.randrange(0, 361, 10)},{rain_mm:.1f}")
    return "\n".join(lines).encode()
