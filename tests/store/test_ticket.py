"""The tables of store/ticket.py hold what shared/records.json says."""

import pytest

from makegood.store import ticket
from makegood.store.row import TABLES
from tests.columns import faults

TYPES = ["ticket", "step", "work_day", "handout"]


@pytest.mark.parametrize("row_type", TYPES)
def test_table_matches_the_contract(row_type):
    assert faults(row_type) == []


def test_these_are_all_the_tables_of_the_module():
    assert {name for name, table in TABLES.items() if table.__module__ == ticket.__name__} == set(TYPES)
