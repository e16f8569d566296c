"""The written cases of shared/vectors/ledger.json: what was recorded of a side, and by hand what follows from it.

The usual side is 10 m wide and 3 m high. Finish `all` covers it since 1 March 2025; `panel` covers 1 to 2 m
across and up since 1 September 2025. Storms drove 20 L/m2 onto it on 10 March, 31 on 22 May, 12 on 1 October
2025 and 40 on 5 January 2026.
"""

from typing import Any

VERDICTS = {"spalling": "let_go", "erosion": "worn"}
FLAT = {"kind": "flat", "width_m": 10, "height_m": 3, "batter_deg": 0}
TOWER = {"kind": "round_wall", "radius_m": 2, "height_m": 4}
RAIN = [("2025-03-10", 20.0), ("2025-05-22", 31.0), ("2025-10-01", 12.0), ("2026-01-05", 40.0)]
Row = dict[str, Any]


def square(left: float, foot: float, size: float = 1.0, view: str = "seen") -> Row:
    """Return a square region."""
    right, top = left + size, foot + size
    return {"view": view, "shape": "outline", "points_m": [[left, foot], [right, foot], [right, top], [left, top]]}


def pin(x: float, y: float, view: str = "seen") -> Row:
    """Return a pin."""
    return {"view": view, "shape": "pin", "points_m": [[x, y]]}


def laid(key: str, made_on: str | None, region: Row | None = None, ended_on: str | None = None, ticket: str | None = None) -> Row:
    """Return a finish."""
    return {"id": key, "made_on": made_on, "ended_on": ended_on, "region": region, "ticket_id": ticket}


def score(on: str, verdict: str, finish: str = "panel") -> Row:
    """Return a score sheet."""
    return {"id": f"score {on} {verdict}", "finish_id": finish, "on": on, "verdict": verdict}


def look(on: str, state: str | None = "new", survey: str | None = None, mark: Row | None = None) -> Row:
    """Return a reading."""
    return {"id": f"look {on}", "on": on, "state": state, "survey_id": survey, "mark": mark}


def defect(mark: Row, *readings: Row, kind: str | None = "spalling") -> Row:
    """Return a defect."""
    return {"id": f"defect {kind} {mark['points_m'][0]}", "kind": kind, "mark": mark, "readings": list(readings)}


def walk(on: str) -> Row:
    """Return a survey that looked at the side all over."""
    return {"id": f"walk {on}", "on": on}


def step(on: str, kind: str, ticket: str = "t1") -> Row:
    """Return a step."""
    return {"id": f"step {on} {kind}", "ticket_id": ticket, "kind": kind, "on": on}


ALL, PANEL = laid("all", "2025-03-01"), laid("panel", "2025-09-01", square(1, 1))
PATCH = laid("patch", "2025-09-01", square(4, 1), ticket="t1")


def side(finishes: list[Row], rain: list[tuple[str, float | None]] | None = None, **rows: Any) -> Row:
    """Return a side."""
    given = {"scores": [], "defects": [], "walks": [], "steps": [], **rows}
    storms = [{"on": on, "l_m2": l_m2} for on, l_m2 in (RAIN if rain is None else rain)]
    return {"surface": given.pop("surface", FLAT), "finishes": finishes, **given, "rain": storms}


def known(key: str, verdict: str, looks: int, days: tuple[float, float | None] | None,
          l_m2: tuple[float, float | None] | None) -> Row:  # fmt: skip
    """Return what should be known of a finish."""
    spans = [span and {"left": float(span[0]), "right": span[1] and float(span[1])} for span in (days, l_m2)]
    for span, given in zip(spans, (days, l_m2), strict=True):
        if span and given and given[1] == 0:
            span["right"] = 0.0
    return {"id": key, "verdict": verdict, "looks": looks, "days": spans[0], "l_m2": spans[1]}


# 1 September to 1 October 2025: 30 days; to 12 October 41; to 6 January 2026: 127; to 7 January 128; to 1 March: 181.
OCT, JAN, MARCH = "2025-10-12", "2026-01-06", "2026-03-01"
INSIDE, OUTSIDE = pin(1.5, 1.5), pin(8, 1)
_UNSEEN = known("panel", "not_looked", 0, (0, None), (0, None))

