"""Pieces that several papers share: what a defect is in words, photos with their caption, materials, cautions."""

from collections.abc import Iterable, Mapping, Sequence
from io import BytesIO

from PIL import Image

from makegood.domain.repair.known import Known, Plain, finish_under, size_of
from makegood.domain.repair.whole import Repair, buy_for
from makegood.papers.page.blocks import Column, Picture, caution, listed, paragraph, table
from makegood.papers.page.sheet import SMALL, Sheet
from makegood.papers.page.wall import DrawnMark, DrawnWall
from makegood.papers.site_book import SiteBook
from makegood.papers.words.say import Say
from makegood.science.laid import LaidCoat
from makegood.science.materials.shopping import Purchase


def kind_words(say: Say, defect: Plain) -> str:
    """Return what a defect is."""
    return say.term("kinds", defect["kind"]) if defect.get("kind") else say("kind_unnamed")


def number_of(row: Plain) -> str:
    """Return a row's number, or a dash while the server has not given one."""
    return str(row.get("number") or "–")


def wall_words(known: Known) -> str:
    """Return the building and the side a defect lies on."""
    structure = known.wall.structure
    return ", ".join(str(one["name"]) for one in (structure, known.wall.elevation) if one)


def size_words(say: Say, known: Known) -> str:
    """Return a defect's size: area, length, width, count, whichever are known."""
    size = size_of(known)
    width, count = known.latest("crack_width_mm"), known.latest("count")
    told = [
        say.area(size.area_m2) if size.area_m2 is not None else "",
        say.metres(size.length_m) if size.length_m is not None else "",
        say("wide", width=say.mm(width)) if width else "",
        say("pieces", n=count) if count else "",
    ]
    return ", ".join(one for one in told if one)


def depth_words(say: Say, known: Known) -> str:
    """Return a defect's depth."""
    mean, most = known.latest("depth_mean_mm"), known.latest("depth_max_mm")
    if mean is not None and most is not None and mean != most:
        return say("deep", mean=say.mm(mean), most=say.mm(most))
    deep = mean if most is None else most
    return "" if deep is None else say.mm(deep)


def defect_words(say: Say, known: Known) -> str:
    """Return what a defect is, how large and how deep."""
    told = (kind_words(say, known.defect), size_words(say, known), depth_words(say, known))
    return " · ".join(one for one in told if one)


def marked_wall(book: SiteBook, say: Say, elevation: Plain, known: Sequence[Known], meant: Iterable[str] = ()) -> DrawnWall:
    """Return a side with these defects for drawing, and the picture in words."""
    ids = set(meant)
    marks = [
        DrawnMark(one.mark, number_of(one.defect), book.family(one.defect), one.defect["id"] in ids)
        for one in known
    ]
    structure = book.one("structure", elevation["structure_id"])
    names = {"structure": structure["name"] if structure else "", "elevation": elevation["name"]}
    told = "; ".join(f"{number_of(one.defect)} {kind_words(say, one.defect)}" for one in known)
    alt = say("wall_alt", n=len(marks), marks=told, **names) if marks else say("wall_alt_none", **names)
    return DrawnWall(elevation, marks, say.measures, alt)


def families_on(book: SiteBook, known: Iterable[Known]) -> list[str]:
    """Return the families that stand on a drawing, in the vocabulary's order."""
    there = {book.family(one.defect) for one in known}
    return [one["id"] for one in book.catalogue["vocabulary"]["families"] if one["id"] in there]


def picture(book: SiteBook, say: Say, photo: Plain, what: str, show_place: bool = True) -> Picture | None:
    """Return a photo's copy with its caption: when, from where, which way; None where it is not on the server."""
    jpeg = book.photos(photo, 400)
    if jpeg is None:
        return None
    with Image.open(BytesIO(jpeg), formats=("JPEG",)) as image:
        width, height = image.size
    when = say.moment(photo.get("taken_at") or photo["made_at"])
    told = [what, when, place_words(say, photo) if show_place else ""]
    if photo.get("heading_deg") is not None:
        told.append(say("looks", bearing=say.bearing(photo["heading_deg"])))
    caption = " · ".join(one for one in told if one)
    return Picture(jpeg, say("photo_alt", what=what, when=when), caption, width, height)


def place_words(say: Say, photo: Plain) -> str:
    """Return where a photo was taken, in degrees; nothing where that is not known or not to be seen."""
    lat, lon = photo.get("lat"), photo.get("lon")
    if lat is None or lon is None:
        return ""
    near = photo.get("accuracy_m")
    return f"{lat:.5f}, {lon:.5f}" + (f" {say('accuracy', m=say.metres(near))}" if near is not None else "")


def hazards(sheet: Sheet, book: SiteBook, say: Say, ids: Iterable[str], whole: bool = True) -> None:
    """Write the cautions of these hazards and to whom they defer."""
    book_of = book.catalogue["hazards"]
    lines: list[str] = []
    for one in sorted(set(ids)):
        words = book_of["hazards"][one]["words"][say.language]
        lines.append(f"{words['name']}. {' '.join(words['care']) if whole else words['short']}")
    if lines:
        caution(sheet, say("take_care"), [*lines, say.of(book_of["defer"])])


