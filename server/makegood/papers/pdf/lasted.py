"""What lasted, on paper: finishes by their coats, bars on one scale, and the same in a table."""

from collections import defaultdict
from collections.abc import Sequence
from math import inf

from makegood.domain.ledger.follow import Followed, Span
from makegood.domain.ledger.group import curve_of, group, span_of
from makegood.papers.ask import Ask, Progress, begin
from makegood.papers.ledger.entries import Entry
from makegood.papers.page.blocks import Column, heading, paragraph, table
from makegood.papers.page.pen import Pen, Stroke, draw
from makegood.papers.page.sheet import CLAY, MARGIN_MM, SAGE, SMALL, Sheet
from makegood.papers.pdf import parts
from makegood.papers.site_book import SiteBook
from makegood.papers.words.say import Say
from makegood.science.units import convert

BAR_MM, TALL_MM, ARROW_MM = 120.0, 6.0, 6.0
_HATCH_MM = 1.6
_COLUMNS = (("finish", 2.0), ("where", 2.0), ("looks", 0.7), ("rain", 2.2), ("days", 2.2))


def lasted(book: SiteBook, ask: Ask, progress: Progress) -> Sheet:
    """Return the ledger as a paper."""
    say, found = ask.say, book.ledger
    sheet = begin(book, ask, say("lasted"))
    heading(sheet, say("lasted"), 1, say("lasted_sub"))
    if not found:
        paragraph(sheet, say("lasted_none"))
    groups: dict[str, list[Entry]] = defaultdict(list)
    for one in found:
        groups["+".join(coat["mix"] for coat in one.finish["coats"])].append(one)
    most = max([1.0, *(end for one in found if (end := _end(span_of(one.followed, "l_m2"))) is not None)])
    for n, key in enumerate(sorted(groups)):
        progress(n, len(groups))
        _group(sheet, book, say, groups[key], most)
    paragraph(sheet, say("lasted_key"), SMALL)
    paragraph(sheet, say("lasted_limits"), SMALL)
    return sheet


def _end(span: Span | None) -> float | None:
    return None if span is None else span.left if span.right is None else span.right


def _group(sheet: Sheet, book: SiteBook, say: Say, members: Sequence[Entry], most: float) -> None:
    title = parts.coats_words(book, say, members[0].finish["coats"]) or say("lasted_finish")
    heading(sheet, title, 2, "", 50)
    followed = [one.followed for one in members]
    paragraph(sheet, "; ".join(_counts(say, followed)) + ".")
    for one in members:
        _bar(sheet, say, one, most)
    curve = curve_of(followed, "l_m2")
    if curve is not None:
        share = 1.0
        for (left, right), mass in zip(curve.support, curve.mass, strict=True):
            share -= mass
            if right < inf:
                told = {"share": say.number(100 * share, 0), "from_": _amount(say, left), "to": _amount(say, right)}
                paragraph(sheet, say("lasted_drop", **told), indent=4, bullet="•")
        stood_to = [span.left for one in followed if (span := span_of(one, "l_m2")) is not None and span.right is None]
        if stood_to:
            paragraph(sheet, say("lasted_rest", amount=_amount(say, max(stood_to))), indent=4, bullet="•")
    columns = [Column(say(f"lasted_{key}"), share) for key, share in _COLUMNS]
    table(sheet, columns, [_cells(say, one) for one in members])


def _counts(say: Say, followed: Sequence[Followed]) -> list[str]:
    counted = group(followed, "l_m2")
    told = [say("lasted_of_one" if counted.held == 1 else "lasted_of", held=counted.held, n=counted.followed)]
    if counted.held_through:
        told.append(say("lasted_through", amount=_amount(say, counted.held_through)))
    for left, right in counted.gone_between:
        ends = {"from_": _amount(say, left), "to": _amount(say, right or 0.0)}
        told.append(say("lasted_gone" if left else "lasted_gone_by", **ends))
    told += [say("lasted_unseen", n=counted.not_looked)] if counted.not_looked else []
    return told + ([say("lasted_unknown", n=counted.not_known)] if counted.not_known else [])


def _amount(say: Say, value: float, measure: str = "l_m2") -> str:
    if measure == "days":
        return say("lasted_n_days", n=say.number(value, 0))
    # A litre on a square metre is a millimetre of water.
    return say("lasted_in", n=say.number(convert(value, "mm", "in"))) if say.us else say("lasted_l_m2", n=say.number(value, 0))


def _where(entry: Entry) -> str:
    return ", ".join(str(one["name"]) for one in (entry.structure, entry.elevation) if one)


def stood(say: Say, one: Followed, measure: str) -> str:
    """Return what is known of one finish, in words."""
    if one.verdict in ("not_looked", "no_day"):
        return say("lasted_one_unseen" if one.verdict == "not_looked" else "lasted_one_no_day")
    span = span_of(one, measure)
    if span is None:
        return say("lasted_one_no_rain")
    if span.right is not None:
        return say("lasted_one_gone", from_=_amount(say, span.left, measure), to=_amount(say, span.right, measure))
    return say("lasted_one_worn" if one.verdict == "worn" else "lasted_one_held", amount=_amount(say, span.left, measure))


def _cells(say: Say, entry: Entry) -> list[str]:
    one = entry.followed
    return [str(entry.finish["name"]), _where(entry), str(one.looks), stood(say, one, "l_m2"), stood(say, one, "days")]


def _bar(sheet: Sheet, say: Say, entry: Entry, most: float) -> None:
    span = span_of(entry.followed, "l_m2")
    if span is None:
        return
    alt = say("lasted_bar", finish=f"{entry.finish['name']}, {_where(entry)}", stood=stood(say, entry.followed, "l_m2"))
    left, end = BAR_MM * span.left / most, BAR_MM * (_end(span) or 0.0) / most

    def drawing(pen: Pen) -> None:
        pen.line([(0, 0), (0, TALL_MM)], Stroke())
        worn = entry.followed.verdict == "worn"
        pen.shape(_box(0, left), "#ffffff" if worn else SAGE, Stroke(SAGE))
        if span.right is None:
            pen.line([(end, 3), (end + ARROW_MM - 1, 3)], Stroke(SAGE))
            pen.line([(end + 3, 1.5), (end + ARROW_MM - 1, 3), (end + 3, 4.5)], Stroke(SAGE))
            return
        pen.shape(_box(left, end), None, Stroke(CLAY))
        for n in range(int((end - left) / _HATCH_MM)):
            x = left + n * _HATCH_MM
            pen.line([(x, 1), (min(x + 4, end), 1 + min(4.0, end - x))], Stroke(CLAY))
        pen.line([(end - 1.5, 1), (end + 1.5, 5)], Stroke(CLAY))
        pen.line([(end - 1.5, 5), (end + 1.5, 1)], Stroke(CLAY))

    paragraph(sheet, f"{entry.finish['name']} · {_where(entry)}", SMALL)
    draw(sheet, (BAR_MM + ARROW_MM, TALL_MM), alt, drawing, MARGIN_MM)


def _box(left: float, right: float) -> list[tuple[float, float]]:
    return [(left, 1), (right, 1), (right, 5), (left, 5)]
