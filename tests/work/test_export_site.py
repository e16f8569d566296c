"""Export: everything readable without the app, and no cell that a spreadsheet would run."""

import csv
import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from makegood.papers.files.tables import harmless
from makegood.store.photo_bytes import FolderPhotoBytes
from makegood.work.export_site import export_site
from tests.work.test_take_in_photo import Sender, jpeg


@pytest.fixture
def exported(app, grounds, tmp_path):
    """An exported site: where it lies, the site, a stored photo and one that only a phone has."""
    defect = grounds.add("defect", note='=HYPERLINK("http://a.test")\n@SUM(1)')
    sender = Sender(app, grounds, jpeg())
    sender.send()
    where = {
        "of_type": "defect",
        "of_id": defect,
        "lat": 51.5,
        "lon": -0.1,
        "taken_at": "2026-11-20T10:00:00Z",
    }
    stored = grounds.add("photo", sha256=sender.key.sha256, bytes=len(sender.content), **where)
    waiting = grounds.add("photo", **{**where, "lat": None, "lon": None})
    with app.app_context():
        folder = FolderPhotoBytes(app.config["SETTINGS"].photo_folder)
        place, photos, missing = export_site(grounds.site, tmp_path / "out", folder)
    return place, photos, missing, sender, stored, waiting


def test_photos_lie_in_folders_named_as_people_name_things(exported):
    place, photos, missing, sender, stored, waiting = exported
    file = place / "photos" / "Barn" / "South" / "defect 1" / f"2026-11-20 {stored}.jpg"
    assert file.read_bytes() == sender.content
    assert (photos, len(missing)) == (1, 1)
    assert waiting in missing[0]


def test_tables_hold_every_row_and_no_formula(exported, grounds):
    place = exported[0]
    with open(place / "tables" / "defect.csv", encoding="utf-8-sig", newline="") as file:
        (row,) = csv.DictReader(file)
    assert row["note"] == "'=HYPERLINK(\"http://a.test\")\n'@SUM(1)"
    assert row["number"] == "1"
    assert json.loads(row["mark"])["shape"] == "pin"
    with open(place / "tables" / "elevation.csv", encoding="utf-8-sig", newline="") as file:
        (wall,) = csv.DictReader(file)
    assert (wall["id"], float(wall["bearing_deg"]), wall["made_by"]) == (grounds.elevation, 180, "Keeper Kit")


def test_json_holds_the_rows_as_they_are_and_the_map_those_with_a_place(exported, grounds):
    place, *_, stored, _ = exported
    everything = json.loads((place / "everything.json").read_text(encoding="utf-8"))
    assert everything["site_id"] == grounds.site
    assert everything["rows"]["defect"][0]["note"].startswith("=HYPERLINK")
    assert len(everything["rows"]["photo"]) == 2
    places = json.loads((place / "places.geojson").read_text(encoding="utf-8"))
    (feature,) = places["features"]
    assert (feature["id"], feature["geometry"]) == (stored, {"type": "Point", "coordinates": [-0.1, 51.5]})


@pytest.mark.parametrize(
    "text",
    [
        "=1+1",
        "+1",
        "-1",
        "@SUM(A1)",
        "\t=1",
        "\r=1",
        " =1",
        "\u00a0=1",
        "\u200b=1",
        "fine\n=1",
        "fine\r\n@x",
        "fine\r+x",
    ],
)
def test_formulas_are_made_harmless(text):
    assert "'" in harmless(text)


@pytest.mark.parametrize("text", ["", "crack", "a-b", "2 = 3", "fine\nlines", "5 % lime"])
def test_plain_words_stay_as_they_are(text):
    assert harmless(text) == text


@given(st.text(alphabet=st.sampled_from("=+-@\t\r\n a'\u00a0\u200b"), max_size=20))
def test_no_line_of_a_cell_begins_a_formula(text):
    for line in harmless(text).replace("\r", "\n").split("\n"):
        assert line.lstrip(" \u00a0\u200b")[:1] not in tuple("=+-@\t")
