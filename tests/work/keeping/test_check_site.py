"""Check finds what is wrong, and nothing where nothing is."""

from datetime import UTC, datetime

import pytest

from makegood.store.database import writing
from makegood.store.photo_bytes import FolderPhotoBytes
from makegood.work.keeping.check_site import check_site
from tests.make import make_drop
from tests.work.test_take_in_photo import Sender, jpeg

TODAY = datetime.now(UTC).date()
NOBODY = "00000000-0000-4000-8000-ffffffffffff"
SMALL = '{"kind": "flat", "width_m": 0.5, "height_m": 0.5, "batter_deg": 0}'


@pytest.fixture
def full(app, grounds):
    """A site with a row of many kinds and a stored photo."""
    defect = grounds.add("defect")
    grounds.add("finish")
    grounds.add("reading", defect_id=defect, depth_max_mm=12)
    ticket = grounds.add("ticket", defect_ids=[defect])
    grounds.add("step", ticket_id=ticket)
    grounds.add("note", of_type="defect", of_id=defect)
    sender = Sender(app, grounds, jpeg())
    sender.send()
    sender.add_row()
    return grounds, sender


def look(app, grounds):
    with app.app_context():
        return check_site(grounds.site, FolderPhotoBytes(app.config["SETTINGS"].photo_folder), TODAY)


def spoil(app, statement):
    with app.app_context(), writing() as session:
        session.connection().exec_driver_sql(statement)


def test_sound_site_has_no_fault(app, full):
    grounds, _ = full
    found = look(app, grounds)
    assert found.troubles == []
    assert found.counts["reading"] == found.counts["photo bytes"] == found.counts["defect"] == 1


def test_deleted_rows_are_no_fault(app, full):
    grounds, _ = full
    storm = grounds.add("storm")
    grounds.keeper.push(make_drop("storm", grounds.site, storm, base=10_000))
    assert look(app, grounds).troubles == []


@pytest.mark.parametrize(
    ("statement", "told"),
    [
        ("UPDATE defect SET kind = 'fairies'", "bad_value"),
        ("UPDATE structure SET name = ''", "missing_field"),
        ("UPDATE reading SET depth_max_mm = -4", "bad_value"),
        (f"UPDATE elevation SET surface = '{SMALL}'", "outline_leaves_wall"),
        (f"UPDATE ticket SET defect_ids = '[\"{NOBODY}\"]'", f"its defect {NOBODY} is missing"),
        (f"UPDATE note SET of_id = '{NOBODY}'", "is missing"),
        ("UPDATE defect SET rev = rev + 1000", "does not fit the list of changes"),
        ("UPDATE site_clock SET rev = 1", "does not fit the list of changes"),
        ("DELETE FROM note", "phones are told of it"),
        ("UPDATE defect SET number = 99", "not given out yet"),
        ("DELETE FROM photo_blob", "marked as stored"),
    ],
)
def test_fault_in_a_row_is_found(app, full, statement, told):
    grounds, _ = full
    spoil(app, statement)
    assert any(told in trouble for trouble in look(app, grounds).troubles), look(app, grounds).troubles


def test_faults_in_photo_bytes_are_found(app, full):
    grounds, sender = full
    folder = app.config["SETTINGS"].photo_folder
    (original,) = folder.rglob(sender.key.sha256)
    original.write_bytes(sender.content[:-1] + b"\x00")
    assert any("changed since" in trouble for trouble in look(app, grounds).troubles)
    original.unlink()
    said = look(app, grounds).troubles
    assert [trouble.split(": ")[1] for trouble in said] == ["the original is missing"]
