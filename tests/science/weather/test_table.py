"""Weather tables as people export them: gaps stay gaps, false readings are named by line."""

from datetime import datetime

import pytest

from makegood.errors import BadInput
from makegood.science.weather.table import Hour, Layout, hour_start, read_weather

HEADING = "time,wind_m_s,wind_from_deg,rain_mm"


def table(*rows: str, heading: str = HEADING, layout: Layout | None = None):
    return read_weather([heading, *rows], layout)


def hourly(*cells: str) -> list[str]:
    return [f"2026-03-01T{hour:02}:00,{rest}" for hour, rest in enumerate(cells)]


def notices(read) -> dict[str, tuple[int, ...]]:
    return {notice.code: notice.lines for notice in read.notices}


def refusal(*rows: str, **more) -> str:
    with pytest.raises(BadInput) as refused:
        table(*rows, **more)
    assert refused.value.message
    return refused.value.code


def test_rows_become_hours():
    read = table("2026-03-01T00:00,5,270,2", "2026-03-01 01:51,0,,0.5")
    assert [hour[1:] for hour in read.hours] == [(5, 270, 2), (0, None, 0.5)]
    assert [hour_start(hour.number) for hour in read.hours] == [datetime(2026, 3, 1), datetime(2026, 3, 1, 1)]
    assert read.notices == ()


def test_offsets_are_turned_to_utc():
    read = table("2026-03-01T02:00+02:00,5,270,2", "2026-03-01T01:00Z,5,270,2")
    assert [hour_start(hour.number).hour for hour in read.hours] == [0, 1]


def test_times_with_and_without_offset_do_not_mix():
    assert refusal("2026-03-01T02:00Z,5,270,2", "2026-03-01T03:00,5,270,2") == "time_offsets_mixed"


@pytest.mark.parametrize(
    ("heading", "layout", "m_s", "mm"),
    [
        ("time,wind_mph,wind_from_deg,rain_inch", None, 4.4704, 25.4),
        ("time,wind_kn,wind_from_deg,rain_mm", None, 5.144444444444445, 1),
        ("time,wind_km_h,wind_from_deg,rain_mm", None, 2.7777777777777777, 1),
        (HEADING, Layout(wind_unit="mph", rain_unit="inch"), 4.4704, 25.4),
        (
            "time,speed,wind_from_deg,fall",
            Layout(wind="speed", rain="fall", wind_unit="kn"),
            5.144444444444445,
            1,
        ),
    ],
)
def test_units_by_heading_or_by_layout(heading, layout, m_s, mm):
    [hour] = table("2026-03-01,10,270,1", heading=heading, layout=layout).hours
    assert hour.wind_m_s == pytest.approx(m_s)
    assert hour.rain_mm == pytest.approx(mm)


def test_missing_readings_stay_missing():
    read = table(*hourly("NA,270,1", "5,,1", "5,270,", "5,270,1"))
    assert [hour[1:] for hour in read.hours] == [(None, 270, 1), (5, None, 1), (5, 270, None), (5, 270, 1)]


def test_variable_north_and_false_directions():
    read = table(*hourly("5,VRB,1", "5,990,1", "5,0,1", "5,360,1", "5,400,1", "5,-10,1"))
    assert [hour.wind_from_deg for hour in read.hours] == [None, None, 0, 360, None, None]
    assert notices(read) == {"direction_variable": (2, 3), "direction_false": (6, 7)}


def test_readings_that_cannot_be_are_left_out_by_line():
    read = table(*hourly("-1,270,1", "5,270,-2", "much,270,1", "5,270,inf", "5,270,T", "5,270,400"))
    assert [hour.wind_m_s for hour in read.hours] == [None, 5, None, 5, 5, 5]
    assert [hour.rain_mm for hour in read.hours] == [1, None, 1, None, 0, 400]
    assert notices(read) == {
        "wind_negative": (2,),
        "rain_negative": (3,),
        "number_not_understood": (4, 5),
        "rain_trace": (6,),
        "rain_doubtful": (7,),
    }


