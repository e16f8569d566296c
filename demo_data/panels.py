"""Two seasons of sample panels on the invented site, their score sheets, and what two repairs left on the wall."""

from dataclasses import dataclass, field
from typing import Any

from found import depths, width
from site_plan import Mark, around, panel

Fields = dict[str, Any]


@dataclass(frozen=True)
class Laid:
    """One finish with how it was made; `logged` is when Maren or Oona typed it in (month-day hour:minute of 2026)."""

    elevation: str
    name: str
    coats: tuple[tuple[str, float], ...]
    made_on: str
    logged: str
    region: Mark
    made: Fields = field(default_factory=dict)
    ticket: str | None = None
    sample_panel: bool = True


@dataclass(frozen=True)
class Sheet:
    """One score sheet of a finish of the site plan or of this file. at: the instant, UTC."""

    finish: str
    at: str
    who: str
    verdict: str
    told: Fields = field(default_factory=dict)


_OILED = (("lime_base_coat", 10.0), ("lime_oiled_finish", 5.0))
_SHELL = (("lime_base_coat", 10.0), ("lime_shell_coat", 6.0))
_WASHED = (("earth_lime", 12.0), ("limewash", 0.6))
_BRICK = (("lime_base_coat", 10.0), ("lime_brick_dust", 7.0))

_AUTUMN = {
    "by": "Maren and Pell",
    "batches": "one bucket each",
    "water": "rain butt",
    "weather": "15 °C, overcast, light wind",
    "cure": "damped morning and evening for four days",
}
_SPRING = {
    "by": "Oona and Inés",
    "batches": "two half buckets",
    "water": "rain butt",
    "weather": "11 °C, dry, sacking over it",
    "cure": "wet sacking for a week",
}

LAID: dict[str, Laid] = {
    "panel_a2": Laid("shed_north", "Panel A2: lime finish with oil", _OILED, "2025-09-06", "02-21 21:02", panel(0.4, 1.3),
                     {**_AUTUMN, "sand": "mainland pit"}),
    "panel_b2": Laid("shed_south", "Panel B2: lime with shell", _SHELL, "2025-09-06", "02-21 21:05", panel(6.0, 0.3),
                     {**_AUTUMN, "sand": "cockle shell, washed three times"}),
    "panel_c2": Laid("shed_north", "Panel C2: earth with lime, washed", _WASHED, "2025-09-06", "02-21 21:08", panel(5.2, 1.3),
                     {**_AUTUMN, "sand": "mainland pit", "note": "Wash thin this time, three coats on damp."}),
    "panel_d": Laid("store_weather", "Panel D: lime and brick dust", _BRICK, "2026-04-11", "04-11 17:20", panel(0.5, 0.9, 0.8),
                    {**_SPRING, "sand": "mainland pit, washed"}),
    "panel_d2": Laid("shed_south", "Panel D2: lime and brick dust", _BRICK, "2026-04-11", "04-11 17:28", panel(2.2, 0.3),
                     {**_SPRING, "sand": "mainland pit, washed"}),
    "panel_e": Laid("ringing_west", "Panel E: earth finish, smooth coat", (("earth_base_coat", 15.0), ("earth_smooth_coat", 3.0)),
                    "2026-04-12", "04-12 16:40", panel(4.8, 0.4), {**_SPRING, "sand": "dune sand, sieved"}),
    "patch_west": Laid("shed_west", "Repair of 26 April", (("lime_base_coat", 12.0), ("lime_coat", 8.0), ("limewash", 0.4)),
                       "2026-04-26", "04-27 19:10", around(4.55, 2.3, 1.0, 0.9), {"by": "Inés"}, "west_bare", False),
    "patch_south": Laid("shed_south", "Repair of 18 April", (("lime_base_coat", 12.0), ("lime_coat", 8.0), ("lime_finish", 4.0)),
                        "2026-04-18", "04-27 19:14", around(1.5, 0.75, 0.9, 0.6), {"by": "Pell"}, "south_spall", False),
}  # fmt: skip

_SOUND = {"rub": "clean", "tap": "solid", "bead": "beads", "colour": "even", "crack_width_mm": 0}
_FAINT = {"rub": "dust", "tap": "solid", "bead": "slow", "colour": "even", **width(0.1), "crack_spacing_mm": 150}
_GONE = {"rub": "grains", "tap": "hollow_spots", "bead": "soaks", "colour": "stained", **width(0.5), "crack_spacing_mm": 50}

SHEETS: tuple[Sheet, ...] = (
    # Last season's notebook, typed in when the site was set up.
    Sheet("panel_a", "2025-09-20T09:00:00Z", "Maren", "held", _SOUND),
    Sheet("panel_b", "2025-09-20T09:05:00Z", "Maren", "held", _SOUND),
    Sheet("panel_c", "2025-09-20T09:10:00Z", "Maren", "held", _FAINT),
    Sheet("panel_a2", "2025-09-20T09:15:00Z", "Maren", "held", _SOUND),
    Sheet("panel_b2", "2025-09-20T09:20:00Z", "Maren", "held", _SOUND),
    Sheet("panel_c2", "2025-09-20T09:25:00Z", "Maren", "held", _SOUND),
    Sheet("panel_a", "2025-10-21T15:00:00Z", "Maren", "held", _SOUND),
    Sheet("panel_b", "2025-10-21T15:05:00Z", "Maren", "held", _SOUND),
    Sheet("panel_c", "2025-10-21T15:10:00Z", "Maren", "worn", {**_FAINT, **depths(0.5, 1)}),
    Sheet("panel_a2", "2025-10-21T15:15:00Z", "Maren", "held", _SOUND),
    Sheet("panel_b2", "2025-10-21T15:20:00Z", "Maren", "held", _FAINT),
    Sheet("panel_c2", "2025-10-21T15:25:00Z", "Maren", "held", _SOUND),
    # After the gale of March: B2 looked well from afar and sounded hollow.
    Sheet("panel_a2", "2026-03-12T12:10:00Z", "Idris", "held", _SOUND),
    Sheet("panel_b", "2026-03-12T12:15:00Z", "Idris", "worn", {**_FAINT, **depths(1, 3)}),
    Sheet("panel_b2", "2026-03-12T12:20:00Z", "Idris", "let_go", {**_GONE, **depths(3, 6)}),
    Sheet("panel_c2", "2026-03-12T12:25:00Z", "Idris", "worn", {**_FAINT, **depths(2, 4)}),
    # The new ones, week by week.
    Sheet("panel_d", "2026-04-18T10:00:00Z", "Oona", "held", _SOUND),
    Sheet("panel_d2", "2026-04-18T10:10:00Z", "Oona", "held", _SOUND),
    Sheet("panel_e", "2026-04-19T10:00:00Z", "Oona", "held", {**_FAINT, "bead": "soaks"}),
    Sheet("panel_d", "2026-05-24T13:00:00Z", "Oona", "held", _SOUND),
    Sheet("panel_d2", "2026-05-24T13:05:00Z", "Oona", "held", _SOUND),
    Sheet("panel_b", "2026-05-24T13:10:00Z", "Oona", "worn", {**_FAINT, **depths(2, 5)}),
    Sheet("panel_c2", "2026-05-24T13:15:00Z", "Oona", "worn", {**_FAINT, **depths(4, 8)}),
    Sheet("panel_e", "2026-05-24T13:20:00Z", "Oona", "let_go", {**_GONE, **depths(3, 5)}),
)
