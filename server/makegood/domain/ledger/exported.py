"""The ledger as a table for others, read back: one finish a line, as web/src/model/lasting/exported.ts writes it."""

import csv
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import isfinite

from makegood.domain.ledger.follow import Followed, Span
from makegood.errors import BadInput

COLUMNS = (
    "site", "building", "side", "faces_deg", "wall_material", "finish", "coats", "outer_mix", "cover_mm",
    "sample_panel", "laid_on", "came_off_on", "verdict", "looks", "days_sound", "days_let_go_by", "l_m2_sound",
    "l_m2_let_go_by",
)  # fmt: skip
VERDICTS = ("held", "worn", "let_go", "not_looked", "no_day")
SORTS = ("coats", "mix", "thickness", "wall", "face")
THICKNESS_MM = (10.0, 20.0, 30.0)
_SECTORS = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")


@dataclass(frozen=True)
class Line:
    """One finish of somebody's table: where it lies, what it is, what it was seen to stand."""

    site: str
    finish: str
    wall_material: str
    coats: str
    outer_mix: str
    cover_mm: float | None
    faces_deg: float | None
    sample_panel: bool
    followed: Followed


def read_lasted(lines: Iterable[str], name: str) -> list[Line]:
    """Return the finishes of one table.

    name: the file, for what is wrong with it. Raises: BadInput `column_missing`, `table_empty`, `bad_value`,
    each with the line.
    """
    try:
        rows = list(csv.DictReader(lines))
    except csv.Error as fault:
        raise BadInput("bad_value", f"{name} is no comma-separated table.", {"file": name}) from fault
    if not rows:
        raise BadInput("table_empty", f"{name} holds no finish.", {"file": name})
    missing = [column for column in COLUMNS if column not in rows[0]]
    if missing:
        raise BadInput(
            "column_missing",
            f"{name} is no table of what lasted: it has no column {', '.join(missing)}.",
            {"file": name},
        )
    return [_line(row, f"{name}, line {number}") for number, row in enumerate(rows, start=2)]


def _line(row: Mapping[str, str | None], place: str) -> Line:
    verdict = _text(row, "verdict")
    if verdict not in VERDICTS:
        raise _wrong(place, f"verdict must be one of {', '.join(VERDICTS)}")
    spans = [_span(row, measure, verdict, place) for measure in ("days", "l_m2")]
    looks = _number(row, "looks", place)
    return Line(
        _text(row, "site"),
        _text(row, "finish"),
        _text(row, "wall_material"),
        _text(row, "coats"),
        _text(row, "outer_mix"),
        _number(row, "cover_mm", place),
        _number(row, "faces_deg", place),
        _text(row, "sample_panel") == "yes",
        Followed(place, verdict, int(looks or 0), spans[0], spans[1]),
    )


def _span(row: Mapping[str, str | None], measure: str, verdict: str, place: str) -> Span | None:
    left, right = (_number(row, f"{measure}_{end}", place) for end in ("sound", "let_go_by"))
    if left is None:
        return None
    if (right is None) == (verdict == "let_go") or (right is not None and right < left):
        raise _wrong(place, f"{measure}_let_go_by belongs to what let go, and comes after {measure}_sound")
    return Span(left, right)


def _text(row: Mapping[str, str | None], column: str) -> str:
    text = (row[column] or "").strip()
    # The mark that keeps a spreadsheet from reading a formula.
    return text[1:] if text.startswith("'") and text[1:2] in tuple("=+-@") else text


def _number(row: Mapping[str, str | None], column: str, place: str) -> float | None:
    text = (row[column] or "").strip()
    if not text:
        return None
    try:
        number = float(text)
    except ValueError:
        number = float("nan")
    if not isfinite(number) or number < 0:
        raise _wrong(place, f"{column} must be a number of zero or more")
    return number


def _wrong(place: str, why: str) -> BadInput:
    return BadInput("bad_value", f"{place}: {why}.", {"line": place})


def sort_key(line: Line, by: str) -> str:
    """Return the sort of a finish by one of SORTS, the same for all that belong together."""
    if by == "mix":
        return line.outer_mix or "no coats"
    if by == "wall":
        return line.wall_material or "not recorded"
    if by == "face":
        return "not recorded" if line.faces_deg is None else _SECTORS[int((line.faces_deg % 360) / 45 + 0.5) % 8]
    if by == "thickness":
        return _thickness(line.cover_mm)
    # Thicknesses differ by a hair from wall to wall: coats are the same by their mixes.
    return " + ".join(coat.strip().rsplit(" ", 2)[0] for coat in line.coats.split(";")) if line.coats else "no coats"


def _thickness(cover_mm: float | None) -> str:
    if cover_mm is None:
        return "not recorded"
    below = [bound for bound in THICKNESS_MM if cover_mm >= bound]
    above = [bound for bound in THICKNESS_MM if cover_mm < bound]
    if not above:
        return f"{below[-1]:g} mm and more"
    return f"{below[-1]:g} to {above[0]:g} mm" if below else f"under {above[0]:g} mm"
