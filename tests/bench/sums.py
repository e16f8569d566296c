"""The sums: estimates of tickets, driving rain from the text of a table on, endurance, start of a command."""

import os
import random
import subprocess
import sys
from collections.abc import Iterable
from datetime import datetime, timedelta
from typing import Any

import numpy as np

from makegood.domain.catalogue import build_catalogue
from makegood.science.driving_rain import Face, face_dose, rain_hours
from makegood.science.endurance import interval_curve
from makegood.science.estimate import estimate
from makegood.science.weather.table import read_weather
from tests.bench import Line, best_s
from tests.house.tree import ROOT

TICKETS, FACES, YEARS, INTERVALS = 1000, 20, 10, 500
BEARINGS = [360 / FACES * k for k in range(FACES)]
WEATHER_LIMIT_S = 2.0


def cases() -> Iterable[Line]:
    """Return the lines of all sums."""
    yield from _estimates()
    for name, wet in (("one hour in ten wet", 0.1), ("every hour wet", 1.0)):
        yield from _weather(name, wet)
    yield _endurance()
    yield _start()


def _estimates() -> Iterable[Line]:
    catalogue: Any = build_catalogue()
    chance = random.Random(1)
    methods = [one for one in catalogue["methods"].values() if one["per"] == "area" and one["coats"]]
    jobs = [_job(chance) for _ in range(TICKETS)]
    picked = [chance.choice(methods) for _ in jobs]

    def deed() -> None:
        for job, method in zip(jobs, picked, strict=True):
            estimate(job, method, catalogue["mixes"], catalogue["materials"])

    yield Line(f"estimate of {TICKETS} tickets", best_s(deed), 1.0, "s")


def _job(chance: random.Random) -> Any:
    area_m2 = chance.uniform(0.05, 6)
    return {"area_m2": area_m2, "perimeter_m": 5 * area_m2**0.5, "depth_mean_mm": chance.uniform(2, 60)}


def _table(wet: float) -> list[str]:
    chance, start = random.Random(2), datetime(2015, 1, 1)
    lines = ["time,wind_m_s,wind_from_deg,rain_mm"]
    for hour in range(YEARS * 8760):
        at = (start + timedelta(hours=hour)).isoformat(timespec="minutes")
        rain_mm = chance.uniform(0.1, 8) if chance.random() < wet else 0.0
        lines.append(f"{at},{chance.uniform(0.1, 15):.1f},{chance.randrange(0, 361, 10)},{rain_mm:.1f}")
    return lines


def _weather(name: str, wet: float) -> Iterable[Line]:
    lines = _table(wet)
    table = read_weather(lines)
    rain = rain_hours(table.hours)
    doses = [face_dose(rain, Face(bearing)).l_m2 for bearing in BEARINGS]
    if not np.allclose(doses, _numpy_doses(lines), rtol=1e-9):
        raise AssertionError("the doses differ from plain numpy; a speed of wrong sums means nothing")

    def ours() -> None:
        hours = rain_hours(read_weather(lines).hours)
        for bearing in BEARINGS:
            face_dose(hours, Face(bearing))

    what = f"dose of {FACES} faces, {YEARS} years of hours, {name}"
    measured = best_s(ours, times=2)
    yield Line(f"{what}, from the text on", measured, WEATHER_LIMIT_S, "s")
    # The peer sums doses only; ours finds spells, gaps, worst totals and false readings too.
    yield Line(
        f"{what}, beside plain numpy",
        measured,
        best_s(lambda: _numpy_doses(lines), times=2),
        "s",
        "peer",
        None,
    )


def _numpy_doses(lines: list[str]) -> Any:
    cells = np.loadtxt(lines, delimiter=",", skiprows=1, usecols=(1, 2, 3))
    wind, from_deg, rain = cells.T
    angles = np.deg2rad(from_deg - np.array(BEARINGS)[:, None])
    return np.clip(2 / 9 * wind * rain ** (8 / 9) * np.cos(angles), 0, None).sum(axis=1)


def _endurance() -> Line:
    chance = random.Random(3)
    lefts = [chance.uniform(0, 900) for _ in range(INTERVALS)]
    seen = [(left, left + chance.uniform(5, 300) if chance.random() < 0.7 else None) for left in lefts]
    if not interval_curve(seen).converged:
        raise AssertionError("the masses did not settle; a speed of an unfinished search means nothing")
    return Line(f"endurance of {INTERVALS} intervals", best_s(lambda: interval_curve(seen)), 1.0, "s")


def _start() -> Line:
    environment = {**os.environ, "PYTHONPATH": str(ROOT / "server")}
    asked = '{"surface": {"kind": "flat", "width_m": 4, "height_m": 3}}'

    def deed() -> None:
        command = [sys.executable, "-m", "makegood", "reckon", "area"]
        subprocess.run(command, input=asked, text=True, check=True, capture_output=True, env=environment)

    return Line("`makegood reckon area`, start to answer", best_s(deed), 0.3, "s")
