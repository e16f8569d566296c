"""What the two surveys of the invented site found; the boat shed has a file of its own."""

from defects_shed import BOAT_SHED
from found import Defect, Second, depths, late, width
from site_plan import around, line, pin

REED_STORE = {
    "store_worn": Defect(
        "store_weather",
        "erosion",
        around(-0.55, 0.95, 1.5, 1.1),
        "driving_rain",
        "bare_earth",
        "Coats gone in the middle, earth worn back in runnels.",
        depths(19, 36),
        Second("held", depths(19, 36)),
    ),
    "store_spall": late(
        "store_weather",
        "spalling",
        around(0.75, 3.2, 0.6, 0.5),
        "hail",
        "overhead loose_edge bare_earth",
        "Fresh since the squall.",
        depths(14, 24),
    ),
    "store_gully": Defect(
        "store_weather",
        "washout",
        around(0.25, 3.45, 0.3, 1.3),
        "failed_cap",
        "active_leak",
        "The cap joint is open right above.",
        depths(20, 34, length_m=1.3),
        Second("repaired"),
    ),
    "store_splash": Defect(
        "store_door",
        "damp_patch",
        around(1.25, 0.3, 0.9, 0.45),
        "splash",
        "",
        "No stones under the drip line.",
        None,
        Second("held"),
    ),
    "store_bare": Defect(
        "store_door",
        "exposed_substrate",
        around(-1.2, 1.45, 0.8, 0.8),
        "driving_rain",
        "bare_earth",
        None,
        depths(12, 19),
        Second("held", depths(12, 19)),
    ),
    "store_lichen": late(
        "store_back",
        "growth",
        around(5.4, 2.2, 1.6, 1.0, "unrolled"),
        "lasting_damp",
        "",
        "Old crust, wall dry behind it.",
    ),
    "store_lean": late(
        "store_back",
        "lean",
        pin(1.3, 3.6),
        "scour",
        "leaning",
        "Plumb line 48 mm off over 3 m; 31 mm last year. Path closed with rope.",
    ),
}

TERN_HIDE = {
    "hide_spall": Defect(
        "hide_sea",
        "spalling",
        around(-1.0, 2.15, 0.8, 0.6),
        "hard_over_soft",
        "loose_edge",
        "Left of the slot, adobe showing.",
        depths(15, 24),
        Second("grown", depths(18, 30), 1.3, "The new patch let go along its lower edge."),
    ),
    "hide_sheet": Defect(
        "hide_sea",
        "delamination",
        around(0.95, 2.45, 0.8, 0.8),
        "frost",
        "loose_edge",
        None,
        depths(8, 14),
        Second("grown", depths(11, 20), 1.15),
    ),
    "hide_runnel": Defect(
        "hide_sea",
        "washout",
        around(0.05, 3.75, 0.3, 1.4),
        "run_off",
        "bare_earth",
        "From the crown down the middle.",
        depths(18, 27, length_m=1.4),
        Second("held", depths(18, 27, length_m=1.4)),
    ),
    "hide_crown": Defect(
        "hide_sea",
        "crazing",
        around(0.25, 0.3, 0.8, 0.6, "above"),
        "over_trowelled",
        "",
        "Round the crown, seen from the ladder.",
        width(0.4),
        Second("held", width(0.4)),
    ),
    "hide_flakes": late("hide_door", "flaking", around(1.2, 1.2, 0.8, 0.9), "salts", "", "Wash only."),
    "hide_hair": Defect(
        "hide_door",
        "hairline_crack",
        line((0.12, 1.86), (0.2, 2.2), (0.36, 2.7)),
        "thrust",
        "",
        "From the door head up.",
        width(0.3),
        Second("held", width(0.3)),
    ),
    "hide_bare": Defect(
        "hide_north",
        "missing_render",
        around(-0.6, 1.1, 1.0, 0.9),
        "driving_rain",
        "bare_earth loose_edge",
        None,
        depths(20, 31),
        Second("repaired"),
    ),
    "hide_bulge": late(
        "hide_north",
        "bulge",
        around(0.9, 1.55, 0.9, 0.8),
        "core_slump",
        "bulging",
        "The blocks themselves have moved, not only the coats. Roped off, nobody goes in.",
    ),
    "hide_foot": Defect(
        "hide_sea",
        "undercut",
        line((-1.9, 0.1), (-1.2, 0.14), (-0.5, 0.09)),
        "scour",
        "bare_earth",
        "Spring tide reached it.",
        depths(40, 70),
        Second("held", depths(40, 70)),
    ),
}

OUTER_WALLS = {
    "wall_loose": Defect(
        "wall_sea",
        "loose_stone",
        pin(3.6, 0.75),
        "washed_joints",
        "many",
        "One out, six that rock.",
        {"count": 7},
        Second("held", {"count": 7}),
    ),
    "wall_cap_gully": late(
        "wall_sea",
        "washout",
        around(5.5, 0.85, 0.3, 1.1),
        "failed_cap",
        "bare_earth",
        "A length of cap is cracked away.",
        depths(25, 45, length_m=1.1),
    ),
    "wall_rats": late(
        "wall_lee", "holes", pin(9.2, 0.12), "rodents", "wet_base", None, {"count": 2, "depth_max_mm": 180}
    ),
    "ringing_straw": Defect(
        "ringing_west",
        "exposed_substrate",
        around(5.3, 0.9, 0.8, 0.8),
        "impact",
        "wet_straw",
        "The barrow again. Straw damp to the second finger joint.",
        depths(25, 40),
        Second("held", depths(25, 40)),
    ),
    "ringing_worn": late(
        "ringing_west",
        "erosion",
        around(2.4, 0.35, 1.1, 0.5),
        "driving_rain",
        "",
        "Under the window where the roof is short.",
        depths(6, 11),
    ),
}

DEFECTS: dict[str, Defect] = {**BOAT_SHED, **REED_STORE, **TERN_HIDE, **OUTER_WALLS}


def found_by(key: str) -> str:
    """Return who found a defect."""
    return "Idris" if key in BOAT_SHED or key in REED_STORE else "Oona"
