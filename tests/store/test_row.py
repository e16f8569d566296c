"""Rows of every type go in and come out the same."""

from dataclasses import replace

from sqlalchemy import event

from makegood.domain.row import Key, Row
from makegood.store.database import db, writing
from makegood.store.row import fetch, fetch_all, save, type_order
from tests.make import NOW, make_id


def make_row(site, name="Barn", **how):
    fields = {"name": name, "wall_material": "cob", "wall_thickness_mm": 450.5, "note": None}
    parts = {"rev": 1, "made_at": NOW, "made_by": "Ada", "made_on_device": make_id(), **how}
    return Row("structure", site, make_id(), fields, {"name": [1, "d", NOW, "o"]}, **parts)


def test_row_comes_back_as_it_was_saved(site):
    row = make_row(site)
    with writing():
        save([row], [])
    assert fetch([row.key]) == {row.key: row}


def test_known_row_is_changed_and_not_added(site):
    row = make_row(site)
    with writing():
        save([row], [])
        save([replace(row, rev=2, deleted=True, fields={**row.fields, "name": "Shed"})], [row.key])
    (found,) = fetch([row.key]).values()
    assert (found.rev, found.deleted, found.fields["name"]) == (2, True, "Shed")


def test_rows_that_are_not_there_and_types_that_do_not_exist_are_left_out(site):
    assert fetch([Key("structure", site, make_id()), Key("__proto__", site, make_id())]) == {}


def test_row_of_another_site_is_not_found(site):
    row = make_row(site)
    with writing():
        save([row], [])
    assert fetch([Key("structure", make_id(), row.id)]) == {}


def test_fetch_all_leaves_out_deleted_rows_and_compares_columns(site):
    rows = [make_row(site, "A"), make_row(site, "B"), make_row(site, "A", deleted=True)]
    with writing():
        save(rows, [])
    assert [row.key for row in fetch_all("structure", site, name="A")] == [rows[0].key]


def test_many_rows_take_few_statements(site):
    rows = [make_row(site) for _ in range(700)]
    heard = []
    event.listen(db.engine, "before_cursor_execute", lambda _c, _u, statement, *_m: heard.append(statement))
    with writing():
        save(rows, [])
    assert sum(statement.startswith("INSERT") for statement in heard) == 1
    heard.clear()
    assert len(fetch(row.key for row in rows)) == 700
    assert sum(statement.startswith("SELECT") for statement in heard) == 2


def test_parents_come_before_children():
    assert (
        type_order("site")
        < type_order("structure")
        < type_order("elevation")
        < type_order("defect")
        < type_order("reading")
    )
