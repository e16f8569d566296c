"""Envelopes refuse what they do not know."""

import pytest
from marshmallow import ValidationError

from makegood.api import schemas
from makegood.api.schemas import Envelope

INCOMING = [
    one
    for one in vars(schemas).values()
    if isinstance(one, type) and issubclass(one, Envelope) and one is not Envelope
]


def test_there_are_incoming_envelopes():
    assert {one.__name__ for one in INCOMING} == {
        "EnrolSchema", "TokenSchema", "InviteSchema", "PushSchema", "PullSchema", "WaitSchema",
    }  # fmt: skip


@pytest.mark.parametrize("schema", INCOMING)
@pytest.mark.parametrize("name", ["__proto__", "constructor", "extra"])
def test_unknown_names_are_refused(schema, name):
    with pytest.raises(ValidationError) as refused:
        schema().load({name: 1})
    assert name in refused.value.messages


def test_limit_of_a_pull_has_a_default():
    assert schemas.PullSchema().load({"v": 1, "epoch": None, "since": {}})["limit"] == 500
