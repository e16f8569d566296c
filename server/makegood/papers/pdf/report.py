"""The survey report: summary, every side with its hatched defects and their table, photos, pairs, estimate, sources."""

from collections import Counter
from itertools import chain

from makegood.domain.repair.known import Known, Plain, size_of
from makegood.papers.ask import Ask, Progress, begin
from makegood.papers.page.blocks import Column, Picture, facts, heading, listed, paragraph, photos, table
from makegood.papers.page.sheet import SMALL, Sheet
from makegood.papers.page.wall import draw_wall, legend, views_for
from makegood.papers.pdf import parts
from makegood.papers.site_book import SiteBook
from makegood.papers.words.say import Say

_STATES = ("open", "taken", "done", "checked")


def report(book: SiteBook, ask: Ask, progress: Progress) -> Sheet:
    """Return the report on everything the asker may see."""
    say = ask.say
    sheet = begin(book, ask, say("report"))
    sides = _sides(book)
    heading(sheet, say("report"), 1, str(book.site["name"]))
    _summary(sheet, book, say)
    if not sides:
        paragraph(sheet, say("nothing_yet"))
    for n, elevation in enumerate(sides):
        progress(n, len(sides) + 2)
        _side(sheet, book, say, elevation)
    progress(len(sides), len(sides) + 2)
    _pairs(sheet, book, say)
    progress(len(sides) + 1, len(sides) + 2)
    _estimate(sheet, book, say)
    _closing(sheet, book, say)
    return sheet


def _sides(book: SiteBook) -> list[Plain]:
    structures = sorted(book.all("structure"), key=lambda one: str(one["name"]))
    return list(chain.from_iterable(book.under("elevation", one["id"]) for one in structures))


def _summary(sheet: Sheet, book: SiteBook, say: Say) -> None:
    known = [found for one in book.all("defect") if (found := book.known(one)) is not None]
    counts = {"defects": len(known), "walls": len(book.all("elevation")), "tickets": len(book.all("ticket"))}
    paragraph(sheet, say("report_sub", photos=len(book.all("photo")), **counts))
    stated = Counter(book.state(one) for one in book.all("ticket"))
    mended = {row_id for one in book.all("ticket") if book.state(one) == "checked" for row_id in one["defect_ids"]}
    waiting = [one for one in known if one.latest("state") != "repaired" and one.defect["id"] not in mended]
    area = sum(size_of(one).area_m2 or 0 for one in waiting)
    site = book.site
    lat, lon = site.get("lat"), site.get("lon")
    facts(
        sheet,
        [
            (say("site"), str(site["name"])),
            (say("place"), f"{lat:.5f}, {lon:.5f}" if lat is not None and lon is not None else ""),
            (say("open_area"), say.area(area)),
            *((f"{say('tickets')}: {say.term('ticket_states', key, None)}", str(stated[key])) for key in _STATES if stated[key]),
        ],
    )
    _urgencies(sheet, book, say, known)
    if site.get("note"):
        heading(sheet, say("note"), 3)
        paragraph(sheet, str(site["note"]))


def _urgencies(sheet: Sheet, book: SiteBook, say: Say, known: list[Known]) -> None:
    by = Counter(book.judged(one).urgency for one in known)
    order = book.catalogue["urgency"]["order"]
    rows = [[say.term("urgencies", key), str(by[key]), say.term("urgencies", key, "means")] for key in order if by[key]]
    table(sheet, [Column(say("by_urgency"), 2), Column(say("defects"), 1, True), Column("", 5)], rows)
    stopped = [one for one in known if book.judged(one).engineer_first]
    for one in stopped[:20]:
        parts.engineer(sheet, say, f"{parts.number_of(one.defect)} · {parts.wall_words(one)}")
    listed(sheet, [f"{parts.number_of(one.defect)} · {parts.wall_words(one)}: {say('engineer_first')}" for one in stopped[20:]])


def _side(sheet: Sheet, book: SiteBook, say: Say, elevation: Plain) -> None:
    structure = book.one("structure", elevation["structure_id"])
    found = [known for one in book.under("defect", elevation["id"]) if (known := book.known(one)) is not None]
    name = " · ".join(str(one["name"]) for one in (structure, elevation) if one)
    heading(sheet, name, 2, say("faces", bearing=say.bearing(elevation["bearing_deg"])), 118)
    wall = parts.marked_wall(book, say, elevation, found)
    for view in views_for(wall):
        if view != "seen":
            sheet.need(118)
            paragraph(sheet, say(f"view_{view}"), SMALL)
        draw_wall(sheet, wall, view)
    legend(sheet, parts.families_on(book, found), lambda one: say.term("families", one), say("legend"))
    if not found:
        paragraph(sheet, say("no_marks"))
    _defects(sheet, book, say, found)
    _side_photos(sheet, book, say, elevation, found)


