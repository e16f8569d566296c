"""Which pictures were taken: of what, when, from where, and what the camera file says of it."""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from math import cos, radians, sin
from random import Random

from defects import DEFECTS, found_by
from drawing.picture import CameraFacts
from drawing.scenes import PORTRAIT
from repairs import TICKETS
from site_plan import ELEVATIONS, ORIGIN_LAT, ORIGIN_LON, SURVEYS

FIRST_LOOK, MINUTES_APART = timedelta(hours=8, minutes=50), 7
STANDS_OFF_M = 2.4
M_PER_DEG_LAT, M_PER_DEG_LON = 111_200.0, 73_600.0  # at latitude 48.6, from memory


@dataclass(frozen=True)
class Shot:
    """One picture of a defect at a survey, or of a step of a ticket (by its number).

    `place` says who knows where it was taken: `both` phone and camera file, `phone`, `camera_file`,
    `hand` or `nobody`.
    """

    scene: str
    of: str
    at: str | int
    place: str = "both"


SHOTS: tuple[Shot, ...] = (
    Shot("spalling_cob", "south_spall", "first"),
    Shot("crazing", "south_crazing", "first"),
    Shot("washout", "south_gully", "first"),
    Shot("damp_foot", "south_foot_damp", "first"),
    Shot("rust", "south_rust", "first", "phone"),
    Shot("hairline", "south_hair", "first"),
    Shot("missing_cob", "west_bare", "first"),
    Shot("delamination", "west_sheet", "first"),
    Shot("crazing_panel", "panel_a_crazing", "first"),
    Shot("flaking_panel", "panel_c_flakes", "first"),
    Shot("erosion_cob", "west_worn", "first"),
    Shot("hollow", "west_drum", "first"),
    Shot("moss", "north_moss", "first"),
    Shot("efflorescence", "north_salt", "first"),
    Shot("salt_scabs", "north_scabs", "first"),
    Shot("bee_holes", "north_bees", "first", "camera_file"),
    Shot("undercut", "north_foot", "first"),
    Shot("crack", "east_crack", "first"),
    Shot("erosion_rammed", "store_worn", "first"),
    Shot("washout_rammed", "store_gully", "first"),
    Shot("damp_splash", "store_splash", "first", "hand"),
    Shot("exposed_rammed", "store_bare", "first"),
    Shot("spalling_adobe", "hide_spall", "first"),
    Shot("delamination_dome", "hide_sheet", "first"),
    Shot("washout_dome", "hide_runnel", "first"),
    Shot("crazing_crown", "hide_crown", "first", "nobody"),
    Shot("hairline_dome", "hide_hair", "first"),
    Shot("missing_adobe", "hide_bare", "first"),
    Shot("undercut_dome", "hide_foot", "first"),
    Shot("loose_stone", "wall_loose", "first"),
    Shot("exposed_straw", "ringing_straw", "first"),
    Shot("washout_again", "south_gully", "second"),
    Shot("damp_foot_grown", "south_foot_damp", "second"),
    Shot("delamination_grown", "west_sheet", "second"),
    Shot("flaking_panel_grown", "panel_c_flakes", "second"),
    Shot("bee_holes_more", "north_bees", "second"),
    Shot("crack_wider", "east_crack", "second"),
    Shot("spalling_rammed", "store_spall", "second"),
    Shot("lichen", "store_lichen", "second", "phone"),
    Shot("lean", "store_lean", "second"),
    Shot("spalling_adobe_again", "hide_spall", "second"),
    Shot("flaking_dome", "hide_flakes", "second"),
    Shot("bulge", "hide_bulge", "second"),
    Shot("washout_cap", "wall_cap_gully", "second"),
    Shot("erosion_clay", "ringing_worn", "second"),
    Shot("washout_filled", "stop_gully", 1),
    Shot("missing_adobe_mended", "north_west_bare", 1),
    Shot("missing_cob_mended", "west_bare", 1),
    Shot("spalling_cob_mended", "south_spall", 1),
    Shot("spalling_adobe_mended", "hide_spall", 1),
    Shot("moss_cleared", "moss", 0, "phone"),
    Shot("erosion_rammed_mended", "store_coats", 1),
    Shot("loose_stone_mended", "wall_stones", 3),
    Shot("exposed_straw_mended", "straw", 1),
    Shot("hollow_mended", "west_drum", 0, "camera_file"),
)


def clock(when: str) -> datetime:
    """Read a month, day, hour and minute of 2026."""
    return datetime.strptime(f"2026-{when}", "%Y-%m-%d %H:%M").replace(tzinfo=UTC)


def looked_at(defect: str, survey: str) -> datetime:
    """Return when a defect was looked at: each surveyor walks in the order of the list."""
    mine = [
        key
        for key, one in DEFECTS.items()
        if found_by(key) == found_by(defect) and (one.found == survey or (survey == "second" and one.second))
    ]
    morning = datetime.fromisoformat(SURVEYS[survey]["on"]).replace(tzinfo=UTC)
    return morning + FIRST_LOOK + timedelta(minutes=MINUTES_APART * mine.index(defect))


def taken_at(shot: Shot) -> datetime:
    """Return when a picture was taken, a little before the reading or step it belongs to."""
    if isinstance(shot.at, int):
        return clock(TICKETS[shot.of].steps[shot.at].when) - timedelta(minutes=3, seconds=20)
    return looked_at(shot.of, shot.at) - timedelta(minutes=1, seconds=len(shot.scene))


def file_name(number: int) -> str:
    """Return the file of a picture by its place in the list."""
    return f"{number + 1:02d}-{SHOTS[number].scene.replace('_', '-')}.jpg"


def true_place(shot: Shot) -> CameraFacts:
    """Return where the photographer stood: before the elevation, facing it."""
    defect = TICKETS[shot.of].defects[0] if isinstance(shot.at, int) else shot.of
    side = ELEVATIONS[DEFECTS[defect].elevation]
    rng, turn = Random(f"place {shot.scene}"), radians(side.bearing_deg)
    east = side.east_m + STANDS_OFF_M * sin(turn) + rng.uniform(-1.5, 1.5)
    north = side.north_m + STANDS_OFF_M * cos(turn) + rng.uniform(-1.5, 1.5)
    return CameraFacts(
        round(ORIGIN_LAT + north / M_PER_DEG_LAT, 6),
        round(ORIGIN_LON + east / M_PER_DEG_LON, 6),
        round((side.bearing_deg + 180 + rng.uniform(-8, 8)) % 360, 1),
        taken_at(shot),
    )


def camera_facts(shot: Shot) -> CameraFacts | None:
    """Return what goes into the camera file; some files carry nothing."""
    return true_place(shot) if shot.place in ("both", "camera_file") else None


def is_portrait(shot: Shot) -> bool:
    """Tell whether the phone was held upright."""
    return shot.scene in PORTRAIT
