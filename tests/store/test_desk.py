"""The desk: rows are stamped and written together at the end."""

from dataclasses import replace

from makegood.domain.row import Key, Row
from makegood.store.change import changed_since
from makegood.store.database import writing
from makegood.store.desk import Desk
from makegood.store.row import fetch
from tests.make import NOW, make_id


def make_ticket(site):
    fields = dict.fromkeys(("number", "method", "urgency", "coats", "loss", "margin_mm", "note")) | {
        "defect_ids": [make_id()]
    }
    return Row(
        "ticket",
        site,
        make_id(),
        fields,
        {"note": [0, "d", NOW, "o"]},
        made_at=NOW,
        made_by="Ada",
        made_on_device="d",
    )


def test_rows_get_revisions_numbers_and_entries_in_order(site):
    first, second = make_ticket(site), make_ticket(site)
    with writing():
        desk = Desk()
        desk.put(first)
        desk.put(second)
        assert desk.finish() == {first.key: 1, second.key: 2}
    found = fetch([first.key, second.key])
    assert [found[key].fields["number"] for key in (first.key, second.key)] == [1, 2]
    assert found[second.key].fv["note"][0] == 2
    assert [key for _, key in changed_since(site, 0, ["ticket"], 9)] == [first.key, second.key]


def test_row_keeps_its_number_and_gets_a_new_revision(site):
    row = make_ticket(site)
    with writing():
        desk = Desk()
        desk.put(row)
        desk.finish()
    with writing():
        desk = Desk()
        desk.put(replace(desk.get(row.key), deleted=True))
        assert desk.finish() == {row.key: 2}
    assert fetch([row.key])[row.key].fields["number"] == 1


def test_untouched_rows_are_not_written(site):
    row = make_ticket(site)
    with writing():
        desk = Desk()
        desk.put(row)
        desk.finish()
    with writing():
        desk = Desk()
        desk.put(desk.get(row.key))
        assert desk.finish() == {}


def test_changes_are_seen_before_they_are_written(site):
    row = make_ticket(site)
    with writing():
        desk = Desk()
        assert desk.get(row.key) is None
        desk.put(row)
        assert desk.get(row.key) is row
        assert desk.touched("ticket") == [row]
        assert desk.get(Key("ticket", site, make_id())) is None
