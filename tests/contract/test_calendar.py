"""The calendar text the phone writes (shared/vectors/calendar.json) says to a reader of other hands what went in."""

import json
import re
from datetime import date, datetime, timedelta
from typing import Any

import pytest
from icalendar import Calendar

from makegood.paths import shared_dir

CASES = json.loads((shared_dir() / "vectors" / "calendar.json").read_text(encoding="utf-8"))["cases"]
by_case = pytest.mark.parametrize("case", CASES, ids=[case["name"] for case in CASES])


def test_there_are_cases_with_steps() -> None:
    assert sum(len(case["in"]["entries"]) for case in CASES) > 5


@by_case
def test_a_reader_finds_each_step_as_it_went_in(case: dict[str, Any]) -> None:
    calendar = Calendar.from_ical(case["out"]["text"])
    # This reader leaves text properties it has no type for as they stand (RFC 5545 3.3.11 and 3.8.8.2).
    for title in ("name", "x-wr-calname"):
        assert re.sub(r"\\(.)", r"\1", str(calendar[title])) == case["in"]["name"]
    entries = calendar.walk("VEVENT")
    read = [
        {
            "uid": str(entry["uid"]), "summary": str(entry["summary"]),
            "description": str(entry["description"]), "on": entry.decoded("dtstart").isoformat(),
        }
        for entry in entries
    ]  # fmt: skip
    assert read == case["in"]["entries"]
    for entry in entries:
        on = entry.decoded("dtstart")
        assert isinstance(on, date)
        assert not isinstance(on, datetime)
        assert entry.decoded("dtend") == on + timedelta(days=1)
        made = datetime.fromisoformat(case["in"]["made_at"]).replace(microsecond=0)
        assert entry.decoded("dtstamp") == made
        assert not entry.errors


@by_case
def test_lines_are_of_at_most_75_octets_and_whole_characters(case: dict[str, Any]) -> None:
    raw = case["out"]["text"].encode()
    lines = raw.split(b"\r\n")
    assert lines.pop() == b""
    assert b"\n" not in b"".join(lines)
    assert max(map(len, lines)) <= 75
    # A line cut within a character would not read as text by itself.
    assert all(line.decode() for line in lines)