@pytest.mark.parametrize(
    ("winds", "kept", "code"),
    [
        # Above 75 and more than 3 times the next: set aside.
        ((20, 76), (20, None), "wind_false"),
        # The same false reading twice is as false.
        ((20, 110, 110), (20, None, None), "wind_false"),
        # Above 75 but within reach of the next: kept and named.
        ((26, 76), (26, 76), "wind_doubtful"),
        # No wind ever measured was this strong.
        ((100, 121), (100, None), "wind_false"),
        # Not above 75, however far from the next: kept.
        ((20, 75), (20, 75), None),
    ],
)
def test_false_winds(winds, kept, code):
    read = table(*hourly(*(f"{wind},270,1" for wind in winds)))
    assert tuple(hour.wind_m_s for hour in read.hours) == kept
    assert code in notices(read) or (code is None and not read.notices)


def test_hours_given_twice_or_out_of_order():
    read = table("2026-03-01T05:00,1,0,1", "2026-03-01T04:00,2,0,1", "2026-03-01T05:30,3,0,1")
    assert [hour.wind_m_s for hour in read.hours] == [2, 1]
    assert notices(read) == {"time_goes_back": (3,), "hour_twice": (4,)}


def test_short_rows_and_odd_times_are_named_and_blank_lines_passed_over():
    read = table("2026-03-01T05:00,1", "", "yesterday,1,0,1", "2026-03-01T06:00,1,0,1")
    assert len(read.hours) == 1
    assert notices(read) == {"row_too_short": (2,), "time_not_understood": (4,)}


def test_byte_order_mark_and_spaces_in_the_heading():
    read = table("2026-03-01, 5, 270, 1", heading="\ufefftime, wind_m_s, wind_from_deg, rain_mm")
    assert read.hours == (Hour(read.hours[0].number, 5, 270, 1),)


@pytest.mark.parametrize("rain", ["0", "", "NA"])
def test_rain_of_nothing_but_zeros_or_blanks_is_not_recorded(rain):
    assert refusal(*hourly(f"5,270,{rain}", f"5,270,{rain}")) == "rain_not_recorded"


def test_no_rain_column_is_not_recorded():
    assert refusal("2026-03-01,5,270", heading="time,wind_m_s,wind_from_deg") == "rain_not_recorded"


def test_no_wind_reading_is_refused():
    assert refusal(*hourly(",270,1", ",270,1")) == "wind_not_recorded"


@pytest.mark.parametrize(
    ("heading", "layout", "code"),
    [
        ("when,wind_m_s,wind_from_deg,rain_mm", None, "column_missing"),
        ("time,wind_from_deg,rain_mm", None, "column_missing"),
        (HEADING, Layout(wind_unit="furlongs"), "unit_unknown"),
        (HEADING, Layout(rain_unit="cups"), "unit_unknown"),
    ],
)
def test_headings_that_cannot_be_used(heading, layout, code):
    assert refusal("2026-03-01,5,270,1", heading=heading, layout=layout) == code


def test_empty_table_is_refused():
    assert refusal() == "weather_empty"
    with pytest.raises(BadInput, match="no column"):
        read_weather([])


@pytest.mark.parametrize("minutes", [10, 30, 180, 1440])
def test_steps_other_than_an_hour_are_refused(minutes):
    steps = [datetime.fromtimestamp(1_700_000_000 + 60 * minutes * n).isoformat() for n in range(30)]
    assert refusal(*(f"{step},5,270,1" for step in steps)) == "weather_not_hourly"


def test_long_list_of_lines_is_cut_but_counted():
    read = table(*(f"2026-03-{day:02}T{hour:02}:00,5,VRB,1" for day in (1, 2) for hour in range(24)))
    [notice] = read.notices
    assert notice.count == 48
    assert notice.lines == tuple(range(2, 22))


def test_date_mistyped_by_centuries_is_refused():
    assert refusal("2026-03-01T00:00,5,270,2", "9206-03-01T01:00,5,270,2") == "weather_too_long"
    assert len(table("1926-03-01T00:00,5,270,2", "2026-03-01T01:00,5,270,2").hours) == 2
