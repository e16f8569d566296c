"""What somebody asks of a paper: whose words and measures, which row it is about, on which day; and how far it has come."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime

from makegood.papers.page.sheet import Front, Sheet
from makegood.papers.site_book import SiteBook
from makegood.papers.words.say import Say

# Told after each part: so many done of so many; raises Conflict where nobody wants the paper any more.
Progress = Callable[[int, int], None]


@dataclass(frozen=True)
class Ask:
    """One wish for a paper; `about` is the id of the hand-out or ticket it tells of."""

    language: str = "en"
    measures: str = "metric"
    about: str | None = None
    now: datetime = datetime(1970, 1, 1, tzinfo=UTC)

    @property
    def say(self) -> Say:
        """How the paper speaks."""
        return Say(self.language, self.measures)

    @property
    def today(self) -> str:
        """The day it is made, as ISO text."""
        return self.now.date().isoformat()


def unheard(_done: int, _of: int) -> None:
    """Progress nobody listens to."""


def begin(book: SiteBook, ask: Ask, title: str) -> Sheet:
    """Return a new sheet with the site's name, the day and page numbers at its foot."""
    say = ask.say
    foot = " · ".join(part for part in (str(book.site["name"]), say("made_on", on=say.day(ask.today))) if part)
    return Sheet(Front(title, ask.language, ask.measures, foot, say("page_of", n="{n}", all="{all}")))
