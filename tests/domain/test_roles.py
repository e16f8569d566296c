"""Roles: what the table of shared/roles.json comes to."""

import pytest

from makegood.domain import roles, row
from makegood.errors import NotAllowed


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
    assert all(
        roles.without_hidden(role, "photo", photo) == photo for role in roles.roles() if role != "helper"
    )


def test_hidden_fields_exist():
    for held in roles.shared("roles")["roles"].values():
        for row_type, names in held["hides"].items():
            assert set(names) <= set(roles.shared("records")["types"][row_type]["fields"])


PART = roles.Part
LIMITED = PART("helper", limited=True)


@pytest.mark.parametrize(
    ("held", "offered", "after"),
    [
        (None, LIMITED, LIMITED),
        (None, PART("reader"), PART("reader")),
        (PART("reader"), PART("helper"), PART("helper")),
        (PART("keeper"), PART("helper"), PART("keeper")),
        (PART("keeper"), LIMITED, PART("keeper")),
        (PART("helper"), LIMITED, PART("helper")),
        (PART("reader"), LIMITED, LIMITED),
        (LIMITED, PART("reader"), PART("reader")),
        (LIMITED, PART("helper"), PART("helper")),
        (LIMITED, LIMITED, LIMITED),
    ],
)
def test_second_link_gives_the_stronger_part_and_never_more_than_was_offered(held, offered, after):
    assert roles.together(held, offered) == after


def test_limited_helper_sees_no_type_a_helper_does_not_and_makes_nothing_else():
    assert set(roles.limited_types()) < set(roles.visible_types("helper"))
    made = [one for one in row.types() if roles.limited_makes(one)]
    assert set(made) == {one for one in row.types() if roles.may("helper", "make", one)}
    for row_type in made:
        assert set(roles.limited_makes(row_type)) <= set(roles.limited_types())


def test_limited_helper_gets_places_only_where_they_are_shown():
    photo = {
        "lat": 51.5,
        "lon": 0.1,
        "accuracy_m": 3,
        "position_source": "phone",
        "file_facts": {},
        "sha256": "ab",
    }
    hidden = dict.fromkeys(photo) | {"sha256": "ab"}
    assert roles.as_limited_sees("photo", photo, show_place=False) == hidden
    assert roles.as_limited_sees("photo", photo, show_place=True) == {**photo, "file_facts": None}
    assert roles.as_limited_sees("site", {"note": "12 Mill Lane", "name": "F"}, False) == {
        "note": None,
        "name": "F",
    }


@pytest.mark.parametrize("role", ["surveyor", "helper", "reader", None])
def test_only_keepers_lead(role):
    roles.check_leads("keeper")
    with pytest.raises(NotAllowed):
        roles.check_leads(role)
