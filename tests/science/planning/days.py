"""Tickets, people and forecasts for the tests of the plan, with sensible defaults."""

from typing import Any

from makegood.science.planning.shapes import Ask, Job, Visit, Waits, Worker
from makegood.science.range import spread

LIME: Waits = {
    "damp_days": spread(5, 7, 10), "interval_days": spread(7, 8, 10), "frost_free_days": spread(14, 21, 28),
}  # fmt: skip
MIXES = {
    "lime_coat": {"container_l": 40.0, "working_h": 2.0},
    "clay_wash": {"container_l": 12.0, "working_h": 12.0},
}
COVERS = {"some_plastering": ["careful_beginner"]}
START = "2026-05-01"


def visit(
    kind: str,
    hours: float,
    litres: float = 0.0,
    mix: str = "lime_coat",
    coat: Waits = LIME,
    skill: str = "anyone",
) -> Visit:
    """One visit: a coat where it lays something."""
    lays = kind == "lay"
    portions: Any = [{"mix": mix, "litres": litres}] if lays else []
    return {
        "kind": kind,
        "skill": skill,
        "hours": spread(hours, hours, hours),
        "portions": portions,
        "coat": coat if lays else None,
    }


def job(name: str, *visits: Visit, **changes: Any) -> Job:
    """One ticket on a dry wall."""
    plain: Any = {
        "id": name, "urgency": "this_season", "turn": 1.0, "wall": "south", "place": "barn",
        "left_out": None, "wall_dry": True, "wet_on": None, "covered": False, "visits": list(visits), **changes,
    }  # fmt: skip
    return plain


def worker(person: str, hours: float = 6.0, *skills: str) -> Worker:
    """One person of the crew."""
    return {"person": person, "hours": hours, "skills": list(skills)}


def day(on: int, low_c: float | None = 9, high_c: float | None = 19, rain_mm: float | None = 0) -> Any:
    """The forecast of a day in May."""
    return {"on": f"2026-05-{on:02d}", "low_c": low_c, "high_c": high_c, "rain_mm": rain_mm}


FINE = [day(on) for on in range(1, 32)]


def ask(jobs: list[Job], crew: list[Worker], **changes: Any) -> Ask:
    """A request for a plan of May in fine weather."""
    plain: Any = {
        "start": START, "days": 30, "jobs": jobs, "crew": crew, "forecast": FINE, "mixes": MIXES,
        "covers": COVERS, **changes,
    }  # fmt: skip
    return plain
