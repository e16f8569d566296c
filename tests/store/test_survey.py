"""The tables of store/survey.py hold what shared/records.json says."""

import pytest

from makegood.store import survey
from makegood.store.row import TABLES
from tests.columns import faults

TYPES = ["storm", "survey", "defect", "reading", "score"]


@pytest.mark.parametrize("row_type", TYPES)
def test_table_matches_the_contract(row_type):
    assert faults(row_type) == []


def test_these_are_all_the_tables_of_the_module():
    assert {name for name, table in TABLES.items() if table.__module__ == survey.__name__} == set(TYPES)
