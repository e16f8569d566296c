"""The ledger from a site's rows: what its table holds, and that `makegood lasted` reads it back."""

import csv
from io import StringIO

import pytest
from tests.papers.site import OUTLINE, make_ground, printed

from makegood.domain.ledger.exported import read_lasted
from makegood.papers.ledger.entries import entries, storm_l_m2
from makegood.science.driving_rain import Face

GALE = {"rain_mm": 46, "wind_m_s": 17, "wind_from_deg": 240, "duration_h": 19}


def followed_site(verdict="held", **storm):
    """A site with a panel laid in April, a storm in May and a look in June."""
    ground = make_ground()
    wall = ground.rows["elevation"][0]["id"]
    ground.rows["defect"].clear()
    coats = [{"mix": "lime_base_coat", "thickness_mm": 10}, {"mix": "lime_coat", "thickness_mm": 6.5}]
    panel = ground.add("finish", elevation_id=wall, name="=Panel", coats=coats, region=OUTLINE, sample_panel=True,
                       made_on="2026-04-01", ended_on=None, ticket_id=None)  # fmt: skip
    ground.add("storm", name="Gale", began_on="2026-05-01", **{**GALE, **storm})
    ground.add("score", finish_id=panel["id"], at="2026-06-01T10:00:00.000Z", verdict=verdict)
    ground.add("survey", on="2026-06-03", storm_id=None, elevation_ids=[wall])
    return ground


def row_of(ground, name="'=Panel"):
    table = printed(ground, "lasted-table").decode("utf-8-sig")
    return next(row for row in csv.DictReader(StringIO(table)) if row["finish"] == name)


def test_a_line_tells_where_what_and_how_long():
    row = row_of(followed_site())
    assert row["coats"] == "lime_base_coat 10 mm; lime_coat 6.5 mm"
    assert (row["verdict"], row["looks"], row["days_sound"], row["days_let_go_by"]) == ("held", "2", "63", "")
    # 19 h, half of them wet, 60 degrees off square: 2/9 x 17 x (46/9.5)^(8/9) x 9.5 x cos 60.
    assert float(row["l_m2_sound"]) == pytest.approx(2 / 9 * 17 * (46 / 9.5) ** (8 / 9) * 9.5 * 0.5, abs=0.006)


def test_let_go_between_laying_and_the_look():
    row = row_of(followed_site("let_go"))
    assert (row["days_sound"], row["days_let_go_by"]) == ("0", "61")
    assert float(row["l_m2_sound"]) == 0
    assert float(row["l_m2_let_go_by"]) > 50


def test_a_storm_without_wind_leaves_the_rain_open():
    row = row_of(followed_site("let_go", wind_m_s=None))
    assert (row["l_m2_sound"], row["l_m2_let_go_by"]) == ("", "")


def test_the_table_is_read_back():
    table = printed(followed_site("let_go"), "lasted-table").decode("utf-8-sig")
    lines = {line.finish: line for line in read_lasted(table.splitlines(), "lasted.csv")}
    assert lines["=Panel"].followed.verdict == "let_go"
    assert lines["=Panel"].cover_mm == 16.5
    assert lines["Lime"].followed.verdict == "held"


def test_hours_come_before_totals_and_an_open_hour_falls_back():
    hours = {"from": "2026-05-01T00:00:00Z", "rain_mm": [2, 0, 5], "wind_m_s": [5, None, 10], "from_deg": [0, None, 60]}
    assert storm_l_m2({"hours": hours}, Face(0)) == pytest.approx(2.0575 + 4.6458, abs=1e-3)
    assert storm_l_m2({"hours": hours}, Face(180)) == 0
    open_hour = {**hours, "from_deg": [None, None, 60]}
    assert storm_l_m2({"hours": open_hour}, Face(0)) is None
    assert storm_l_m2({"hours": open_hour, **GALE}, Face(240)) == pytest.approx(storm_l_m2(GALE, Face(240)))
    assert storm_l_m2({"rain_mm": 0}, Face(0)) == 0


def test_a_defect_on_the_panel_ends_its_count():
    ground = followed_site()
    wall = ground.rows["elevation"][0]["id"]
    defect = ground.add("defect", number=9, elevation_id=wall, kind="spalling", mark=OUTLINE, signs=[])
    ground.add("reading", defect_id=defect["id"], at="2026-05-10T10:00:00.000Z", state="new", survey_id=None, mark=None)
    (panel,) = (one for one in entries(ground.book()) if one.finish["name"] == "=Panel")
    assert panel.followed.verdict == "let_go"
    assert panel.followed.days == (0, 39)


def test_an_estimate_calls_a_mix_tried_from_two_panels_that_held():
    def warnings(ground):
        book = ground.book()
        (ticket,) = (one for one in book.all("ticket") if one["number"] == 11)
        return book.repair(ticket).warnings

    def with_panels(*verdicts):
        ground = make_ground()
        wall = ground.rows["elevation"][0]["id"]
        method = ground.book().catalogue["methods"]["patch_two_coats"]
        laid = {coat["mix"] for name in ("coats", "earth_coats") for coat in method[name] or []}
        coats = [{"mix": one, "thickness_mm": 8} for one in sorted({*laid, method["dub_out_mix"]})]
        days = {"made_on": "2026-04-01", "ended_on": "2026-08-01", "ticket_id": None}
        for verdict in verdicts:
            panel = ground.add("finish", elevation_id=wall, name="P", coats=coats, region=OUTLINE, sample_panel=True, **days)
            ground.add("score", finish_id=panel["id"], at="2026-06-01T10:00:00.000Z", verdict=verdict)
        return warnings(ground)

    assert "untested_on_this_wall" in with_panels("held")
    assert "untested_on_this_wall" in with_panels("held", "let_go")
    assert "untested_on_this_wall" not in with_panels("held", "worn")