def engineer(sheet: Sheet, say: Say, about: str = "") -> None:
    """Write the box that keeps everybody away until an engineer has looked."""
    title = say("engineer_first")
    caution(sheet, f"{title} · {about}" if about else title, [say("engineer_lines")], strong=True)


def material_name(book: SiteBook, say: Say, material: str) -> str:
    """Return a material's name."""
    known = book.catalogue["materials"].get(material)
    return say.of(known["words"]) if known else material


def bought(say: Say, one: Purchase) -> str:
    """Return what to buy: whole bags, pieces, or an amount."""
    if one["bags"] is not None and one["bag_kg"] is not None:
        return say("bags", n=one["bags"], bag=say.mass(one["bag_kg"]))
    return say.amount(one["buy"], one["need"]["unit"])


def money(book: SiteBook, say: Say, price: float | None) -> str:
    """Return a price in the site's currency."""
    return "" if price is None else f"{say.number(price, 2, whole=True)} {book.site.get('currency') or ''}".strip()


def shopping(sheet: Sheet, book: SiteBook, say: Say, repairs: Sequence[Repair]) -> Mapping[str, Purchase]:
    """Write the merged list of several repairs, with prices and what there is to carry."""
    list_of = buy_for(repairs, book.site, book.catalogue)
    rows = [
        [material_name(book, say, key), say.spread(one["need"]["amount"], one["need"]["unit"]), bought(say, one),
         money(book, say, one["price"]), say.mass(one["carry_kg"])]
        for key, one in list_of.items()
    ]  # fmt: skip
    prices = [one["price"] for one in list_of.values() if one["price"] is not None]
    if rows:
        carry_kg = sum(one["carry_kg"] for one in list_of.values())
        rows.append([say("in_all"), "", "", money(book, say, sum(prices)) if prices else "", say.mass(carry_kg)])
    columns = [Column(say("material"), 3), Column(say("need"), 3.2), Column(say("buy"), 1.8, True),
               Column(say("price"), 1.4, True), Column(say("carry"), 1.3, True)]  # fmt: skip
    table(sheet, columns, rows)
    paragraph(sheet, say("estimate_low_high"), SMALL)
    if prices and len(prices) < len(list_of):
        paragraph(sheet, say("some_prices"), SMALL)
    return list_of


def reckoned(book: SiteBook, tickets: Iterable[Plain]) -> tuple[list[Repair], list[str]]:
    """Return what these tickets take, and the numbers of those that cannot be reckoned."""
    repairs, left_out = [], []
    for ticket in tickets:
        repair = book.repair(ticket)
        if repair is None:
            left_out.append(number_of(ticket))
        else:
            repairs.append(repair)
    return repairs, left_out


def sources(sheet: Sheet, book: SiteBook, say: Say, mixes: Iterable[str], tickets: Iterable[Plain]) -> None:
    """Write where the figures of these mixes and of the methods of these tickets come from, and what they are worth."""
    methods = {say.of(one["words"], "name"): one for ticket in tickets if (one := book.method(ticket)) is not None}
    told = [*(methods[name] for name in sorted(methods)), *(book.catalogue["mixes"][one] for one in sorted(set(mixes)))]
    lines = []
    for one in told:
        source, basis = say.source(one["source"]), say(f"basis_{one['basis']}")
        lines.append(say("sources_line", name=say.of(one["words"], "name"), source=source, basis=basis))
    if lines:
        paragraph(sheet, say("sources"), SMALL)
        listed(sheet, lines, style=SMALL)
    for key in ("limits", "no_placard"):
        paragraph(sheet, say(key), SMALL)
    paragraph(sheet, say.of(book.catalogue["hazards"]["defer"]), SMALL)


def finish_coats(book: SiteBook, say: Say, known: Known) -> str:
    """Return the coats a defect lies in, from the wall outwards."""
    finish = finish_under(known.mark, known.wall.finishes)
    return coats_words(book, say, finish["coats"]) if finish else ""


def coats_words(book: SiteBook, say: Say, coats: Iterable[Plain]) -> str:
    """Return coats in words."""
    return "; ".join(say("coat_line", mix=mix_name(book, say, one["mix"]), thick=say.mm(one["thickness_mm"])) for one in coats)


def mix_name(book: SiteBook, say: Say, mix: str) -> str:
    """Return a mix's name."""
    known = book.catalogue["mixes"].get(mix)
    return say.of(known["words"], "name") if known else mix


def coat_name(say: Say, coat: LaidCoat) -> str:
    """Return what a coat is called everywhere: true coats by their numbers, lifts of a filling by theirs; nothing for
    what fills a crack or beds a stone, which is all there is to lay.
    """
    if coat.part == "fill":
        return ""
    if coat.n is not None:
        return say("coat_number", n=coat.n)
    return say("filling_lift", lift=coat.lift, lifts=coat.lifts) if coat.lifts > 1 else say("filling")
