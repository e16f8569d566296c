"""The log of sample panels: what each is made of, who laid it in what weather, and how it has stood up."""

from collections.abc import Sequence

from makegood.domain.repair.known import Plain
from makegood.papers.ask import Ask, Progress, begin
from makegood.papers.page.blocks import Column, facts, heading, paragraph, photos, table
from makegood.papers.page.sheet import SMALL, Sheet
from makegood.papers.pdf import parts
from makegood.papers.site_book import SiteBook
from makegood.papers.words.say import Say

_LOOKS = (
    ("when", 1.6), ("verdict", 1.2), ("rub", 1.6), ("tap", 1.4), ("bead", 1.6), ("colour", 1.5), ("cracks", 1.2),
    ("wear", 1.4), ("note", 1.7),
)  # fmt: skip
_SCORED = (
    "at", "verdict", "rub", "tap", "bead", "colour", "crack_width_mm", "crack_spacing_mm", "depth_mean_mm",
    "depth_max_mm",
)  # fmt: skip
_TOLD = ("by", "weather", "batches", "sand", "water", "cure", "note")


def sample_panels(book: SiteBook) -> list[Plain]:
    """Return the sample panels, the oldest first."""
    panels = [one for one in book.all("finish") if one.get("sample_panel")]
    return sorted(panels, key=lambda one: (str(one.get("made_on") or ""), str(one["name"]), one["id"]))


def panels(book: SiteBook, ask: Ask, progress: Progress) -> Sheet:
    """Return the log as a paper."""
    say = ask.say
    sheet = begin(book, ask, say("panels"))
    heading(sheet, say("panels"), 1, str(book.site["name"]))
    found = sample_panels(book)
    if not found:
        paragraph(sheet, say("panels_none"))
    for n, panel in enumerate(found):
        progress(n, len(found))
        _panel(sheet, book, say, panel)
    mixes = {coat["mix"] for one in found for coat in one["coats"]} & set(book.catalogue["mixes"])
    heading(sheet, say("defer"), 2)
    parts.hazards(sheet, book, say, {name for mix in mixes for name in book.catalogue["mixes"][mix]["hazards"]}, whole=False)
    parts.sources(sheet, book, say, mixes, ())
    return sheet


def _panel(sheet: Sheet, book: SiteBook, say: Say, panel: Plain) -> None:
    elevation = book.one("elevation", panel["elevation_id"])
    structure = book.one("structure", elevation["structure_id"]) if elevation else None
    where = ", ".join(str(one["name"]) for one in (structure, elevation) if one)
    told = [(say(key), str(panel.get(key) or "")) for key in _TOLD]
    coats = parts.coats_words(book, say, panel["coats"])
    dates = [(say("laid_on"), say.day(panel.get("made_on"))), (say("ended_on"), say.day(panel.get("ended_on")))]
    known = [(name, answer) for name, answer in [(say("coats"), coats), *dates, *told] if answer]
    heading(sheet, str(panel["name"]), 2, where, min(10 + 7 * len(known), 120))
    facts(sheet, known)
    scores = book.under("score", panel["id"])
    table(sheet, [Column(say(key), share) for key, share in _LOOKS], [_score(say, one) for one in scores])
    shown = [*book.photos_of("finish", panel["id"]), *(p for one in scores for p in book.photos_of("score", one["id"]))]
    pictures = [parts.picture(book, say, one, str(panel["name"])) for one in shown]
    photos(sheet, [one for one in pictures if one is not None], across=3, tallest_mm=50)
    missing = sum(one is None for one in pictures)
    if missing:
        paragraph(sheet, say("photo_missing", n=missing), SMALL)


def _score(say: Say, one: Plain) -> list[str]:
    worn = [one.get("depth_mean_mm"), one.get("depth_max_mm")]
    return [
        say.day(one["at"]), say.term("verdicts", one["verdict"], None), say.term("rub_marks", one.get("rub"), None),
        say.term("tap_marks", one.get("tap"), None), say.term("bead_marks", one.get("bead"), None),
        say.term("colour_marks", one.get("colour"), None),
        say.mm(one["crack_width_mm"]) if one.get("crack_width_mm") is not None else "",
        " / ".join(say.mm(value) for value in worn if value is not None), str(one.get("note") or ""),
    ]  # fmt: skip


def panel_rows(book: SiteBook) -> tuple[Sequence[str], list[list[object]]]:
    """Return the log for a table: one line for each look at a panel, or one for a panel nobody has looked at yet."""
    told = ("made_on", "ended_on", *_TOLD)
    lines: list[list[object]] = []
    for panel in sample_panels(book):
        coats = "; ".join(f"{one['mix']} {one['thickness_mm']:g} mm" for one in panel["coats"])
        for score in book.under("score", panel["id"]) or [{}]:
            own = [panel["id"], panel["name"], coats, *(panel.get(key) for key in told)]
            lines.append([*own, *(score.get(key) for key in _SCORED), score.get("note")])
    return ("panel_id", "panel", "coats", *told, *_SCORED, "look_note"), lines
