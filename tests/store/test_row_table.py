"""What all tables of synced rows share."""

import pytest
from sqlalchemy import insert
from sqlalchemy.exc import IntegrityError

from makegood.store.database import writing
from makegood.store.row import TABLES
from tests.columns import OWN, TYPES


def test_there_is_one_table_for_each_row_type():
    assert set(TABLES) == set(TYPES)


@pytest.mark.parametrize("row_type", sorted(TABLES))
def test_key_is_site_and_id_and_rev_is_indexed(row_type):
    table = TABLES[row_type].__table__
    assert [column.name for column in table.primary_key] == ["site_id", "id"]
    assert table.columns["rev"].index
    assert set(table.columns.keys()) >= OWN


def test_tables_stand_in_the_order_in_which_parents_come_first():
    order = list(TABLES)
    for name, table in TABLES.items():
        parents = {key.column.table.name for key in table.__table__.foreign_keys} - {"site_clock"}
        assert all(order.index(parent) < order.index(name) for parent in parents)


def test_row_without_its_site_is_refused_by_the_database(app):
    texts = ("site_id", "id", "made_at", "made_by", "made_on_device", "name", "wall_material")
    lone = dict.fromkeys(texts, "x")
    with app.app_context(), pytest.raises(IntegrityError), writing() as session:
        session.execute(insert(TABLES["structure"]), [{**lone, "rev": 1, "deleted": False, "fv": {}}])
