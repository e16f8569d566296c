"""The invented site: people, structures, elevations, finishes, storms, surveys. Nothing here exists."""

from dataclasses import dataclass, field
from math import cos, pi, sin
from random import Random
from typing import Any

Mark = dict[str, Any]
ORIGIN_LAT, ORIGIN_LON = 48.6200, -9.3500  # open sea, so that the place can be nobody's

PEOPLE: dict[str, tuple[str, str]] = {
    "Maren": ("keeper", "Maren's laptop"),
    "Idris": ("surveyor", "Idris's phone"),
    "Oona": ("surveyor", "Oona's phone"),
    "Pell": ("helper", "Pell's old phone"),
    "Inés": ("helper", "el móvil de Inés"),
    "Tove": ("reader", "Tove's tablet"),
}

SITE = {
    "name": "Wrackholm bird observatory (invented)",
    "note": "A tidal island on no map: four earthen buildings and one wall. Made up for trying things out.",
    "currency": "EUR",
    "lat": ORIGIN_LAT,
    "lon": ORIGIN_LON,
    "bucket_l": 12,
    "loss": 0.1,
    "bags": {
        "nhl_2": {"bag_kg": 25, "price": 15.5},
        "sharp_sand": {"bag_kg": 25, "price": 4.2},
        "fine_sand": {"bag_kg": 25, "price": 4.8},
        "lime_putty": {"bag_kg": 20, "price": 17.0},
        "hair": {"bag_kg": 0.5, "price": 9.0},
    },
}

STRUCTURES: dict[str, dict[str, Any]] = {
    "boat_shed": {
        "name": "Boat shed",
        "wall_material": "cob",
        "wall_thickness_mm": 550,
        "note": "Cob on a stone plinth, thatch above. Limewash over two coats of lime.",
    },
    "reed_store": {
        "name": "Reed store",
        "wall_material": "rammed_earth",
        "wall_thickness_mm": 400,
        "note": "Round tower. The flat cap leaks on the weather side.",
    },
    "tern_hide": {
        "name": "Tern hide",
        "wall_material": "adobe",
        "wall_thickness_mm": 320,
        "note": "Pointed adobe dome with a long viewing slot to the sea.",
    },
    "wader_wall": {
        "name": "Wader wall",
        "wall_material": "stone_in_earth",
        "wall_thickness_mm": 480,
        "note": "Free-standing screen wall along the path to the mud, lime cap.",
    },
    "ringing_room": {
        "name": "Ringing room",
        "wall_material": "straw_bale",
        "wall_thickness_mm": 470,
        "note": "Straw bale with earth finish under a deep roof.",
    },
}


@dataclass(frozen=True)
class Elevation:
    """One side of a structure, and where its middle stands east and north of the site's origin."""

    structure: str
    name: str
    surface: dict[str, Any]
    bearing_deg: float
    east_m: float
    north_m: float
    openings: list[dict[str, Any]] = field(default_factory=list)


def _wall(width_m: float, height_m: float, batter_deg: float = 0) -> dict[str, Any]:
    return {"kind": "flat", "width_m": width_m, "height_m": height_m, "batter_deg": batter_deg}


def _opening(
    kind: str, x_m: float, y_m: float, size_m: tuple[float, float], head: str = "flat"
) -> dict[str, Any]:
    return {"kind": kind, "x_m": x_m, "y_m": y_m, "width_m": size_m[0], "height_m": size_m[1], "head": head}


_TOWER = {"kind": "round_wall", "radius_m": 2.1, "height_m": 4.2}
_DOME = {"kind": "dome", "shape": "lancet", "base_radius_m": 2.6, "height_m": 4.9}

