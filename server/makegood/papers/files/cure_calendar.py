"""Cures and re-checks as a calendar file (RFC 5545): one all-day entry for each step, on its likely date."""

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from uuid import NAMESPACE_URL, uuid5

from icalendar import Calendar, Event

from makegood.domain.repair.known import Plain
from makegood.domain.repair.waits import coats_of, curing_coats
from makegood.papers.ask import Ask
from makegood.papers.pdf.parts import coat_name, mix_name, number_of, wall_words
from makegood.papers.site_book import SiteBook
from makegood.papers.words.say import Say
from makegood.science.curing import CHECK_AFTER_DAYS, CuringPlan, DatedStep, curing_plan
from makegood.science.laid import LaidCoat

MAKER = "-//Makegood//curing plan//EN"
_ENGLISH = Say()
_ONE_DAY = timedelta(days=1)
_LOOKS = ("checked", "rechecked")


def cure_calendar(plan: CuringPlan, words: Sequence[str], title: str, made_at: datetime) -> bytes:
    """Return the steps as calendar text; `words` says each step, in the order of the plan.

    The same plan under the same title gives the same entry names, so that a calendar takes it in once.
    """
    calendar = _new(title)
    for step, say in zip(plan.steps, words, strict=True):
        calendar.add_component(_entry(step, f"{title}: {say}", title, made_at))
    return bytes(calendar.to_ical())


def site_calendar(book: SiteBook, ask: Ask) -> bytes:
    """Return the cures of all repairs done but not closed, and the looks to come at those that are closed."""
    calendar = _new(f"{ask.say('calendar')} · {book.site['name']}")
    for ticket in book.tickets():
        for entry in [*_cures(book, ask, ticket), *_looks(book, ask, ticket)]:
            calendar.add_component(entry)
    return bytes(calendar.to_ical())


def _new(title: str) -> Calendar:
    calendar = Calendar()
    calendar.add("prodid", MAKER)
    calendar.add("version", "2.0")
    calendar.add("x-wr-calname", title)
    return calendar


def _entry(step: DatedStep, summary: str, named: str, made_at: datetime, say: Say = _ENGLISH) -> Event:
    entry = _all_day(step.likely, summary, f"makegood:{named}:{step.kind}:{step.coat}:{step.likely}", made_at)
    entry.add("description", f"{_spread(step, say)}{say('cal_caution')}")
    return entry


def _all_day(on: date, summary: str, named: str, made_at: datetime) -> Event:
    entry = Event()
    entry.add("uid", str(uuid5(NAMESPACE_URL, named)))
    entry.add("dtstamp", made_at)
    entry.add("summary", summary)
    entry.add("dtstart", on)
    # The end of an all-day entry is the day after it.
    entry.add("dtend", on + _ONE_DAY if on < date.max else on)
    entry.add("transp", "TRANSPARENT")
    return entry


def _spread(step: DatedStep, say: Say) -> str:
    if step.earliest == step.latest:
        return ""
    return say("cal_spread", earliest=step.earliest, latest=step.latest) + " "


def _title(book: SiteBook, say: Say, ticket: Plain) -> str:
    walls = "; ".join(dict.fromkeys(wall_words(one) for one in book.defects_of(ticket)))
    return " · ".join(one for one in (say("ticket", n=number_of(ticket)), walls) if one)


def _cures(book: SiteBook, ask: Ask, ticket: Plain) -> list[Event]:
    """The plan of a repair in hand, counted from the day it was taken (or done, if nobody took it first)."""
    steps = book.under("step", ticket["id"])
    began = [one for one in steps if one["kind"] in ("taken", "done")]
    repair = book.repair(ticket)
    if book.state(ticket) not in ("taken", "done") or repair is None or not began:
        return []
    last_opened = max((one["at"] for one in steps if one["kind"] == "reopened"), default="")
    start = next((one["at"] for one in began if one["at"] > last_opened), began[-1]["at"])
    mixes = book.catalogue["mixes"]
    laid = coats_of(repair, mixes)
    if not laid:
        return []
    plan = curing_plan(date.fromisoformat(start[:10]), curing_coats(laid, mixes))
    say, title = ask.say, _title(book, ask.say, ticket)
    return [
        _entry(step, f"{title}: {_words(book, say, step, laid)}", ticket["id"], ask.now, say) for step in plan.steps
    ]


def _words(book: SiteBook, say: Say, step: DatedStep, laid: Sequence[LaidCoat]) -> str:
    if step.coat is None:
        return say(f"cal_{step.kind}")
    coat = laid[step.coat]
    name, mix = coat_name(say, coat), mix_name(book, say, coat.mix)
    return say(f"cal_{step.kind}", coat=f"{mix} ({name})" if name else mix)


def _looks(book: SiteBook, ask: Ask, ticket: Plain) -> list[Event]:
    """The next looks at a closed repair: a week and a month after it was done, as far as they lie ahead of the last look."""
    steps = book.under("step", ticket["id"])
    done = [one["at"] for one in steps if one["kind"] == "done"]
    looked = [one["at"] for one in steps if one["kind"] in _LOOKS]
    if book.state(ticket) != "checked" or not done or not looked:
        return []
    first = date.fromisoformat(done[-1][:10])
    days = [first + timedelta(days=after) for after in CHECK_AFTER_DAYS]
    summary = f"{_title(book, ask.say, ticket)}: {ask.say('cal_recheck')}"
    return [
        _all_day(day, summary, f"makegood:{ticket['id']}:recheck:{day}", ask.now)
        for day in days
        if day.isoformat() > looked[-1][:10]
    ]
