"""The shopping list: as a paper and as a table, merged first and rounded once."""

import csv
from io import StringIO

import pytest

from makegood.domain.repair.whole import buy_for
from tests.papers.site import make_ground, printed, text_of


def test_table_holds_the_merged_sums():
    ground = make_ground()
    book = ground.book()
    repairs = [one for k in (0, 2) if (one := book.repair(ground.rows["ticket"][k])) is not None]
    wanted = buy_for(repairs, book.site, book.catalogue)
    rows = list(csv.DictReader(StringIO(printed(ground, "shopping-table").decode("utf-8-sig"))))
    assert {row["material"] for row in rows} == set(wanted)
    for row in rows:
        assert float(row["likely"]) == pytest.approx(wanted[row["material"]]["need"]["amount"]["likely"])
        assert row["bags"] == ("" if wanted[row["material"]]["bags"] is None else str(wanted[row["material"]]["bags"]))


def test_paper_names_its_tickets_prices_and_weights():
    words = text_of(printed(make_ground(), "shopping"))
    assert "For tickets 11, 13" in words
    assert "14.00 EUR" in words or "28.00 EUR" in words
    assert "× 25 kg" in words


def test_handout_narrows_the_list():
    ground = make_ground()
    only = ground.add("handout", on="2026-11-26", ticket_ids=[ground.rows["ticket"][2]["id"]])
    assert "For tickets 13" in text_of(printed(ground, "shopping", only["id"]))


def test_ticket_without_a_method_is_named_as_not_reckoned():
    ground = make_ground()
    ground.rows["ticket"][0]["method"] = None
    assert "Not reckoned, as no repair is chosen or a number is missing: 11." in text_of(printed(ground, "shopping"))
