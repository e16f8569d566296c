"""Tables read back by other readers: no cell a spreadsheet would run, numbers as numbers."""

import csv
from io import BytesIO, StringIO

import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from makegood.papers.files.tables import harmless, write_table
from makegood.papers.press import PAPERS
from tests.papers.site import NASTY, close_first, make_ground, printed

TABLES = [name for name, paper in PAPERS.items() if paper.ending == "csv"]


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r"])
@pytest.mark.parametrize("before", ["", " ", "\u00a0", "  ", "first line\n", "\u202e"])
def test_formula_starts_are_made_harmless_wherever_they_stand(before, start):
    out = harmless(f"{before}{start}SUM(1)")
    for line in out.replace("\r", "\n").split("\n"):
        assert line.lstrip(" \u00a0\u202e")[:1] not in ("=", "+", "-", "@", "\t")


CELLS = st.one_of(st.text(), st.integers(), st.floats(allow_nan=False, allow_infinity=False))


@given(st.lists(st.lists(CELLS, min_size=2, max_size=2)))
def test_tables_read_back_by_another_reader(lines):
    out = BytesIO()
    write_table(out, ["a", "b"], lines)
    read = list(csv.reader(StringIO(out.getvalue().decode("utf-8-sig"), newline="")))
    assert len(read) == len(lines) + 1
    for given_line, line in zip(lines, read[1:], strict=True):
        for value, text in zip(given_line, line, strict=True):
            assert text == (harmless(value) if isinstance(value, str) else str(value))


@pytest.mark.parametrize("name", TABLES)
def test_every_table_is_read_by_pandas_and_runs_nothing(name):
    ground = make_ground(NASTY, NASTY[:100])
    close_first(ground)
    content = printed(ground, name)
    table = pd.read_csv(BytesIO(content), encoding="utf-8-sig")
    assert len(table.columns) > 3
    for line in csv.reader(StringIO(content.decode("utf-8-sig"), newline="")):
        assert not [cell for cell in line if cell[:1] in tuple("=+@\t\r") or (cell.startswith("-") and not cell[1:2].isdigit())]


def test_defects_table_holds_true_areas_as_numbers():
    table = pd.read_csv(BytesIO(printed(make_ground(), "defects-table")), encoding="utf-8-sig")
    assert table["area_m2"].tolist() == pytest.approx([1.0, 1.0, 1.0])
    assert table["engineer_first"].tolist() == [False, True, False]


def test_tickets_table_tells_where_each_stands():
    ground = make_ground()
    close_first(ground)
    table = pd.read_csv(BytesIO(printed(ground, "tickets-table")), encoding="utf-8-sig")
    assert table["state"].tolist() == ["checked", "open", "open"]