ELEVATIONS: dict[str, Elevation] = {
    "shed_south": Elevation(
        "boat_shed",
        "South front",
        _wall(9.6, 3.1),
        195,
        0,
        -2.7,
        [
            _opening("door", 3.3, 0, (2.6, 2.4)),
            _opening("window", 1.1, 1.4, (0.8, 0.9)),
            _opening("window", 7.2, 1.4, (0.8, 0.9)),
            _opening("gutter", 0, 2.95, (9.6, 0.12)),
        ],
    ),
    "shed_west": Elevation(
        "boat_shed",
        "West end",
        _wall(5.4, 3.1, 2),
        285,
        -4.8,
        0,
        [_opening("window", 2.35, 1.75, (0.7, 0.8), "arched")],
    ),
    "shed_north": Elevation(
        "boat_shed",
        "North back",
        _wall(9.6, 3.1),
        15,
        0,
        2.7,
        [_opening("niche", 4.4, 1.2, (0.5, 0.6), "arched"), _opening("gutter", 0, 2.95, (9.6, 0.12))],
    ),
    "shed_east": Elevation(
        "boat_shed",
        "East end",
        _wall(5.4, 3.1, 2),
        105,
        4.8,
        0,
        [_opening("door", 0.5, 0, (0.95, 2.0)), _opening("ledge", 3.9, 0.9, (1.2, 0.1))],
    ),
    "store_weather": Elevation(
        "reed_store", "Weather side", _TOWER, 245, 22, 12, [_opening("window", -0.3, 2.5, (0.6, 0.5))]
    ),
    "store_door": Elevation(
        "reed_store", "Door side", _TOWER, 150, 24, 10, [_opening("door", -0.45, 0, (0.9, 1.95), "arched")]
    ),
    "store_back": Elevation(
        "reed_store", "Back", _TOWER, 20, 25, 14, [_opening("ledge", -0.6, 3.1, (1.2, 0.1))]
    ),
    "hide_sea": Elevation(
        "tern_hide", "Sea side", _DOME, 225, -31, -20, [_opening("window", -1.1, 1.35, (2.2, 0.3))]
    ),
    "hide_door": Elevation(
        "tern_hide", "Door side", _DOME, 45, -27, -16, [_opening("door", -0.45, 0, (0.9, 1.8), "arched")]
    ),
    "hide_north": Elevation("tern_hide", "North-west side", _DOME, 315, -31, -16),
    "wall_sea": Elevation(
        "wader_wall", "Sea face", _wall(12, 1.5), 240, -12, -34, [_opening("niche", 8.8, 0.7, (0.4, 0.4))]
    ),
    "wall_lee": Elevation("wader_wall", "Lee face", _wall(12, 1.5), 60, -11.6, -33.8),
    "ringing_west": Elevation(
        "ringing_room",
        "West front",
        _wall(6.2, 2.7),
        270,
        36,
        -6,
        [_opening("door", 0.8, 0, (0.9, 2.0)), _opening("window", 3.1, 1.0, (1.2, 1.0))],
    ),
}


def around(x_m: float, y_m: float, wide_m: float, high_m: float, view: str = "seen") -> Mark:
    """Return an uneven outline round a point, the same each time."""
    rng = Random(f"{x_m} {y_m} {wide_m} {high_m}")
    points = []
    for n in range(11):
        turn, reach = 2 * pi * n / 11, rng.uniform(0.78, 1.0) / 2
        points.append(
            [round(x_m + wide_m * reach * cos(turn), 3), round(y_m + high_m * reach * sin(turn), 3)]
        )
    return {"view": view, "shape": "outline", "points_m": points}


def line(*points: tuple[float, float], view: str = "seen") -> Mark:
    """Return a line through the points."""
    return {"view": view, "shape": "line", "points_m": [list(point) for point in points]}


def pin(x_m: float, y_m: float, view: str = "seen") -> Mark:
    """Return a pin."""
    return {"view": view, "shape": "pin", "points_m": [[x_m, y_m]]}


def panel(left_m: float, foot_m: float, size_m: float = 1.0) -> Mark:
    """Return a square outline, as sample panels are set out."""
    right, top = round(left_m + size_m, 3), round(foot_m + size_m, 3)
    return {
        "view": "seen",
        "shape": "outline",
        "points_m": [[left_m, foot_m], [right, foot_m], [right, top], [left_m, top]],
    }


@dataclass(frozen=True)
class Finish:
    """What covers an elevation or a region of it; coats as (mix, thickness in mm) from the wall outwards."""

    elevation: str
    name: str
    coats: tuple[tuple[str, float], ...]
    made_on: str
    region: Mark | None = None
    sample_panel: bool = False
    note: str | None = None


