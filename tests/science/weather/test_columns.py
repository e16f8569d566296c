"""The columns of tables as stations write them are found, and what is only guessed says so."""

from makegood.science.weather.columns import guess_columns


def guess(heading, *rows):
    return guess_columns([heading, *rows])


def test_own_headings_are_found_with_their_units():
    found = guess("time,wind_m_s,wind_from_deg,rain_mm", "2026-01-01 00:00,3,90,0.2")
    layout = found.layout
    assert (layout.time, layout.wind, layout.wind_from, layout.rain) == ("time", "wind_m_s", "wind_from_deg", "rain_mm")
    assert (layout.wind_unit, layout.rain_unit) == ("m/s", "mm")
    assert (found.wind_unit_sure, found.rain_unit_sure, found.stations) == (True, True, ())


def test_semicolons_spanish_and_units_in_brackets():
    found = guess("Fecha;Viento (km/h);Racha (km/h);Direccion viento;Lluvia (mm)", "2026-01-01 00:00;12,5;30;270;0,2")
    layout = found.layout
    assert layout.delimiter == ";"
    assert (layout.time, layout.wind, layout.wind_from, layout.rain) == (
        "Fecha", "Viento (km/h)", "Direccion viento", "Lluvia (mm)",
    )  # fmt: skip
    assert (layout.wind_unit, layout.rain_unit) == ("km/h", "mm")


def test_gusts_are_not_taken_for_the_mean_wind():
    assert guess("time,wind_gust,wind_speed,wind_dir,rain").layout.wind == "wind_speed"


def test_hundredths_of_an_inch_are_guessed_and_marked_as_a_guess():
    found = guess("time_hour,wind_speed,wind_dir,precip", "2026-01-01 00:00,10,90,0", "2026-01-01 01:00,10,90,0.01")
    assert (found.layout.rain_unit, found.layout.wind_unit) == ("inch", "mph")
    assert (found.rain_unit_sure, found.wind_unit_sure) == (False, False)


def test_several_stations_are_told_the_one_with_most_hours_first():
    rows = [f"{name},2026-01-01 0{hour}:00,3,90,0" for name, hours in (("A", 2), ("B", 3)) for hour in range(hours)]
    found = guess("station,time,wind_m_s,wind_dir,rain_mm", *rows)
    assert found.stations == ("B", "A")
    assert (found.layout.station, found.layout.station_is) == ("station", "B")


def test_one_station_needs_no_choice():
    found = guess("station,time,wind_m_s,wind_dir,rain_mm", "A,2026-01-01 00:00,3,90,0")
    assert found.layout.station is None


def test_empty_and_strange_tables_are_no_fault():
    for lines in ([], [""], ['"'], ["a,b\x00"], ["🌧"]):
        assert guess_columns(lines).layout.time == "time"
