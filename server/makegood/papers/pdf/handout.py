"""The hand-out: one helper's tickets for a day, with all it takes to do them without having been there before."""

from itertools import groupby

from makegood.domain.repair.known import Known, Plain
from makegood.domain.repair.waits import Wait, coats_of, frost_free_days, waits_of
from makegood.domain.repair.whole import Repair
from makegood.errors import NotFound
from makegood.papers.ask import Ask, Progress, begin
from makegood.papers.page.blocks import Column, code, heading, listed, paragraph, photos, table, to_sign
from makegood.papers.page.sheet import SMALL, Sheet
from makegood.papers.page.wall import draw_wall, views_for
from makegood.papers.pdf import parts
from makegood.papers.site_book import SiteBook
from makegood.papers.words.say import Say
from makegood.science.materials.batch import recipe
from makegood.science.materials.shapes import MixNeed

_PHOTOS_EACH = 2


def handout(book: SiteBook, ask: Ask, progress: Progress) -> Sheet:
    """Return the printed hand-out `ask.about`, in its own language. Raises NotFound."""
    row = book.one("handout", ask.about)
    if row is None:
        raise NotFound("handout_unknown", "There is no such hand-out in what this device may see.")
    ask = Ask(row.get("language") or ask.language, ask.measures, ask.about, ask.now)
    say = ask.say
    sheet = begin(book, ask, say("sheet"))
    on = say.day(row["on"])
    who = say("sheet_for", person=row["person"], on=on) if row.get("person") else say("sheet_anybody", on=on)
    heading(sheet, say("sheet"), 1, who)
    tickets = book.tickets(row["ticket_ids"])
    _overview(sheet, book, say, row, tickets)
    for n, ticket in enumerate(tickets):
        progress(n, len(tickets))
        sheet.new_page()
        _ticket(sheet, book, say, ticket, bool(row.get("show_place")))
    return sheet


def _overview(sheet: Sheet, book: SiteBook, say: Say, row: Plain, tickets: list[Plain]) -> None:
    if row.get("note"):
        paragraph(sheet, str(row["note"]))
    if not tickets:
        paragraph(sheet, say("no_tickets"))
    rows = []
    for ticket in tickets:
        known = book.defects_of(ticket)
        walls = "; ".join(dict.fromkeys(parts.wall_words(one) for one in known))
        what = say("engineer_first") if book.engineer_first(ticket) else _method_name(book, say, ticket)
        rows.append([parts.number_of(ticket), walls, what, say.term("urgencies", book.urgency(ticket))])
    named = (("number", 0.7), ("where", 2.5), ("what_to_do", 3), ("urgency", 2))
    columns = [Column(say(key), share) for key, share in named]
    if rows:
        heading(sheet, say("sheet_order"), 2)
    table(sheet, columns, rows)


def _method_name(book: SiteBook, say: Say, ticket: Plain) -> str:
    method = book.method(ticket)
    return say.of(method["words"], "name") if method else say("no_method")


def _ticket(sheet: Sheet, book: SiteBook, say: Say, ticket: Plain, show_place: bool) -> None:
    known = book.defects_of(ticket)
    walls = "; ".join(dict.fromkeys(parts.wall_words(one) for one in known))
    name = say("ticket", n=parts.number_of(ticket))
    heading(sheet, f"{name} · {_method_name(book, say, ticket)}", 2, walls)
    stopped = book.engineer_first(ticket)
    if stopped:
        parts.engineer(sheet, say, say("do_not"))
    _where(sheet, book, say, known, show_place)
    if not stopped:
        repair = book.repair(ticket)
        if repair is not None:
            parts.hazards(sheet, book, say, repair.hazards)
        how(sheet, book, say, ticket)
        if repair is not None:
            batch_cards(sheet, book, say, repair)
            waiting(sheet, book, say, repair)
    if ticket.get("note"):
        heading(sheet, say("note"), 3)
        paragraph(sheet, str(ticket["note"]))
    sheet.need(46)
    if book.origin:
        code(sheet, f"{book.origin}/ticket/{ticket['id']}", say("ticket_scan", n=parts.number_of(ticket)))
    if not stopped:
        to_sign(sheet, [say("done_by"), say("done_on"), say("signed")])


def _where(sheet: Sheet, book: SiteBook, say: Say, known: list[Known], show_place: bool) -> None:
    by_wall = sorted(known, key=lambda one: str(one.wall.elevation["id"]))
    for _, some in groupby(by_wall, key=lambda one: one.wall.elevation["id"]):
        here = list(some)
        wall = parts.marked_wall(book, say, here[0].wall.elevation, here, [one.defect["id"] for one in here])
        for view in views_for(wall):
            draw_wall(sheet, wall, view, 62.0)
    for one in known:
        paragraph(sheet, f"{parts.number_of(one.defect)} · {parts.defect_words(say, one)}")
    pictures = [
        parts.picture(book, say, photo, f"{parts.number_of(one.defect)} {parts.kind_words(say, one.defect)}", show_place)
        for one in known
        for photo in book.photos_of("defect", one.defect["id"])[-_PHOTOS_EACH:]
    ]
    here_now = [one for one in pictures if one is not None]
    photos(sheet, here_now, tallest_mm=55)
    if len(here_now) < len(pictures):
        paragraph(sheet, say("photo_missing", n=len(pictures) - len(here_now)), SMALL)


