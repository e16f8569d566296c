"""The insurer's reader at a desk: opens the link, reads the report, looks at one defect, takes the papers along."""

import csv
import re
from collections.abc import Sequence
from hashlib import sha256
from io import StringIO

from pypdf import PdfReader

from tests.walks.walker import Person, Walker

READER = Person("reader", 1280, 800, touch=False)


def joins(reader: Walker, link: str) -> None:
    """Comes in by the keeper's link."""
    with reader.journey("open the link"):
        reader.goes_to(link)
        reader.writes(reader.page.get_by_label("Your name"), "Rita")
        reader.presses("Join")
        reader.sees(reader.page.get_by_role("link", name=re.compile("South, faces")))


def looks(reader: Walker) -> None:
    """Goes to the wall and opens a defect with its photo."""
    page = reader.page
    with reader.journey("look at a defect with its photo"):
        reader.follows(re.compile("South, faces"))
        reader.taps(page.get_by_role("region", name="Found here").get_by_role("button").first)
        reader.taps(page.get_by_role("region", name="Chosen mark").get_by_role("button", name="Open"))
        reader.sees(page.get_by_role("img", name=re.compile("^Photo of")))


def reads_the_report(reader: Walker) -> None:
    """Makes and downloads the report, and reads it."""
    page = reader.page
    with reader.journey("download and read the report") as journey:
        reader.to_place("Walls")
        if not page.get_by_role("button", name="Papers").count():
            reader.to_place("Tickets")
        reader.presses("Papers")
        reader.presses("Make it: Survey report")
        fetch = page.get_by_role("link", name="Fetch", exact=True)
        reader.sees(fetch)
        report = PdfReader(reader.fetches(fetch))
        journey.words += sum(len(re.findall(r"\w+", one.extract_text())) for one in report.pages)


def takes_tables(reader: Walker) -> None:
    """Downloads the defects as a table and counts its rows."""
    with reader.journey("download the table of defects"):
        link = reader.page.get_by_role("link", name=re.compile("^Fetch: Defects"))
        table = reader.fetches(link).read_text(encoding="utf-8-sig")
        assert len(list(csv.DictReader(StringIO(table)))) == 3


def verifies(reader: Walker, originals: Sequence[bytes]) -> None:
    """Compares the sum of each original the keeper gave them with what was recorded; a dead end where no paper speaks of it."""
    page = reader.page
    with reader.journey("check that an original is untouched") as journey:
        if not page.get_by_text("SHA-256").count():
            journey.dead_ends.append("nothing tells a reader how to check that a photo is untouched")
        table = reader.fetches(page.get_by_role("link", name=re.compile("^Fetch: Photos"))).read_text(encoding="utf-8-sig")
        recorded = {row["sha256"] for row in csv.DictReader(StringIO(table))}
        assert {sha256(one).hexdigest() for one in originals} <= recorded
