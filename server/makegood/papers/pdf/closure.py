"""The closure of one ticket: what was damaged, what was done, who looked again and found what."""

from makegood.domain.repair.known import Plain
from makegood.errors import NotFound
from makegood.papers.ask import Ask, Progress, begin
from makegood.papers.page.blocks import (
    Column,
    Picture,
    facts,
    heading,
    listed,
    paragraph,
    photos,
    table,
    to_sign,
)
from makegood.papers.page.sheet import SMALL, Sheet
from makegood.papers.page.wall import draw_wall, legend, views_for
from makegood.papers.pdf import parts
from makegood.papers.pdf.report import pairs_of
from makegood.papers.site_book import SiteBook
from makegood.papers.words.say import Say


def closure(book: SiteBook, ask: Ask, _progress: Progress) -> Sheet:
    """Return the paper that shows how ticket `ask.about` came to its end. Raises NotFound."""
    ticket = book.one("ticket", ask.about)
    if ticket is None:
        raise NotFound("ticket_unknown", "There is no such ticket in what this device may see.")
    say = ask.say
    number = parts.number_of(ticket)
    sheet = begin(book, ask, say("closure", n=number))
    heading(sheet, say("closure", n=number), 1, str(book.site["name"]))
    if book.state(ticket) != "checked":
        paragraph(sheet, say("closure_none", n=number))
    if book.engineer_first(ticket):
        parts.engineer(sheet, say)
    _what(sheet, book, say, ticket)
    _steps(sheet, book, say, ticket)
    _used(sheet, book, say, ticket)
    pictures = pairs_of(book, say, ticket) or _unpaired(book, say, ticket)
    if pictures:
        heading(sheet, say("before_after"), 2, keep_mm=88)
        photos(sheet, pictures)
    heading(sheet, say("defer"), 2)
    repair = book.repair(ticket)
    mixes = {one["mix"] for one in repair.mixes} if repair else set()
    parts.sources(sheet, book, say, mixes, [ticket])
    to_sign(sheet, [say("who"), say("date"), say("signed")])
    return sheet


def _unpaired(book: SiteBook, say: Say, ticket: Plain) -> list[Picture]:
    """Photos of the damage and of the work, where none was taken from the same place."""
    name = say("ticket", n=parts.number_of(ticket))
    before = [photos[-1] for one in book.defects_of(ticket) if (photos := book.photos_of("defect", one.defect["id"]))]
    after = [one for step in book.under("step", ticket["id"]) for one in book.photos_of("step", step["id"])]
    after += book.photos_of("ticket", ticket["id"])
    found = [parts.picture(book, say, one, f"{name}, {say('before')}") for one in before]
    found += [parts.picture(book, say, one, f"{name}, {say('after')}") for one in after]
    return [one for one in found if one is not None]


def _what(sheet: Sheet, book: SiteBook, say: Say, ticket: Plain) -> None:
    known = book.defects_of(ticket)
    method = book.method(ticket)
    facts(
        sheet,
        [
            (say("state"), say.term("ticket_states", book.state(ticket), None)),
            (say("urgency"), say.term("urgencies", book.urgency(ticket))),
            (say("what_to_do"), say.of(method["words"], "name") if method else say("no_method")),
            (say("where"), "; ".join(dict.fromkeys(parts.wall_words(one) for one in known))),
            *((say("defect", n=parts.number_of(one.defect)), parts.defect_words(say, one)) for one in known),
            (say("note"), str(ticket.get("note") or "")),
        ],
    )
    for elevation_id in dict.fromkeys(one.wall.elevation["id"] for one in known):
        here = [one for one in known if one.wall.elevation["id"] == elevation_id]
        wall = parts.marked_wall(book, say, here[0].wall.elevation, here, [one.defect["id"] for one in here])
        for view in views_for(wall):
            draw_wall(sheet, wall, view, 60.0)
    legend(sheet, parts.families_on(book, known), lambda one: say.term("families", one), say("legend"))


def _steps(sheet: Sheet, book: SiteBook, say: Say, ticket: Plain) -> None:
    steps = book.under("step", ticket["id"])
    heading(sheet, say("history"), 2)
    rows = [
        [say.moment(one["at"]), say.term("steps", one["kind"], "did"), str(one["made_by"]), _told(book, say, one)]
        for one in steps
    ]
    if not rows:
        paragraph(sheet, say("nothing_yet"))
    table(sheet, [Column(say("when"), 2), Column(say("step"), 1.5), Column(say("who"), 1.5), Column(say("note"), 4)], rows)
    for one in steps:
        if one.get("checks"):
            heading(sheet, say("check_points"), 3)
            listed(sheet, [f"{say.term('checks', key, None)}: {say(f'answer_{value}')}" for key, value in one["checks"].items()])


def _told(book: SiteBook, say: Say, step: Plain) -> str:
    storm = book.one("storm", step.get("storm_id"))
    told = [
        say("own_work") if step.get("own_work") else "",
        str(storm["name"]) if storm else "",
        say.area(step["area_m2"]) if step.get("area_m2") is not None else "",
        say.mm(step["thickness_mm"]) if step.get("thickness_mm") is not None else "",
        str(step.get("note") or ""),
    ]
    return " · ".join(one for one in told if one)


def _used(sheet: Sheet, book: SiteBook, say: Say, ticket: Plain) -> None:
    used: dict[str, dict[str, float]] = {}
    for step in book.under("step", ticket["id"]):
        for material, amount in (step.get("used") or {}).items():
            for unit, number in amount.items():
                used.setdefault(material, {}).setdefault(unit, 0.0)
                used[material][unit] += number
    if not used:
        return
    repair = book.repair(ticket)
    planned = repair.materials if repair else {}
    rows = [
        [parts.material_name(book, say, key),
         say.spread(planned[key]["amount"], planned[key]["unit"]) if key in planned else "",
         ", ".join(say.amount(number, unit) for unit, number in amounts.items())]
        for key, amounts in used.items()
    ]  # fmt: skip
    heading(sheet, say("used"), 2)
    table(sheet, [Column(say("material"), 3), Column(say("planned"), 3, True), Column(say("used_really"), 2, True)], rows)
    if repair is None:
        paragraph(sheet, say("not_reckoned", numbers=parts.number_of(ticket)), SMALL)