def _defects(sheet: Sheet, book: SiteBook, say: Say, found: list[Known]) -> None:
    columns = [Column(say("number"), 0.7), Column(say("kind"), 2.4), Column(say("size"), 1.9), Column(say("depth"), 1.8),
               Column(say("urgency"), 2.2), Column(say("seen"), 1.5)]  # fmt: skip
    rows = []
    for one in found:
        judged = book.judged(one)
        pressing = say.term("urgencies", judged.urgency)
        seen = one.readings[-1]["at"] if one.readings else one.defect["made_at"]
        rows.append([
            parts.number_of(one.defect), parts.kind_words(say, one.defect), parts.size_words(say, one),
            parts.depth_words(say, one),
            f"{say('engineer_short')}. {pressing}" if judged.engineer_first else pressing, say.day(seen),
        ])  # fmt: skip
    table(sheet, columns, rows)
    for one in found:
        signs = ", ".join(say.term("signs", sign, None) for sign in one.defect.get("signs") or [])
        words = [f"{parts.number_of(one.defect)}: {signs}"] if signs else []
        if one.defect.get("note"):
            words.append(f"{parts.number_of(one.defect)}: {one.defect['note']}")
        words += [f"{parts.number_of(one.defect)}: {note['text']}" for note in book.under("note", one.defect["id"])]
        listed(sheet, words)


def _side_photos(sheet: Sheet, book: SiteBook, say: Say, elevation: Plain, found: list[Known]) -> None:
    shown = [(one, str(elevation["name"])) for one in book.photos_of("elevation", elevation["id"])]
    for known in found:
        what = f"{parts.number_of(known.defect)} {parts.kind_words(say, known.defect)}"
        shown += [(one, what) for one in book.photos_of("defect", known.defect["id"])]
    pictures = [parts.picture(book, say, one, what) for one, what in shown]
    here = [one for one in pictures if one is not None]
    if here:
        heading(sheet, say("photos"), 3, keep_mm=80)
        photos(sheet, here)
    if len(here) < len(pictures):
        paragraph(sheet, say("photo_missing", n=len(pictures) - len(here)), SMALL)


def pairs_of(book: SiteBook, say: Say, ticket: Plain, show_place: bool = True) -> list[Picture]:
    """Return a ticket's photos in pairs, before and after from the same place; those without a partner are left out."""
    found: list[Picture] = []
    for step in book.under("step", ticket["id"]):
        for after in book.photos_of("step", step["id"]):
            before = book.one("photo", after.get("same_place_as"))
            if before is None:
                continue
            name = say("ticket", n=parts.number_of(ticket))
            first = parts.picture(book, say, before, f"{name}, {say('before')}", show_place)
            second = parts.picture(book, say, after, f"{name}, {say('after')}", show_place)
            found += [first, second] if first and second else []
    return found


def _pairs(sheet: Sheet, book: SiteBook, say: Say) -> None:
    pictures = [one for ticket in book.tickets() for one in pairs_of(book, say, ticket)]
    if pictures:
        heading(sheet, say("before_after"), 2, keep_mm=88)
        photos(sheet, pictures)


def _estimate(sheet: Sheet, book: SiteBook, say: Say) -> None:
    waiting = [one for one in book.tickets() if book.state(one) in ("open", "taken")]
    heading(sheet, say("estimate"), 2)
    stopped = [one for one in waiting if book.engineer_first(one)]
    repairs, left_out = parts.reckoned(book, [one for one in waiting if one not in stopped])
    if repairs:
        parts.shopping(sheet, book, say, repairs)
    else:
        paragraph(sheet, say("nothing_yet"))
    if left_out:
        paragraph(sheet, say("not_reckoned", numbers=", ".join(left_out)), SMALL)
    for one in stopped:
        paragraph(sheet, f"{say('ticket', n=parts.number_of(one))}: {say('engineer_first')}", SMALL)


def _closing(sheet: Sheet, book: SiteBook, say: Say) -> None:
    heading(sheet, say("defer"), 2)
    tickets = [one for one in book.all("ticket") if one.get("method") in book.catalogue["methods"]]
    repairs = [one for ticket in tickets if (one := book.repair(ticket)) is not None]
    mixes = {need["mix"] for one in repairs for need in one.mixes}
    parts.hazards(sheet, book, say, {name for one in repairs for name in one.hazards}, whole=False)
    parts.sources(sheet, book, say, mixes, tickets)
