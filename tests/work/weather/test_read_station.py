"""A station's table read for its storms: bad rows told by line, and kept out until the person says so."""

import pytest

from makegood.errors import BadInput
from makegood.work.weather.read_station import MOST_SPELLS, StationWish, read_station

HEADING = "time,wind_m_s,wind_from_deg,rain_mm"


def table(*rows, heading=HEADING):
    return "\n".join([heading, *rows]).encode()


def wet(hour, rain="4", wind="9", direction="225", day="2026-10-09"):
    return f"{day} {hour:02d}:00,{wind},{direction},{rain}"


def read(content, zone="UTC", keep_good=False, **layout):
    return read_station(content, StationWish(layout, zone, keep_good=keep_good))


def codes(answer):
    return {one["code"]: one["lines"] for one in answer["troubles"]}


def test_storm_with_its_totals_peak_and_scale():
    answer = read(table(*(wet(hour, rain) for hour, rain in enumerate(["0", "2", "8", "3", "0"]))))
    [spell] = answer["spells"]
    assert (answer["hours"], answer["troubles"]) == (5, [])
    assert (spell["from"], spell["on"], spell["duration_h"]) == ("2026-10-09T01:00:00Z", "2026-10-09", 3)
    assert (spell["rain_mm"], spell["rain_1h_mm"], spell["rain_24h_mm"], spell["rain_96h_mm"]) == (13, 8, 13, 13)
    assert (spell["peak_mm_h"], spell["scale"], spell["class"], spell["beaufort"]) == (8, "rain_ams", "heavy", 5)
    assert spell["hours"]["rain_mm"] == [2, 8, 3]
    assert spell["wind_from_deg"] == pytest.approx(225)


def test_day_and_month_are_guessed_and_read_as_the_person_says():
    content = table("01/02/2026 00:00,9,225,4", "01/02/2026 01:00,9,225,4")
    guessed = read(content)
    assert (guessed["columns"]["date_order"], guessed["columns"]["date_order_sure"]) == ("day_first", False)
    assert guessed["spells"][0]["on"] == "2026-02-01"
    told = read(content, date_order="month_first")
    assert (told["spells"][0]["on"], told["columns"]["date_order_sure"]) == ("2026-01-02", True)


def test_good_rows_are_kept_only_if_the_person_says_so():
    content = table(wet(0), wet(1, rain="-3"), wet(2))
    asked = read(content)
    assert codes(asked) == {"rain_negative": (3,)}
    assert asked["spells"] == []
    assert [one["rain_mm"] for one in read(content, keep_good=True)["spells"]] == [8]


def test_what_is_only_told_does_not_hold_back():
    answer = read(table(wet(0), wet(1, direction="VRB"), wet(4)))
    assert codes(answer) == {"direction_variable": (3,), "hours_missing": (4,)}
    assert len(answer["spells"]) == 1


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        ([wet(0), wet(1, wind="1048"), wet(2)], {"wind_false": (3,)}),
        ([wet(0), wet(0), wet(1)], {"hour_twice": (3,)}),
        ([wet(0, direction="0"), wet(1, direction="360"), wet(2, direction="361")], {"direction_false": (4,)}),
        ([wet(0), wet(1, wind="20 mph"), wet(2, wind="9 m/s")], {"unit_differs": (3,)}),
        ([wet(0), wet(1, rain="much")], {"number_not_understood": (3,)}),
        ([wet(0), "yesterday,9,225,4"], {"time_not_understood": (3,)}),
        ([wet(0), "2026-10-09 01:00,9"], {"row_too_short": (3,)}),
        ([wet(1), wet(0)], {"time_goes_back": (3,)}),
        ([wet(0), wet(0, day="2026-10-30")], {"hours_missing": (3,)}),
    ],
)
def test_each_trouble_is_told_with_its_lines(rows, told):
    answer = read(table(*rows))
    assert codes(answer) == told
    assert all(one["say"] and one["line"] == one["lines"][0] for one in answer["troubles"])


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (b"", "weather_empty"),
        (table(heading="a,b,c"), "column_missing"),
        (table(wet(0), heading="when,wind_m_s,wind_from_deg,rain_mm"), "column_missing"),
        (table(heading=HEADING), "weather_empty"),
        (table(*(wet(0, rain="0") for _ in range(1))), "rain_not_recorded"),
        (table(*(f"2026-10-09 {n:02d}:00,,90,1" for n in range(3))), "wind_not_recorded"),
        (table(*(f"2026-10-09 00:{n:02d},9,90,1" for n in range(0, 60, 5))), "weather_not_hourly"),
        (table("2026-10-09 00:00,9,90,1", "2026-10-09T01:00Z,9,90,1"), "time_offsets_mixed"),
    ],
)
def test_tables_that_cannot_be_read_say_why_and_still_show_their_columns(content, code):
    answer = read(content)
    assert list(codes(answer)) == [code]
    assert (answer["hours"], answer["spells"]) == (0, [])
    assert isinstance(answer["columns"]["all"], tuple)


def test_columns_are_taken_as_the_person_says():
    content = table(wet(0), heading="when,blow,whence,fall")
    answer = read(content, time="when", wind="blow", wind_from="whence", rain="fall", wind_unit="km/h")
    [spell] = answer["spells"]
    assert spell["wind_m_s"] == pytest.approx(9 / 3.6, abs=1e-4)
    assert answer["columns"]["wind_unit_sure"] is True


def test_local_times_become_instants_and_the_day_stays_local():
    [spell] = read(table(wet(0)), zone="Europe/Madrid")["spells"]
    assert (spell["from"], spell["on"]) == ("2026-10-08T22:00:00Z", "2026-10-09")


def test_hour_shown_twice_is_told_and_both_count():
    rows = [wet(hour, day="2026-10-25") for hour in (1, 2, 2, 3)]
    answer = read(table(*rows), zone="Europe/Madrid")
    assert codes(answer) == {"hour_shown_twice": (3, 4)}
    assert answer["spells"][0]["hours"]["rain_mm"] == [4, 4, 4, 4]


def test_windows_text_and_utf_16_are_read():
    content = "time,wind_m_s,wind_from_deg,rain_mm,señal\n2026-10-09 00:00,9,225,4,ñ"
    for encoding in ("utf-8-sig", "cp1252", "utf-16"):
        assert len(read(content.encode(encoding))["spells"]) == 1


def test_bytes_that_are_no_text_and_zones_that_do_not_exist_are_refused():
    packed = b"PK\x03\x04\x00\x00"
    for content, zone, code in ((packed, "UTC", "weather_not_text"), (table(wet(0)), "Mars/Crater", "zone_unknown")):
        with pytest.raises(BadInput) as refusal:
            read(content, zone=zone)
        assert refusal.value.code == code


def test_only_the_wettest_storms_of_many_years_come_back():
    days = [f"{year}-{month:02d}-{day:02d}" for year in range(2010, 2014) for month in range(1, 13) for day in range(1, 28, 2)]
    rows = [row for n, day in enumerate(days) for row in (wet(0, rain=str(3 + n / 1000), day=day), wet(1, rain="0", day=day))]
    answer = read(table(*rows))
    assert len(answer["spells"]) == MOST_SPELLS
    assert answer["spells_left_out"] == len(days) - MOST_SPELLS
    assert min(one["rain_mm"] for one in answer["spells"]) == pytest.approx(3 + (len(days) - MOST_SPELLS) / 1000)