CASES: list[tuple[str, Row, list[Row]]] = [
    ("no finish at all", side([]), []),
    ("never looked at", side([PANEL]), [_UNSEEN]),
    ("day of laying not known", side([laid("panel", None, square(1, 1))], scores=[score(OCT, "held")]),
     [known("panel", "no_day", 1, None, None)]),
    ("held once", side([PANEL], scores=[score(OCT, "held")]), [known("panel", "held", 1, (41, None), (12, None))]),
    ("held twice, the later counts", side([PANEL], scores=[score(JAN, "held"), score(OCT, "held")]),
     [known("panel", "held", 2, (127, None), (52, None))]),
    ("worn still covers", side([PANEL], scores=[score(OCT, "held"), score(JAN, "worn")]),
     [known("panel", "worn", 2, (127, None), (52, None))]),
    ("let go at the first look", side([PANEL], scores=[score(OCT, "let_go")]),
     [known("panel", "let_go", 1, (0, 41), (0, 12))]),
    ("let go between two looks", side([PANEL], scores=[score(OCT, "held"), score(JAN, "let_go")]),
     [known("panel", "let_go", 2, (41, 127), (12, 52))]),
    ("worn and then let go", side([PANEL], scores=[score(OCT, "worn"), score(JAN, "let_go")]),
     [known("panel", "let_go", 2, (41, 127), (12, 52))]),
    ("what follows the first failure is not counted", side([PANEL], scores=[score(OCT, "let_go"), score(JAN, "held")]),
     [known("panel", "let_go", 2, (0, 41), (0, 12))]),
    ("two sheets of a day: the worse stands", side([PANEL], scores=[score(OCT, "held"), score(OCT, "let_go")]),
     [known("panel", "let_go", 1, (0, 41), (0, 12))]),
    ("let go with no rain between", side([PANEL], scores=[score(JAN, "held"), score(MARCH, "let_go")]),
     [known("panel", "let_go", 2, (127, 181), (52, 52))]),
    ("let go before any rain", side([PANEL], scores=[score("2025-09-11", "let_go")]),
     [known("panel", "let_go", 1, (0, 10), (0, 0))]),
    ("a look before it was laid is not of it", side([PANEL], scores=[score("2025-08-01", "let_go")]), [_UNSEEN]),
    ("a look on the day of laying", side([PANEL], scores=[score("2025-09-01", "held")]),
     [known("panel", "held", 1, (0, None), (0, None))]),
    ("let go on the day of laying", side([PANEL], scores=[score("2025-09-01", "let_go")]),
     [known("panel", "let_go", 1, (0, 0), (0, 0))]),
    ("a storm on the day of the look came before it", side([PANEL], scores=[score("2025-10-01", "held")]),
     [known("panel", "held", 1, (30, None), (12, None))]),
    ("a storm on the day of laying came before it", side([laid("panel", "2025-10-01", square(1, 1))],
     scores=[score(OCT, "held")]), [known("panel", "held", 1, (11, None), (0, None))]),
    ("taken off sound", side([laid("panel", "2025-09-01", square(1, 1), "2025-12-01")],
     scores=[score(OCT, "held"), score(JAN, "let_go")]), [known("panel", "held", 1, (41, None), (12, None))]),
    ("looked at on the day it came off", side([laid("panel", "2025-09-01", square(1, 1), OCT)],
     scores=[score(OCT, "let_go")]), [known("panel", "let_go", 1, (0, 41), (0, 12))]),
    ("rain not known before a failure", side([PANEL], [("2025-10-01", None)], scores=[score(OCT, "let_go")]),
     [known("panel", "let_go", 1, (0, 41), None)]),
    ("rain not known while it held is left out", side([PANEL], [("2025-10-01", None), ("2025-10-05", 7.0)],
     scores=[score(OCT, "held")]), [known("panel", "held", 1, (41, None), (7, None))]),
    ("rain not known after the failure does no harm", side([PANEL], [("2025-10-01", 12.0), ("2026-01-05", None)],
     scores=[score(OCT, "let_go")]), [known("panel", "let_go", 1, (0, 41), (0, 12))]),
    ("rain not known before it was laid does no harm", side([PANEL], [("2025-05-22", None), ("2025-10-01", 12.0)],
     scores=[score(OCT, "let_go")]), [known("panel", "let_go", 1, (0, 41), (0, 12))]),
    ("no storm logged", side([PANEL], [], scores=[score(OCT, "held")]), [known("panel", "held", 1, (41, None), (0, None))]),
    ("a storm of no dose", side([PANEL], [("2025-10-01", 0.0)], scores=[score(OCT, "let_go")]),
     [known("panel", "let_go", 1, (0, 41), (0, 0))]),
    ("first reading on it shows it let go", side([PANEL], defects=[defect(INSIDE, look(OCT), look(JAN, "grown"))]),
     [known("panel", "let_go", 2, (0, 41), (0, 12))]),
    ("a defect beside it tells nothing of it", side([PANEL], defects=[defect(OUTSIDE, look(OCT))]), [_UNSEEN]),
    ("a defect beside the panel tells of the side", side([ALL, PANEL], defects=[defect(OUTSIDE, look(OCT))]),
     [known("all", "let_go", 1, (0, 225), (0, 63)), _UNSEEN]),
    ("a defect on the panel tells nothing of the side", side([ALL, PANEL], defects=[defect(INSIDE, look(OCT))]),
     [known("all", "not_looked", 0, (0, None), (0, None)), known("panel", "let_go", 1, (0, 41), (0, 12))]),
    ("a defect where the panel was not yet tells of the side", side([ALL, PANEL], defects=[defect(INSIDE, look("2025-05-24"))]),
     [known("all", "let_go", 1, (0, 84), (0, 51)), _UNSEEN]),
    ("a kind that wears", side([PANEL], defects=[defect(INSIDE, look(OCT), look(JAN, "grown"), kind="erosion")]),
     [known("panel", "worn", 2, (127, None), (52, None))]),
    ("a kind that tells nothing", side([PANEL], defects=[defect(INSIDE, look(OCT), kind="staining")]), [_UNSEEN]),
    ("a defect without a kind", side([PANEL], defects=[defect(INSIDE, look(OCT), kind=None)]), [_UNSEEN]),
    ("a reading that says repaired", side([PANEL], defects=[defect(INSIDE, look(OCT, "repaired"))]), [_UNSEEN]),
    ("a reading drawn elsewhere moves the defect", side([PANEL], defects=[defect(OUTSIDE, look(OCT, mark=INSIDE))]),
     [known("panel", "let_go", 1, (0, 41), (0, 12))]),
    ("a walk that found nothing", side([PANEL], walks=[walk(OCT)]), [known("panel", "held", 1, (41, None), (12, None))]),
    ("a walk before it was laid", side([PANEL], walks=[walk("2025-05-24")]), [_UNSEEN]),
    ("a walk on the day of laying is no look at it", side([PANEL], walks=[walk("2025-09-01")]), [_UNSEEN]),
    ("a walk that found it let go", side([PANEL], walks=[walk(OCT)],
     defects=[defect(INSIDE, look(OCT, survey=f"walk {OCT}"))]), [known("panel", "let_go", 1, (0, 41), (0, 12))]),
    ("a walk written up the day after", side([PANEL], walks=[walk(JAN)],
     defects=[defect(INSIDE, look("2026-01-07", survey=f"walk {JAN}"))]),
     [known("panel", "let_go", 1, (0, 128), (0, 52))]),
    ("a walk that found a worn place", side([PANEL], walks=[walk(OCT)],
     defects=[defect(INSIDE, look(OCT, survey=f"walk {OCT}"), kind="erosion")]),
     [known("panel", "worn", 1, (41, None), (12, None))]),
    ("walk, walk, let go", side([PANEL], walks=[walk(OCT), walk(JAN)], defects=[defect(INSIDE, look(MARCH))]),
     [known("panel", "let_go", 3, (127, 181), (52, 52))]),
    ("a repair checked and later sound", side([PATCH], steps=[step(OCT, "checked"), step(JAN, "rechecked")]),
     [known("patch", "held", 2, (127, None), (52, None))]),
    ("a repair that came back", side([PATCH], steps=[step("2025-09-20", "checked"), step(JAN, "reopened")]),
     [known("patch", "let_go", 2, (19, 127), (0, 52))]),
    ("steps of another ticket", side([PATCH], steps=[step(OCT, "reopened", "t2")]),
     [known("patch", "not_looked", 0, (0, None), (0, None))]),
    ("taken and done are no looks", side([PATCH], steps=[step("2025-09-01", "taken"), step("2025-09-01", "done")]),
     [known("patch", "not_looked", 0, (0, None), (0, None))]),
    ("newest of two regions", side([PANEL, laid("newer", "2025-10-02", square(1, 1))], defects=[defect(INSIDE, look(OCT))]),
     [_UNSEEN, known("newer", "let_go", 1, (0, 10), (0, 0))]),
    ("a region that has come off", side([ALL, laid("panel", "2025-09-01", square(1, 1), "2025-10-01")],
     defects=[defect(INSIDE, look(OCT))]),
     [known("all", "let_go", 1, (0, 225), (0, 63)), known("panel", "not_looked", 0, (0, None), (0, None))]),
    ("seen on the tower, drawn on it unrolled", side([laid("panel", "2025-09-01", square(5.8, 1, view="unrolled"))],
     surface=TOWER, defects=[defect(pin(0.1, 1.5), look(OCT))]), [known("panel", "let_go", 1, (0, 41), (0, 12))]),
    ("at the back of the tower", side([laid("panel", "2025-09-01", square(-0.5, 1))], surface=TOWER,
     defects=[defect(pin(0.2, 1.5, "unrolled"), look(OCT))]), [_UNSEEN]),
    ("all at once", side([ALL, PANEL, PATCH], scores=[score(JAN, "held")], walks=[walk(OCT)],
     steps=[step(JAN, "reopened")], defects=[defect(OUTSIDE, look("2026-01-07"), kind="erosion")]),
     [known("all", "worn", 2, (312, None), (103, None)), known("panel", "held", 2, (127, None), (52, None)),
      known("patch", "let_go", 2, (41, 127), (12, 52))]),
]  # fmt: skip
