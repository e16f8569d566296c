"""The log of sample panels as paper and table."""

import csv
from io import StringIO

from tests.papers.site import NASTY, make_ground, printed, text_of


def panelled():
    """A site with a panel looked at twice and one not looked at."""
    ground = make_ground()
    wall = ground.rows["elevation"][0]["id"]
    for name in ("Panel A", NASTY):
        coats = [{"mix": "lime_coat", "thickness_mm": 8}]
        panel = ground.add("finish", elevation_id=wall, name=name, coats=coats, region=None, sample_panel=True,
                           made_on="2026-04-01", ended_on=None, by="Oona", weather="dry", note=None)  # fmt: skip
        for day, verdict in (("05", "held"), ("09", "worn")) if name == "Panel A" else ():
            at = f"2026-{day}-01T10:00:00.000Z"
            ground.add("score", finish_id=panel["id"], at=at, verdict=verdict, depth_mean_mm=2, note=None)
    return ground


def test_paper_tells_each_look():
    words = text_of(printed(panelled(), "panels"))
    assert "Panel A" in words
    assert words.index("1 May 2026 held") < words.index("1 Sept 2026 worn")
    assert "Oona" in words


def test_table_has_a_line_for_each_look_and_numbers_stay_numbers():
    rows = list(csv.DictReader(StringIO(printed(panelled(), "panels-table").decode("utf-8-sig"))))
    assert [row["verdict"] for row in rows] == ["", "held", "worn"] or [row["verdict"] for row in rows] == ["held", "worn", ""]
    assert {row["depth_mean_mm"] for row in rows} == {"2", ""}
    assert any(row["panel"].startswith("'=HYPERLINK") for row in rows)
