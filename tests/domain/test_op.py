"""Ops that can be read, and those that cannot."""

import pytest

from makegood.domain.op import op_id_of, read_op
from makegood.errors import BadInput
from tests.make import make_drop, make_id, make_op


def test_readable_op_is_read():
    raw = make_op("storm", make_id())
    op = read_op(raw)
    assert (op.op, op.type, op.kind, op.base, dict(op.set)) == (raw["op"], "storm", "put", 0, raw["set"])


def test_deletion_needs_no_fields():
    assert dict(read_op(make_drop("storm", make_id(), make_id(), 3)).set) == {}


def nested(depth):
    return {"a": nested(depth - 1)} if depth else 1


@pytest.mark.parametrize(
    "broken",
    [
        {"op": None},
        {"op": "A" * 36},
        {"id": 7},
        {"site": ""},
        {"kind": "upsert"},
        {"base": -1},
        {"base": "0"},
        {"base": True},
        {"base": 2**60},
        {"base": 1.5},
        {"at": "soon"},
        {"at": 5},
        {"set": None},
        {"set": [1]},
        {"set": {"name": nested(50)}},
        {"set": {"a\x00": 1}},
        {"set": {"name": "\udc00"}},
        {"set": {"name": float("inf")}},
    ],
)
def test_unreadable_op_is_refused(broken):
    with pytest.raises(BadInput) as refused:
        read_op({**make_op("storm", make_id()), **broken})
    assert refused.value.code == "bad_op"


@pytest.mark.parametrize("raw", [None, 7, "x", [], {}])
def test_garbage_is_refused(raw):
    with pytest.raises(BadInput) as refused:
        read_op(raw)
    assert refused.value.code == "bad_op"
    assert op_id_of(raw) is None


@pytest.mark.parametrize("row_type", ["__proto__", "constructor", "op", "", None, ["storm"]])
def test_unknown_type_is_refused(row_type):
    with pytest.raises(BadInput) as refused:
        read_op({**make_op("storm", make_id()), "type": row_type})
    assert refused.value.code == "unknown_type"
