"""The shopping list: what the open tickets take together, bought once."""

from collections.abc import Sequence

from makegood.domain.repair.known import Plain
from makegood.domain.repair.whole import buy_for
from makegood.papers.ask import Ask, Progress, begin
from makegood.papers.page.blocks import heading, paragraph
from makegood.papers.page.sheet import SMALL, Sheet
from makegood.papers.pdf import parts
from makegood.papers.site_book import SiteBook


def meant(book: SiteBook, ask: Ask) -> list[Plain]:
    """Return the tickets to buy for: those of the hand-out or work day asked about, else all that are open or taken."""
    for row_type in ("handout", "work_day"):
        row = book.one(row_type, ask.about) if ask.about else None
        if row is not None:
            return [one for one in book.tickets(row.get("ticket_ids") or []) if not book.engineer_first(one)]
    waiting = [one for one in book.tickets() if book.state(one) in ("open", "taken")]
    return [one for one in waiting if not book.engineer_first(one)]


def shopping(book: SiteBook, ask: Ask, _progress: Progress) -> Sheet:
    """Return the list as a paper."""
    say = ask.say
    sheet = begin(book, ask, say("shopping"))
    repairs, left_out = parts.reckoned(book, tickets := meant(book, ask))
    heading(sheet, say("shopping"), 1, say("shopping_sub", n=len(repairs)))
    numbers = [parts.number_of(one) for one in tickets]
    if repairs:
        parts.shopping(sheet, book, say, repairs)
        paragraph(sheet, say("for_tickets", numbers=", ".join(one for one in numbers if one not in left_out)), SMALL)
    else:
        paragraph(sheet, say("nothing_yet"))
    if left_out:
        paragraph(sheet, say("not_reckoned", numbers=", ".join(left_out)), SMALL)
    parts.hazards(sheet, book, say, {name for one in repairs for name in one.hazards}, whole=False)
    mixes = {need["mix"] for one in repairs for need in one.mixes}
    parts.sources(sheet, book, say, mixes, tickets)
    return sheet


def shopping_rows(book: SiteBook, ask: Ask) -> tuple[Sequence[str], list[list[object]]]:
    """Return the list for a table: names, and a line for each material in its own unit."""
    repairs, _ = parts.reckoned(book, meant(book, ask))
    head = ("material", "name", "unit", "low", "likely", "high", "bag_kg", "bags", "buy", "left", "price", "currency", "carry_kg")
    lines: list[list[object]] = [
        [key, parts.material_name(book, ask.say, key), one["need"]["unit"], one["need"]["amount"]["low"],
         one["need"]["amount"]["likely"], one["need"]["amount"]["high"], one["bag_kg"], one["bags"], one["buy"],
         one["left"], one["price"], book.site.get("currency"), one["carry_kg"]]
        for key, one in buy_for(repairs, book.site, book.catalogue).items()
    ]  # fmt: skip
    return head, lines
