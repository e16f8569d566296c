"""A curing plan as a calendar file, parsed back."""

from datetime import UTC, date, datetime, timedelta

from icalendar import Calendar

from makegood.papers.files.cure_calendar import cure_calendar
from makegood.science.curing import CuringCoat, curing_plan
from makegood.science.range import exactly, spread
from tests.papers.site import close_first, make_ground, printed

NOW = datetime(2026, 3, 1, 12, tzinfo=UTC)
MIX = {"kind": "plaster", "rich": 0.5, "stipple": False, "coverage_m2_per_l": None, "coat_mm": None}
COAT = CuringCoat(10, MIX, spread(2, 3, 4), spread(5, 7, 10), exactly(14))
PLAN = curing_plan(date(2026, 4, 1), [COAT, COAT])
WORDS = [f"{step.kind}, «half» 1 : 2½; mind it" for step in PLAN.steps]


def entries(content: bytes):
    return Calendar.from_ical(content).walk("VEVENT")


def test_one_all_day_entry_for_each_step_on_its_likely_date():
    found = entries(cure_calendar(PLAN, WORDS, "North wall", NOW))
    assert [entry.decoded("dtstart") for entry in found] == [step.likely for step in PLAN.steps]
    assert all(entry.decoded("dtend") - entry.decoded("dtstart") == timedelta(days=1) for entry in found)
    assert [str(entry["summary"]) for entry in found] == [f"North wall: {words}" for words in WORDS]


def test_what_a_calendar_must_have():
    content = cure_calendar(PLAN, WORDS, "North wall", NOW)
    calendar = Calendar.from_ical(content)
    assert (str(calendar["version"]), bool(calendar["prodid"])) == ("2.0", True)
    assert all(entry.decoded("dtstamp") == NOW for entry in entries(content))
    assert len({str(entry["uid"]) for entry in entries(content)}) == len(PLAN.steps)
    assert all(len(line) <= 75 for line in content.split(b"\r\n"))


def test_same_plan_keeps_its_names_so_that_it_is_taken_in_once():
    again = cure_calendar(PLAN, WORDS, "North wall", NOW + timedelta(days=1))
    names = [str(entry["uid"]) for entry in entries(cure_calendar(PLAN, WORDS, "North wall", NOW))]
    assert [str(entry["uid"]) for entry in entries(again)] == names
    other = cure_calendar(PLAN, WORDS, "South wall", NOW)
    assert not {str(entry["uid"]) for entry in entries(other)} & set(names)


def test_spread_of_a_date_and_the_caution_are_told():
    second = next(
        e
        for e in entries(cure_calendar(PLAN, WORDS, "x", NOW))
        if "lay" in e["summary"] and e.decoded("dtstart").day == 8
    )
    assert "Earliest 2026-04-06, latest 2026-04-11." in second["description"]
    assert "local practice" in second["description"]


def test_last_day_there_is():
    plan = curing_plan(date(9999, 12, 31), [CuringCoat(10, MIX, *[exactly(0)] * 3)], check_after_days=())
    assert entries(cure_calendar(plan, ["lay", "damp", "frost"], "x", NOW))[0].decoded("dtstart") == date.max


def test_site_calendar_holds_cures_in_hand_and_looks_to_come():
    ground = make_ground()
    close_first(ground)
    taken = ground.rows["ticket"][2]
    ground.add("step", ticket_id=taken["id"], kind="taken", at="2026-11-24T10:00:00.000Z")
    found = entries(printed(ground, "calendar"))
    words = [str(entry["summary"]) for entry in found]
    assert any(one.startswith("Ticket 13 · Wader barn, South: Lay ") and "(Coat 1)" in one for one in words)
    again = [entry for entry in found if "Ticket 11" in str(entry["summary"])]
    assert [entry.decoded("dtstart").isoformat() for entry in again] == ["2026-11-28", "2026-12-21"]
    assert len({str(entry["uid"]) for entry in found}) == len(found)


def test_site_calendar_speaks_spanish():
    ground = make_ground()
    ground.add("step", ticket_id=ground.rows["ticket"][0]["id"], kind="taken", at="2026-11-24T10:00:00.000Z")
    found = entries(printed(ground, "calendar", language="es"))
    assert any("Dar " in str(entry["summary"]) and "(Capa 1)" in str(entry["summary"]) for entry in found)
    assert all("esperas habituales" in str(entry["description"]) for entry in found)
