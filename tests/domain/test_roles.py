"""Roles: what the table of shared/roles.json comes to."""

import pytest

from makegood.domain import roles, row


def test_stronger_role_is_kept():
    assert roles.stronger("helper", "keeper") == "keeper"
    assert roles.stronger("keeper", "reader") == "keeper"
    assert roles.stronger(None, "reader") == "reader"


@pytest.mark.parametrize(
    ("role", "deed", "row_type", "allowed"),
    [
        ("keeper", "make", "structure", True),
        ("surveyor", "make", "defect", True),
        ("surveyor", "drop", "structure", False),
        ("surveyor", "edit", "site", False),
        ("helper", "make", "step", True),
        ("helper", "make", "defect", False),
        ("helper", "edit", "ticket", False),
        ("reader", "make", "note", False),
        (None, "make", "note", False),
        ("keeper", "make", "clash", False),
    ],
)
def test_may(role, deed, row_type, allowed):
    assert roles.may(role, deed, row_type) is allowed


def test_only_keepers_and_surveyors_check_a_repair():
    assert {role for role in roles.roles() if roles.may_step(role, "checked")} == {"keeper", "surveyor"}


def test_originals_and_inviting():
    assert {role for role in roles.roles() if roles.sees_originals(role)} == {"keeper", "surveyor"}
    assert {role for role in roles.roles() if roles.may_invite(role)} == {"keeper"}


def test_clashes_are_hidden_from_helpers_and_readers():
    assert {role for role in roles.roles() if "clash" in roles.visible_types(role)} == {"keeper", "surveyor"}


@pytest.mark.parametrize("role", roles.roles())
def test_table_names_only_types_there_are(role):
    named = set(roles.visible_types(role)) | {
        t for t in row.types() for deed in ("make", "edit", "drop") if roles.may(role, deed, t)
    }
    assert named <= set(row.types())


def test_helper_gets_no_exact_place_and_everybody_else_gets_everything():
    photo = {"of_id": "x", "lat": 48.62, "lon": -9.35, "file_facts": {"lat": 48.62}}
    told = roles.without_hidden("helper", "photo", photo)
    assert told == {"of_id": "x", "lat": None, "lon": None, "file_facts": None}
    assert all(roles.without_hidden(role, "photo", photo) == photo for role in roles.roles() if role != "helper")


def test_hidden_fields_exist():
    for held in roles.shared("roles")["roles"].values():
        for row_type, names in held["hides"].items():
            assert set(names) <= set(roles.shared("records")["types"][row_type]["fields"])