def how(sheet: Sheet, book: SiteBook, say: Say, ticket: Plain) -> None:
    """Write the steps of a ticket's method as it is laid here, its own cautions, and what to bring."""
    method = book.method(ticket)
    if method is None:
        paragraph(sheet, say("no_method"))
        return
    words = method["words"][say.language]
    heading(sheet, say("what_to_do"), 3)
    listed(sheet, words["steps"], numbered=True)
    listed(sheet, words.get("cautions", []))
    if words.get("tools"):
        heading(sheet, say("tools"), 3)
        paragraph(sheet, ", ".join(words["tools"]))


def batch_cards(sheet: Sheet, book: SiteBook, say: Say, repair: Repair) -> None:
    """Write what goes into one batch of each mix, in buckets and spoons."""
    if not repair.mixes:
        return
    heading(sheet, say("batches"), 3, keep_mm=10 + _card_mm(book, repair.mixes[0]))
    paragraph(sheet, say.bucket(book.site.get("bucket_l")), SMALL)
    for need in repair.mixes:
        _batch_card(sheet, book, say, need)


def _card_mm(book: SiteBook, need: MixNeed) -> float:
    """Return about how tall a batch card is [mm]: whoever mixes should not have to turn the page."""
    return 18 + 7 * len(book.catalogue["mixes"][need["mix"]]["per_l"])


def _batch_card(sheet: Sheet, book: SiteBook, say: Say, need: MixNeed) -> None:
    plan, mix = need["batches"], book.catalogue["mixes"][need["mix"]]
    if not plan["count"]:
        return
    key = "batch_card_one" if plan["count"] == 1 else "batch_card"
    name = say.of(mix["words"], "name")
    sheet.need(_card_mm(book, need))
    paragraph(sheet, say(key, mix=name, count=plan["count"], each=say.volume(plan["each_l"])))
    rows = []
    for material, each in recipe(mix["per_l"], plan["each_l"]).items():
        loose, kg = each["l"], each["kg"]
        weighed = say.mass(kg["likely"]) if kg else ""
        measured = say.measured(loose["likely"], book.site.get("bucket_l")) if loose else ""
        bulking = book.catalogue["materials"][material]["bulking"]
        if bulking and loose:
            damp = loose["likely"] * (1 + bulking["likely"])
            measured += f" ({say('damp_sand', amount=say.measured(damp, book.site.get('bucket_l')))})"
        rows.append([parts.material_name(book, say, material), measured, weighed])
    table(sheet, [Column(say("material"), 3), Column(say("measure"), 4), Column(say("weigh"), 1.5, True)], rows)
    if plan["limited_by"] == "time":
        paragraph(sheet, say("batch_limit_time", h=say.number(mix["working_h"]["low"])), SMALL)


def waiting(sheet: Sheet, book: SiteBook, say: Say, repair: Repair) -> None:
    """Write what is laid on which day, how long it is kept damp and free of frost, and the method's other waits."""
    mixes = book.catalogue["mixes"]
    coats = coats_of(repair, mixes)
    waits = waits_of(coats, mixes)
    lines = [_wait(book, say, wait, wait is waits[-1]) for wait in waits]
    if coats:
        frost = frost_free_days(coats, mixes)
        lines.append(say("wait_frost", days=say.days(frost["low"], frost["high"])))
    for one in repair.method["cure"]:
        if one.get("wait") is None:
            lines.append(say("wait_other", what=say.of(one["words"]), days=say.days(one["days"]["low"], one["days"]["high"])))
    if lines:
        heading(sheet, say("waiting"), 3)
        listed(sheet, lines)


def _what(book: SiteBook, say: Say, one: Wait) -> str:
    """Lifts of a filling with its depth in all, coats by number, mix and thickness."""
    mix = parts.mix_name(book, say, one.mix)
    thick = "" if one.thickness_mm is None else say.mm(one.thickness_mm * one.times)
    if one.part == "dub_out":
        return say("wait_filling" if one.times > 1 else "wait_filling_one", mix=mix, times=one.times, thick=thick)
    if one.first_n is None:
        return mix
    last = one.first_n + one.times - 1
    name = say("coat_number", n=last) if one.times == 1 else say("coats_numbers", n=one.first_n, last=last)
    return ", ".join(told for told in (f"{name}: {mix}", thick) if told)


def _wait(book: SiteBook, say: Say, one: Wait, is_last: bool) -> str:
    days = one.after_days if one.times == 1 else one.next_days
    return say(
        "wait_lay", what=_what(book, say, one),
        day=say.days(one.starts_days["low"] + 1, one.starts_days["high"] + 1),
        damp=say.days(one.damp_days["low"], one.damp_days["high"]),
        next="" if is_last and one.times == 1 else say("wait_next", next=say.days(days["low"], days["high"])),
    )  # fmt: skip