_LIMED = (("lime_base_coat", 12.0), ("lime_coat", 8.0), ("limewash", 0.4))
_TOWER_COATS = (("earth_base_coat", 10.0), ("lime_coat", 8.0), ("limewash", 0.4))
_DOME_COATS = (("lime_stipple", 4.0), ("lime_base_coat", 12.0), ("lime_finish", 4.0), ("limewash", 0.3))

FINISHES: dict[str, Finish] = {
    "shed_south": Finish("shed_south", "Two coats and limewash", _LIMED, "2023-06-10"),
    "shed_west": Finish("shed_west", "Two coats and limewash", _LIMED, "2023-06-17"),
    "shed_north": Finish("shed_north", "Two coats, no wash yet", _LIMED[:2], "2023-07-01"),
    "shed_east": Finish("shed_east", "Two coats, no wash yet", _LIMED[:2], "2023-07-08"),
    "store_weather": Finish("store_weather", "Earth, lime and limewash", _TOWER_COATS, "2024-05-18"),
    "store_door": Finish("store_door", "Earth, lime and limewash", _TOWER_COATS, "2024-05-18"),
    "hide_sea": Finish("hide_sea", "Three coats and limewash", _DOME_COATS, "2024-06-22"),
    "hide_door": Finish("hide_door", "Three coats and limewash", _DOME_COATS, "2024-06-22"),
    "hide_north": Finish("hide_north", "Three coats and limewash", _DOME_COATS, "2024-06-29"),
    "ringing_west": Finish(
        "ringing_west", "Earth finish", (("earth_base_coat", 20.0), ("earth_finish", 5.0)), "2025-05-03"
    ),
    "panel_a": Finish(
        "shed_west",
        "Panel A: lime finish with oil",
        (("lime_base_coat", 10.0), ("lime_oiled_finish", 5.0)),
        "2025-09-06",
        panel(0.3, 0.4),
        True,
        "Sand from the mainland pit. 15 °C, overcast, damped for four days.",
    ),
    "panel_b": Finish(
        "shed_west",
        "Panel B: lime with shell",
        (("lime_base_coat", 10.0), ("lime_shell_coat", 6.0)),
        "2025-09-06",
        panel(1.5, 0.4),
        True,
        "Cockle shell, washed three times. Same day, same hands as A.",
    ),
    "panel_c": Finish(
        "shed_west",
        "Panel C: earth with lime, washed",
        (("earth_lime", 12.0), ("limewash", 0.6)),
        "2025-09-06",
        panel(2.7, 0.4),
        True,
        "Wash went on thick over a dry coat; watch it.",
    ),
}

STORMS: dict[str, dict[str, Any]] = {
    "october": {
        "name": "Gale of 18 October",
        "began_on": "2025-10-18",
        "duration_h": 11,
        "rain_mm": 24,
        "wind_m_s": 13,
        "wind_from_deg": 260,
        "gust_m_s": 24,
        "hail": False,
        "note": "From last year's notebook. Rain from the gauge by the Ringing room.",
    },
    "march": {
        "name": "Gale of 10 March",
        "began_on": "2026-03-10",
        "duration_h": 19,
        "rain_mm": 46,
        "wind_m_s": 17,
        "wind_from_deg": 240,
        "gust_m_s": 29,
        "hail": False,
        "note": "Spring tide on top of it. Rain from the gauge by the Ringing room, wind from the mast log.",
    },
    "may": {
        "name": "Squall of 22 May",
        "began_on": "2026-05-22",
        "duration_h": 5,
        "rain_mm": 27,
        "wind_m_s": 14,
        "wind_from_deg": 285,
        "gust_m_s": 26,
        "hail": True,
        "note": "Short and hard, hail for ten minutes about four o'clock.",
    },
}

SURVEYS: dict[str, dict[str, Any]] = {
    "first": {
        "on": "2026-03-12",
        "storm": "march",
        "looked_at": ("shed_", "hide_", "wall_"),
        "note": "Dry, low sun. Idris took the sheds, Oona the hide and the wall.",
    },
    "second": {
        "on": "2026-05-24",
        "storm": "may",
        "looked_at": ("shed_", "store_", "hide_", "wall_", "ringing_"),
        "note": "All known marks looked at again, then the new ones.",
    },
}
