"""A curing plan as a calendar file (RFC 5545): one all-day entry for each step, on its likely date."""

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from uuid import NAMESPACE_URL, uuid5

from icalendar import Calendar, Event

from makegood.science.curing import CuringPlan, DatedStep

MAKER = "-//Makegood//curing plan//EN"
CAUTION = "Usual waiting times only: weather, the maker's sheet and local practice come first."
_ONE_DAY = timedelta(days=1)


def cure_calendar(plan: CuringPlan, words: Sequence[str], title: str, made_at: datetime) -> bytes:
    """Return the steps as calendar text; `words` says each step, in the order of the plan.

    The same plan under the same title gives the same entry names, so that a calendar takes it in once.
    """
    calendar = Calendar()
    calendar.add("prodid", MAKER)
    calendar.add("version", "2.0")
    calendar.add("x-wr-calname", title)
    for step, say in zip(plan.steps, words, strict=True):
        calendar.add_component(_entry(step, say, title, made_at))
    return bytes(calendar.to_ical())


def _entry(step: DatedStep, say: str, title: str, made_at: datetime) -> Event:
    entry = Event()
    entry.add("uid", str(uuid5(NAMESPACE_URL, f"makegood:{title}:{step.kind}:{step.coat}:{step.likely}")))
    entry.add("dtstamp", made_at)
    entry.add("summary", f"{title}: {say}")
    entry.add("description", f"{_spread(step)}{CAUTION}")
    entry.add("dtstart", step.likely)
    # The end of an all-day entry is the day after it.
    entry.add("dtend", _day_after(step.likely))
    entry.add("transp", "TRANSPARENT")
    return entry


def _day_after(day: date) -> date:
    return day + _ONE_DAY if day < date.max else day


def _spread(step: DatedStep) -> str:
    if step.earliest == step.latest:
        return ""
    return f"Earliest {step.earliest}, latest {step.latest}. "
