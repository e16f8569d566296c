"""`reckon driving-rain` and `reckon storm`: rain on a face, from a weather table or a storm's totals."""

import argparse
from collections.abc import Sequence

from makegood.reckon.given import Given, bad, read_text
from makegood.science.driving_rain import (
    LIMITS,
    BareStorm,
    Exposure,
    Face,
    FaceDose,
    digest_wall_rain,
    face_dose,
    rain_hours,
    storm_dose,
)
from makegood.science.weather.notices import Notice
from makegood.science.weather.spells import Spell, Worst
from makegood.science.weather.table import (
    RAIN_UNITS_MM,
    WIND_UNITS_M_S,
    Layout,
    hour_start,
    read_weather,
)

_ROW_SHOWN = 200
FACTORS = ("topography", "obstruction", "wall")


def add_weather_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what `reckon driving-rain` takes."""
    parser.add_argument(
        "file", metavar="FILE.csv", help='hourly weather with a heading; "-" reads standard input'
    )
    parser.add_argument(
        "--bearing", type=float, required=True, help="compass direction the face looks to, degrees"
    )
    parser.add_argument(
        "--slope",
        type=float,
        default=90.0,
        help="90 an upright wall (default), 0 a flat roof, over 90 overhanging",
    )
    parser.add_argument("--terrain", help="roughness class I, II, III or IV; left out: open airfield")
    parser.add_argument(
        "--height-m", type=float, default=10.0, help="height above ground for --terrain (default 10)"
    )
    for factor in FACTORS:
        parser.add_argument(
            f"--{factor}", type=float, default=1.0, help=f"{factor} factor, 0 to 2 (default 1)"
        )
    for limit in ("mountains", "snow-or-hail"):
        parser.add_argument(
            f"--{limit}", action="store_true", help=f"known to hold here: {limit.replace('-', ' ')}"
        )
    parser.add_argument("--time-column", default="time", help="name of the column (default time)")
    parser.add_argument(
        "--wind-column", help="name of the column (default wind_m_s, or wind_mph, wind_kn, wind_km_h)"
    )
    parser.add_argument(
        "--wind-from-column", default="wind_from_deg", help="name of the column (default wind_from_deg)"
    )
    parser.add_argument("--rain-column", help="name of the column (default rain_mm, or rain_inch)")
    parser.add_argument("--wind-unit", choices=list(WIND_UNITS_M_S), help="unit of the wind column")
    parser.add_argument("--rain-unit", choices=list(RAIN_UNITS_MM), help="unit of the rain column")


def driving_rain(args: argparse.Namespace) -> dict[str, object]:
    """Return dose, spells, worst totals, gaps and what was left out; see `makegood.science.driving_rain`."""
    face = Face(args.bearing, args.slope)
    heeded = tuple(name for name in ("mountains", "snow_or_hail") if getattr(args, name))
    topography, obstruction, wall = (getattr(args, name) for name in FACTORS)
    exposure = Exposure(args.terrain, args.height_m, topography, obstruction, wall, heeded)
    layout = Layout(
        args.time_column,
        args.wind_from_column,
        args.wind_column,
        args.rain_column,
        args.wind_unit,
        args.rain_unit,
    )
    lines = read_text(args.file).splitlines()
    table = read_weather(lines, layout)
    dose = face_dose(rain_hours(table.hours), face, exposure)
    return {
        **_dose(dose),
        "left_out": [_notice(one, lines) for one in table.notices],
        **_limits(dose.warnings),
    }


def _dose(dose: FaceDose) -> dict[str, object]:
    worst = [_worst(one) for one in dose.worst]
    return {
        "dose_l_m2": dose.l_m2,
        "worst_hour": worst[0] if worst else None,
        "worst": worst,
        "spells": [_spell(one) for one in dose.spells],
        "known_hours": dose.known_hours,
        "missing_hours": dose.missing_hours,
        "rain_in_gaps_mm": dose.rain_in_gaps_mm,
    }


def _time(hour: int) -> str:
    return hour_start(hour).isoformat(timespec="minutes")


def _worst(one: Worst) -> dict[str, object]:
    first_hour = one.last_hour - one.length_h + 1
    return {
        "length_h": one.length_h, "from": _time(first_hour), "last_hour": _time(one.last_hour),
        "dose_l_m2": one.l_m2, "missing_hours": one.missing_hours,
    }  # fmt: skip


def _spell(one: Spell) -> dict[str, object]:
    return {
        "first_hour": _time(one.first_hour), "last_hour": _time(one.last_hour), "dose_l_m2": one.l_m2,
        "wet_hours": one.wet_hours, "missing_hours": one.missing_hours, "sure_end": one.sure_end,
    }  # fmt: skip


def _notice(one: Notice, lines: Sequence[str]) -> dict[str, object]:
    rows = [lines[line - 1][:_ROW_SHOWN] for line in one.lines if line <= len(lines)]
    return {"code": one.code, "message": one.say, "count": one.count, "lines": one.lines, "rows": rows}


def _limits(codes: Sequence[str]) -> dict[str, object]:
    return {"limits": [LIMITS[code] for code in codes], "warnings": list(codes)}


def storm(given: Given) -> dict[str, object]:
    """Return the dose of a storm known by totals; of free driving rain, what the digest's factors leave."""
    free_rain = given.number("free_rain_l_m2")
    if free_rain is not None:
        height, shelter = (_or(given.number(name), 1.0) for name in ("height", "shelter"))
        factors = (given.needed("deposition"), height, shelter)
        if free_rain < 0 or not all(0 <= factor <= 2 for factor in factors):
            raise bad("free_rain_l_m2", "Give free_rain_l_m2 of zero or more, and factors from 0 to 2.")
        return {"on_wall_l_m2": digest_wall_rain(free_rain, *factors), "warnings": []}
    face = Face(given.needed("bearing_deg"), _or(given.number("slope_deg"), 90.0))
    topography, obstruction, wall = (_or(given.number(name), 1.0) for name in FACTORS)
    exposure = Exposure(
        given.text("terrain"),
        _or(given.number("height_m"), 10.0),
        topography,
        obstruction,
        wall,
    )
    bare = BareStorm(
        given.needed("rain_mm"),
        given.needed("wind_m_s"),
        given.number("wind_from_deg"),
        given.number("duration_h"),
    )
    warnings = ["from_memory"] if exposure.from_memory else []
    return {"dose_l_m2": storm_dose(bare, face, exposure), **_limits(warnings)}


def _or(number: float | None, usual: float) -> float:
    return usual if number is None else number
