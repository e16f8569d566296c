"""All papers by name. A new one: a function `(book, ask, progress) -> Sheet` in `pdf/`, and a line in `PAPERS`."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import BinaryIO

from makegood.papers.ask import Ask, Progress
from makegood.papers.files.cure_calendar import site_calendar
from makegood.papers.files.originals import OpenOriginal, write_originals
from makegood.papers.files.places import write_places
from makegood.papers.files.tables import write_defects, write_rows, write_table, write_tickets
from makegood.papers.ledger.entries import lasted_rows
from makegood.papers.page.sheet import Sheet
from makegood.papers.pdf.closure import closure
from makegood.papers.pdf.handout import handout
from makegood.papers.pdf.lasted import lasted
from makegood.papers.pdf.panels import panel_rows, panels
from makegood.papers.pdf.report import report
from makegood.papers.pdf.shopping import shopping, shopping_rows
from makegood.papers.site_book import SiteBook

MEDIA_TYPES = {
    "pdf": "application/pdf",
    "csv": "text/csv",
    "geojson": "application/geo+json",
    "ics": "text/calendar",
    "zip": "application/zip",
}


@dataclass(frozen=True)
class Sources:
    """What a paper is made from: the rows the asker may see, and the originals if they may have those."""

    book: SiteBook
    originals: OpenOriginal | None = None


Make = Callable[[Sources, Ask, Progress, BinaryIO], None]


@dataclass(frozen=True)
class Paper:
    """One paper: its ending, how it is made, whether it takes long, which row it is about, whether it holds originals."""

    ending: str
    make: Make
    long: bool = False
    about: str | None = None
    originals: bool = False

    @property
    def media_type(self) -> str:
        """What a browser is told it is."""
        return MEDIA_TYPES[self.ending]


def printed(draw: Callable[[SiteBook, Ask, Progress], Sheet]) -> Make:
    """Return how a drawn paper is made into a file."""

    def make(sources: Sources, ask: Ask, progress: Progress, out: BinaryIO) -> None:
        draw(sources.book, ask, progress).write(out)

    return make


def _rows(row_type: str) -> Make:
    return lambda sources, _ask, _progress, out: write_rows(out, row_type, sources.book.all(row_type))


def _places(sources: Sources, _ask: Ask, _progress: Progress, out: BinaryIO) -> None:
    write_places(out, ((row_type, row) for row_type in ("site", "photo") for row in sources.book.all(row_type)))


def _calendar(sources: Sources, ask: Ask, _progress: Progress, out: BinaryIO) -> None:
    out.write(site_calendar(sources.book, ask))


def _originals(sources: Sources, _ask: Ask, progress: Progress, out: BinaryIO) -> None:
    if sources.originals is None:
        raise AssertionError("who may not have originals is refused before")
    write_originals(out, sources.book.all("photo"), sources.originals, progress)


PAPERS: dict[str, Paper] = {
    "report": Paper("pdf", printed(report), long=True),
    "handout": Paper("pdf", printed(handout), about="handout"),
    "closure": Paper("pdf", printed(closure), about="ticket"),
    "shopping": Paper("pdf", printed(shopping)),
    "panels": Paper("pdf", printed(panels), long=True),
    "lasted": Paper("pdf", printed(lasted), long=True),
    "lasted-table": Paper("csv", lambda of, _ask, _p, out: write_table(out, *lasted_rows(of.book))),
    "shopping-table": Paper("csv", lambda of, ask, _p, out: write_table(out, *shopping_rows(of.book, ask))),
    "panels-table": Paper("csv", lambda of, _ask, _p, out: write_table(out, *panel_rows(of.book))),
    "defects-table": Paper("csv", lambda of, _ask, _p, out: write_defects(out, of.book)),
    "readings-table": Paper("csv", _rows("reading")),
    "tickets-table": Paper("csv", lambda of, _ask, _p, out: write_tickets(out, of.book)),
    "steps-table": Paper("csv", _rows("step")),
    "photos-table": Paper("csv", _rows("photo")),
    "places": Paper("geojson", _places),
    "calendar": Paper("ics", _calendar),
    "originals": Paper("zip", _originals, long=True, originals=True),
}
