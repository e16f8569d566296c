"""Tables for spreadsheets: UTF-8, comma, numbers as numbers, and no cell that a spreadsheet takes for a formula."""

import csv
import json
import re
from collections.abc import Iterable, Sequence
from io import TextIOWrapper
from typing import Any, BinaryIO

from makegood.domain.repair.known import Plain, size_of
from makegood.domain.row import fields_of
from makegood.papers.site_book import SiteBook

OWN = ("id", "rev", "made_at", "made_by")
_FORMULA = "=+-@\t\r"
# Characters that show as nothing, which a spreadsheet may skip before it looks for a formula.
_BLANK = " \u00a0\u2007\u202f\ufeff\u200b\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
_LINES = re.compile(r"(\r\n|\r|\n)")


def harmless(text: str) -> str:
    """Return a cell that no spreadsheet takes for a formula, on whichever of its lines one may stand."""
    return "".join(_harmless_line(part) for part in _LINES.split(text))


def _harmless_line(line: str) -> str:
    if line in ("\r\n", "\r", "\n"):
        return line
    return f"'{line}" if line[:1] in tuple(_FORMULA) or line.lstrip(_BLANK)[:1] in tuple(_FORMULA) else line


def cell(value: object) -> object:
    """Return a value as a cell: numbers as they are, shapes as JSON, text made harmless."""
    if value is None or isinstance(value, bool | int | float):
        return value
    text = value if isinstance(value, str) else json.dumps(value, ensure_ascii=False, sort_keys=True)
    return harmless(text)


def write_table(out: BinaryIO, head: Sequence[str], lines: Iterable[Sequence[object]]) -> None:
    """Write a table; the mark at its start tells spreadsheets that it is UTF-8."""
    text = TextIOWrapper(out, encoding="utf-8-sig", newline="", write_through=True)
    table = csv.writer(text)
    table.writerow(head)
    for line in lines:
        table.writerow([cell(value) for value in line])
    text.flush()
    text.detach()


def write_rows(out: BinaryIO, row_type: str, rows: Iterable[Plain]) -> None:
    """Write the rows of a type: what every row has, then its own fields."""
    names = [*OWN, *fields_of(row_type)]
    write_table(out, names, ([row.get(name) for name in names] for row in rows))


def write_defects(out: BinaryIO, book: SiteBook) -> None:
    """Write the defects with what is reckoned of each: where, how large in truth, how pressing."""
    names = [*OWN, *fields_of("defect")]
    more = ("structure", "elevation", "family", "urgency", "engineer_first", "area_m2", "as_drawn_m2", "length_m")
    write_table(out, [*names, *more], (_defect(book, row, names) for row in book.all("defect")))


def _defect(book: SiteBook, row: Plain, names: Sequence[str]) -> list[Any]:
    own = [row.get(name) for name in names]
    known = book.known(row)
    if known is None:
        return [*own, *[None] * 8]
    structure, size, judged = known.wall.structure, size_of(known), book.judged(known)
    return [*own, structure["name"] if structure else None, known.wall.elevation["name"], book.family(row), judged.urgency,
            judged.engineer_first, size.area_m2, size.as_drawn_m2, size.length_m]  # fmt: skip


def write_tickets(out: BinaryIO, book: SiteBook) -> None:
    """Write the tickets with where each stands."""
    names = [*OWN, *fields_of("ticket")]
    lines = (
        [*(row.get(name) for name in names), book.state(row), book.urgency(row), book.engineer_first(row)]
        for row in book.all("ticket")
    )
    write_table(out, [*names, "state", "urgency_reckoned", "engineer_first"], lines)
