"""Ops that cannot be done are refused with a sentence, and their neighbours are taken."""

import random

import pytest

from makegood.domain import row
from makegood.errors import BadInput
from makegood.work import receive_changes
from tests.make import OUTLINE, PIN, SURFACE, make_id

GARBAGE = [
    None,
    7,
    "x",
    [],
    {},
    {"op": "x"},
    {"op": "00000000-0000-4000-8000-00000000abcd"},
    {"op": "00000000-0000-4000-8000-00000000abcd", "type": "__proto__", "set": {"__proto__": 1}},
]


def only(results):
    (result,) = results
    return result


@pytest.mark.parametrize(
    ("row_type", "fields", "code"),
    [
        ("defect", {"note": "x" * 10_000}, "text_too_long"),
        ("storm", {"began_on": "2099-01-01"}, "date_refused"),
        ("survey", {"on": "1066-10-14"}, "date_refused"),
        (
            "defect",
            {"mark": {**OUTLINE, "points_m": [[1, 1], [2, 2], [2, 1], [1, 2]]}},
            "outline_crosses_itself",
        ),
        ("defect", {"mark": {**PIN, "points_m": [[7, 1]]}}, "outline_leaves_wall"),
        ("elevation", {"surface": {**SURFACE, "height_m": -1}}, "surface_refused"),
        ("defect", {"elevation_id": make_id()}, "parent_missing"),
        ("reading", {"defect_id": make_id()}, "parent_missing"),
        ("ticket", {"defect_ids": [make_id()]}, "parent_missing"),
        ("note", {"of_type": "storm", "of_id": make_id()}, "parent_missing"),
        ("structure", {"wall_material": "gold"}, "bad_value"),
        ("structure", {"colour": "red"}, "unknown_field"),
        ("structure", {"name": None}, "missing_field"),
        ("photo", {"of_type": "defect", "of_id": make_id(), "stored": True}, "server_only"),
    ],
)
def test_bad_op_is_refused_and_its_neighbours_are_taken(grounds, row_type, fields, code):
    fields = {"structure_id": grounds.structure, **fields} if row_type == "elevation" else fields
    before, bad, after = grounds.keeper.push(
        grounds.op("defect"), grounds.op(row_type, **fields), grounds.op("defect")
    )
    assert (before["st"], bad["st"], after["st"]) == ("applied", "rejected", "applied")
    assert bad["code"] == code
    assert len(bad["say"]) > 15
    assert bad["fields"]


@pytest.mark.parametrize("garbage", GARBAGE, ids=str)
def test_garbage_never_breaks_a_push(grounds, garbage):
    before, bad, after = grounds.keeper.push(grounds.op("defect"), garbage, grounds.op("defect"))
    assert (before["st"], bad["st"], after["st"]) == ("applied", "rejected", "applied")
    assert bad["code"] in ("bad_op", "unknown_type")


def test_any_op_replaced_by_broken_ones_leaves_the_others_done(grounds):
    """Seeded: every field of an op set to every kind of nonsense, one at a time."""
    chance = random.Random(7)
    nonsense = [
        None,
        True,
        -1,
        2**70,
        1.5,
        "",
        "\x00",
        "x" * 5000,
        [],
        [[]],
        {},
        {"__proto__": {}},
        [None] * 300,
    ]
    for name in ("op", "type", "id", "site", "kind", "base", "at", "set"):
        bad = {**grounds.op("defect"), name: chance.choice(nonsense)}
        deep = grounds.op("defect")
        deep["set"] = {
            **deep["set"],
            chance.choice(["mark", "signs", "kind", "note", "elevation_id"]): chance.choice(nonsense[1:]),
        }
        results = grounds.keeper.push(grounds.op("defect"), bad, deep, grounds.op("defect"))
        assert [results[0]["st"], results[-1]["st"]] == ["applied", "applied"], (bad, deep)
        assert results[1]["st"] in ("rejected", "applied")


def test_fault_of_the_server_itself_parks_the_op_and_takes_the_rest(grounds, monkeypatch, caplog):
    def broken(row_type, given, is_new, today):
        if given.get("note") == "boom":
            raise ZeroDivisionError
        return row.check_fields(row_type, given, is_new, today)

    monkeypatch.setattr(receive_changes, "check_fields", broken)
    bad, good = grounds.keeper.push(grounds.op("defect", note="boom"), grounds.op("defect"))
    assert (bad["code"], good["st"]) == ("bad_op", "applied")
    assert "ZeroDivisionError" in caplog.text


def test_refusals_inside_keep_their_code(grounds, monkeypatch):
    def refuse(*_):
        raise BadInput("surface_refused", "Give the wall a height.")

    monkeypatch.setattr(receive_changes, "check_shapes", refuse)
    assert only(grounds.keeper.push(grounds.op("defect")))["code"] == "surface_refused"
