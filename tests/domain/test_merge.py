"""The merge rule: its vectors, and what it promises whatever order edits arrive in."""

import itertools
import json
from dataclasses import replace

import pytest

from makegood.domain.merge import CHILD, Edit, drop, merge, touch
from makegood.domain.row import Row
from makegood.paths import shared_dir
from tests.contract.make_merge_vectors import as_text
from tests.contract.merge_case import run_merge_case

VECTORS = shared_dir() / "vectors" / "merge.json"
CASES = json.loads(VECTORS.read_text(encoding="utf-8"))["cases"]
AT = "2026-11-25T09:00:00.000Z"


def test_vector_file_is_what_its_script_writes():
    assert VECTORS.read_text(encoding="utf-8") == as_text()
    assert len(CASES) >= 500


def test_vectors_are_many_and_cover_every_outcome():
    assert len(CASES) >= 100
    losses = [lost["field"] for case in CASES for lost in case["out"]["lost"]]
    assert {"deleted", "note", "kind"} <= set(losses)
    assert sum(case["in"]["replay"] for case in CASES) >= 25
    assert any(case["out"]["fields"] is None for case in CASES)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_vector(case):
    assert run_merge_case(case["in"]) == case["out"]


def test_three_unseen_edits_leave_the_same_value_in_every_order():
    base = Row("defect", "s", "r", {"note": None}, rev=5)
    edits = [
        Edit(f"op{n}", device, 5, f"2026-11-25T0{n}:00:00.000Z", {"note": device})
        for n, device in enumerate("ABC")
    ]
    for order in itertools.permutations(edits):
        row, lost = base, []
        for rev, edit in enumerate(order, 6):
            row, gone = merge(row, edit)
            row = replace(row, fv={k: [v[0] or rev, *v[1:]] for k, v in row.fv.items()})
            lost += gone
        assert row.fields["note"] == "C"
        assert {one.lost for one in lost} == {"A", "B"}


def test_edit_that_changes_nothing_returns_the_same_row():
    row = Row("defect", "s", "r", {"note": "x"}, rev=5)
    assert merge(row, Edit("op", "A", 5, AT, {"note": "x"}))[0] is row


def test_delete_that_had_not_seen_a_child_keeps_the_row():
    row, _ = touch(Row("defect", "s", "r", {}, rev=5), Edit("op1", "A", 0, AT))
    assert row.fv[CHILD][1] == "A"
    row = replace(row, fv={CHILD: [6, *row.fv[CHILD][1:]]})
    stays, lost = drop(row, Edit("op2", "B", 5, AT))
    assert not stays.deleted
    assert [one.field for one in lost] == ["deleted"]
    gone, lost = drop(row, Edit("op3", "B", 6, AT))
    assert gone.deleted
    assert not lost


def test_child_brings_a_deleted_row_back_and_tells_of_it():
    row = Row("defect", "s", "r", {}, {"deleted": [7, "B", AT, "op1"]}, rev=7, deleted=True)
    back, lost = touch(row, Edit("op2", "A", 0, AT))
    assert not back.deleted
    assert [(one.field, one.lost_by) for one in lost] == [("deleted", "B")]
