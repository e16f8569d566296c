"""The repair tickets of the invented site, their steps, and what people noted. Times are UTC."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Step:
    """One step on a ticket: what, when (month-day hour:minute of 2026), who."""

    kind: str
    when: str
    who: str
    note: str | None = None


@dataclass(frozen=True)
class Ticket:
    """One repair to do, for one or more defects, and what became of it."""

    defects: tuple[str, ...]
    opened: str
    by: str
    method: str
    urgency: str
    steps: tuple[Step, ...] = ()
    note: str | None = None
    coats: tuple[tuple[str, float], ...] | None = None
    margin_mm: float | None = None


@dataclass(frozen=True)
class Note:
    """A few words on a defect, ticket, elevation, storm or survey."""

    of_type: str
    of_key: str
    when: str
    who: str
    text: str


TICKETS: dict[str, Ticket] = {
    "stop_gully": Ticket(
        ("south_gully",),
        "03-12 12:40",
        "Idris",
        "dub_out_then_coats",
        "make_safe_now",
        (
            Step("taken", "03-12 13:05", "Pell", "Clearing the gutter first."),
            Step(
                "done", "04-12 16:20", "Pell", "Gutter cleared the same day; filled in three lifts once dry."
            ),
            Step(
                "reopened",
                "05-24 09:55",
                "Idris",
                "Gutter blocked again, filling washed out. Needs a leaf guard before plaster.",
            ),
        ),
    ),
    "foot_north": Ticket(
        ("north_foot",),
        "03-12 12:55",
        "Idris",
        "engineer_first",
        "make_safe_now",
        (Step("taken", "05-31 09:10", "Inés", "Bajo la tierra amontonada con pala; no toco el muro."),),
        "Ground lowered by hand only. No digging under the wall; ask the engineer before any underpinning.",
    ),
    "north_west_bare": Ticket(
        ("hide_bare",),
        "03-13 18:05",
        "Maren",
        "dub_out_then_coats",
        "before_next_rain",
        (
            Step("taken", "04-10 08:30", "Pell"),
            Step("done", "04-25 15:40", "Pell", "Last coat on, damped under sacking for six days."),
            Step(
                "checked", "05-24 11:20", "Oona", "Sound all over when tapped, edges tight after the squall."
            ),
        ),
    ),
    "west_bare": Ticket(
        ("west_bare",),
        "03-13 18:12",
        "Maren",
        "dub_out_then_coats",
        "before_next_rain",
        (
            Step("taken", "04-11 08:45", "Inés"),
            Step("done", "04-26 17:05", "Inés", "Dos capas y encalado; curado siete días."),
            Step("checked", "05-24 09:40", "Idris", "Held through the squall. Colour will settle."),
        ),
    ),
    "south_spall": Ticket(
        ("south_spall",),
        "03-13 18:20",
        "Maren",
        "patch_three_coats",
        "before_next_rain",
        (
            Step("taken", "04-11 09:00", "Pell"),
            Step("done", "04-18 14:30", "Pell"),
            Step("checked", "05-24 09:05", "Idris"),
        ),
    ),
    "store_gully": Ticket(
        ("store_gully",),
        "03-13 18:31",
        "Maren",
        "dub_out_then_coats",
        "make_safe_now",
        (
            Step("taken", "03-14 08:20", "Pell", "Cap joint closed with lime and brick dust, sheet over it."),
            Step("done", "05-02 15:10", "Pell"),
            Step("checked", "05-24 11:12", "Idris"),
        ),
    ),
    "hide_spall": Ticket(
        ("hide_spall",),
        "03-13 18:44",
        "Maren",
        "patch_three_coats",
        "before_next_rain",
        (
            Step("taken", "04-18 10:00", "Inés"),
            Step("done", "04-19 16:00", "Inés"),
            Step("checked", "05-03 12:15", "Maren"),
            Step(
                "reopened",
                "05-24 11:02",
                "Oona",
                "Let go along the lower edge; the adobe was too dry when we laid it.",
            ),
            Step("taken", "06-02 09:30", "Pell"),
        ),
    ),
    "moss": Ticket(
        ("north_moss",),
        "03-13 18:52",
        "Maren",
        "dry_and_brush",
        "keep_watch",
        (
            Step("done", "04-04 11:30", "Inés", "Cepillado en seco. Quité el musgo del canalón también."),
            Step("checked", "04-30 17:00", "Maren"),
        ),
    ),
    "scabs": Ticket(
        ("north_scabs", "north_salt"),
        "03-13 19:05",
        "Maren",
        "cut_back_and_recoat",
        "this_season",
        note="After the ground is lowered and the foot has dried, not before.",
    ),
    "store_coats": Ticket(
        ("store_worn", "store_bare"),
        "03-13 19:14",
        "Maren",
        "patch_three_coats",
        "before_next_rain",
        (
            Step("taken", "05-16 09:00", "Pell"),
            Step("done", "06-13 15:50", "Pell", "Weather side and door side in one go, same batch."),
        ),
        coats=(("earth_base_coat", 12.0), ("lime_coat", 8.0), ("limewash", 0.4)),
        margin_mm=100,
    ),
    "wall_stones": Ticket(
        ("wall_loose",),
        "03-13 19:22",
        "Maren",
        "replace_stone",
        "before_next_rain",
        (
            Step("taken", "04-12 10:15", "Inés"),
            Step("reopened", "04-12 12:00", "Inés", "Pesan demasiado para una persona sola."),
            Step("taken", "05-30 09:30", "Pell"),
            Step("done", "05-30 15:45", "Pell", "Two of us, sling and planks."),
        ),
    ),
    "straw": Ticket(
        ("ringing_straw",),
        "03-12 15:35",
        "Oona",
        "patch_three_coats",
        "before_next_rain",
        (
            Step("taken", "04-19 09:20", "Inés", "Dejo secar la paja con el toldo puesto."),
            Step("done", "05-26 16:30", "Inés"),
            Step("checked", "06-14 10:00", "Maren", "Probe reads dry. Kerb stone set for the barrow."),
        ),
        coats=(("earth_base_coat", 20.0), ("earth_finish", 5.0)),
    ),
    "west_drum": Ticket(
        ("west_drum",),
        "03-12 13:10",
        "Idris",
        "cut_back_and_recoat",
        "make_safe_now",
        (
            Step(
                "done",
                "06-06 14:20",
                "Pell",
                "Path roped off since March. Cut back and re-coated; the edge would not hold a grout.",
            ),
        ),
    ),
    "east_crack": Ticket(
        ("east_crack",),
        "05-24 11:52",
        "Idris",
        "engineer_first",
        "make_safe_now",
        note="Engineer asked, coming at the next neap tide. Bench below it taped off.",
    ),
    "west_sheet": Ticket(
        ("west_sheet",),
        "05-25 19:10",
        "Maren",
        "cut_back_and_recoat",
        "before_next_rain",
        (Step("taken", "05-30 08:50", "Inés"),),
    ),
    "hide_sheet": Ticket(
        ("hide_sheet", "hide_runnel"), "05-25 19:18", "Maren", "cut_back_and_recoat", "before_next_rain"
    ),
    "hide_bulge": Ticket(
        ("hide_bulge",),
        "05-24 11:48",
        "Oona",
        "engineer_first",
        "make_safe_now",
        note="Roped off both sides, notice on the door. Nobody inside until somebody qualified has seen it.",
    ),
    "store_lean": Ticket(
        ("store_lean",),
        "05-24 11:50",
        "Idris",
        "engineer_first",
        "make_safe_now",
        note="Path round the tower closed.",
    ),
    "wall_cap": Ticket(("wall_cap_gully",), "05-25 19:30", "Maren", "cap_or_ledge", "before_next_rain"),
    "store_spall": Ticket(
        ("store_spall",),
        "05-25 19:36",
        "Maren",
        "patch_three_coats",
        "make_safe_now",
        (Step("taken", "06-02 10:05", "Inés"),),
    ),
    "ringing_worn": Ticket(
        ("ringing_worn",),
        "05-25 19:44",
        "Maren",
        "patch_two_coats",
        "this_season",
        coats=(("earth_base_coat", 8.0), ("earth_finish", 5.0)),
    ),
}

NOTES: tuple[Note, ...] = (
    Note(
        "storm",
        "march",
        "03-11 19:30",
        "Maren",
        "Spring tide reached the plinth of the hide for the first time.",
    ),
    Note(
        "survey",
        "first",
        "03-12 16:10",
        "Oona",
        "Everything photographed before Pell swept up the fallen render.",
    ),
    Note(
        "elevation",
        "shed_west",
        "03-12 13:20",
        "Idris",
        "Worst face by far. Ladder footed by Oona; nobody alone up there.",
    ),
    Note(
        "defect",
        "east_crack",
        "03-12 11:30",
        "Idris",
        "Measured with the card at chest height, north jamb side.",
    ),
    Note("ticket", "stop_gully", "03-12 17:45", "Pell", "Bucket under the spout for tonight."),
    Note(
        "ticket",
        "scabs",
        "03-14 08:05",
        "Maren",
        "No wet scrubbing, please. Dry brush and a sheet to catch it.",
    ),
    Note(
        "ticket",
        "west_bare",
        "04-11 18:20",
        "Inés",
        "El barro estaba muy seco: lo mojé tres veces antes del primer salpicado.",
    ),
    Note(
        "ticket",
        "store_coats",
        "05-16 17:30",
        "Pell",
        "First coat hairy enough now. Rain on Tuesday, sacking up.",
    ),
    Note("storm", "may", "05-23 08:15", "Maren", "Hail the size of peas. Photographed by the gauge."),
    Note(
        "defect",
        "panel_c_flakes",
        "05-24 09:50",
        "Idris",
        "The wash comes off C, the coat below is hard. A and B took no harm.",
    ),
    Note(
        "defect",
        "hide_bulge",
        "05-24 11:50",
        "Oona",
        "Looked along it from both ends with a straight edge; not touched.",
    ),
    Note(
        "ticket",
        "hide_spall",
        "06-02 18:00",
        "Pell",
        "Wetted the adobe the evening before and again this morning.",
    ),
    Note("survey", "second", "05-24 16:30", "Idris", "Seven repairs looked at, five as they should be."),
)
