"""What a phone sends becomes fields of a row, or is refused with a code."""

from datetime import UTC, date, datetime, timedelta, timezone

import pytest

from makegood.domain import row
from makegood.errors import BadInput
from tests.make import make_id

TODAY = date(2026, 11, 25)


def check(row_type, given, is_new=False):
    return row.check_fields(row_type, given, is_new, TODAY)


def refusal(row_type, given, is_new=False):
    with pytest.raises(BadInput) as refused:
        check(row_type, given, is_new)
    return refused.value


def test_new_row_gets_every_field():
    made = check("structure", {"name": "Barn", "wall_material": "cob"}, True)
    assert made == {"name": "Barn", "wall_material": "cob", "wall_thickness_mm": None, "note": None}


def test_edit_has_only_what_was_given():
    assert check("structure", {"note": None}) == {"note": None}


@pytest.mark.parametrize(
    ("row_type", "given", "code"),
    [
        ("structure", {"__proto__": 1}, "unknown_field"),
        ("structure", {"constructor": {}}, "unknown_field"),
        ("structure", {"rev": 9}, "unknown_field"),
        ("defect", {"number": 7}, "server_only"),
        ("photo", {"stored": True}, "server_only"),
        ("clash", {"kept": 1}, "server_only"),
        ("structure", {"name": None}, "missing_field"),
        ("structure", {"name": "   "}, "missing_field"),
        ("structure", {"name": 7}, "bad_value"),
        ("structure", {"name": "a\x00b"}, "bad_value"),
        ("structure", {"name": "\ud800"}, "bad_value"),
        ("structure", {"name": "x" * 121}, "text_too_long"),
        ("structure", {"note": "x" * 10_000}, "text_too_long"),
        ("structure", {"wall_material": "gold"}, "bad_value"),
        ("structure", {"wall_material": ["cob"]}, "bad_value"),
        ("structure", {"wall_thickness_mm": 0}, "bad_value"),
        ("structure", {"wall_thickness_mm": -300}, "bad_value"),
        ("structure", {"wall_thickness_mm": "300"}, "bad_value"),
        ("structure", {"wall_thickness_mm": True}, "bad_value"),
        ("structure", {"wall_thickness_mm": float("nan")}, "bad_value"),
        ("structure", {"wall_thickness_mm": float("inf")}, "bad_value"),
        ("structure", {"wall_thickness_mm": 10**400}, "bad_value"),
        ("reading", {"count": 1.5}, "bad_value"),
        ("storm", {"hail": 1}, "bad_value"),
        ("storm", {"began_on": "2099-01-01"}, "date_refused"),
        ("storm", {"began_on": "1899-12-31"}, "date_refused"),
        ("storm", {"began_on": "2026-02-30"}, "bad_value"),
        ("storm", {"began_on": "20261120"}, "bad_value"),
        ("storm", {"began_on": 20261120}, "bad_value"),
        ("reading", {"at": "2099-01-01T00:00:00Z"}, "date_refused"),
        ("reading", {"at": "2026-11-25T09:00:00"}, "bad_value"),
        ("reading", {"at": "yesterday"}, "bad_value"),
        ("reading", {"at": "0001-01-01T00:00:00+14:00"}, "bad_value"),
        ("elevation", {"structure_id": "../etc"}, "bad_value"),
        ("elevation", {"structure_id": "A" * 36}, "bad_value"),
        ("photo", {"of_id": "x"}, "bad_value"),
        ("photo", {"sha256": "AB" * 32}, "bad_value"),
        ("photo", {"bytes": 0}, "bad_value"),
        ("photo", {"media_type": "text/html"}, "bad_value"),
        ("defect", {"signs": "bulging"}, "bad_value"),
        ("defect", {"signs": [["bulging"]]}, "bad_value"),
        ("defect", {"signs": ["ghosts"]}, "bad_value"),
        ("ticket", {"defect_ids": []}, "bad_value"),
        ("ticket", {"defect_ids": {}}, "bad_value"),
        ("ticket", {"defect_ids": [make_id() for _ in range(201)]}, "bad_value"),
        ("ticket", {"defect_ids": ["00000000-0000-4000-8000-0000000000ff"] * 2}, "bad_value"),
        ("site", {"bags": []}, "bad_value"),
        ("site", {"bags": {"sand": {"bag_kg": 0, "price": None}}}, "bad_value"),
        ("site", {"bags": {"sand": {"bag_kg": 25, "price": "9"}}}, "bad_value"),
        ("site", {"bags": {"sand": {"bag_kg": 25, "price": -1}}}, "bad_value"),
        ("site", {"bags": {"../x": {"bag_kg": 25, "price": 1}}}, "bad_value"),
        ("site", {"bags": {"sand": {"bag_kg": 25, "colour": "red"}}}, "bad_value"),
    ],
)
def test_refused_with_its_code_and_a_sentence(row_type, given, code):
    refused = refusal(row_type, given)
    assert refused.code == code
    assert len(refused.message) > 10
    assert set(refused.fields) == set(given)


def test_missing_fields_of_a_new_row_are_all_named():
    assert set(refusal("elevation", {}, True).fields) == {"structure_id", "name", "surface", "bearing_deg"}


def test_too_long_text_says_how_long_it_may_be():
    assert "4000" in refusal("structure", {"note": "x" * 10_000}).message


@pytest.mark.parametrize(
    ("row_type", "given", "kept"),
    [
        ("reading", {"at": "2026-11-25T10:00:00.1234+01:00"}, {"at": "2026-11-25T09:00:00.123Z"}),
        ("storm", {"began_on": "2026-11-26"}, {"began_on": "2026-11-26"}),
        ("reading", {"count": 3.0}, {"count": 3}),
        ("structure", {"wall_thickness_mm": 450}, {"wall_thickness_mm": 450.0}),
        ("defect", {"signs": ["bulging", "bulging"]}, {"signs": ["bulging"]}),
        (
            "site",
            {"bags": {"sand": {"bag_kg": 25, "price": None}}},
            {"bags": {"sand": {"bag_kg": 25, "price": None}}},
        ),
        ("structure", {"name": "Gránero “1” 🏚"}, {"name": "Gránero “1” 🏚"}),
    ],
)
def test_taken_in_the_form_it_is_kept(row_type, given, kept):
    assert check(row_type, given) == kept


def test_every_kind_of_the_contract_is_checked():
    kinds = {spec["kind"] for spec_of in row.types().values() for spec in spec_of["fields"].values()}
    assert kinds == set(row._KINDS)


def test_instants_are_written_in_utc_to_the_millisecond():
    there = datetime(2026, 11, 25, 10, 0, 0, 999_999, timezone(timedelta(hours=1)))
    assert row.write_instant(there) == "2026-11-25T09:00:00.999Z"
    assert row.read_instant("2026-11-25T09:00:00.999Z") == datetime(2026, 11, 25, 9, 0, 0, 999_000, UTC)


def test_ids_are_lower_case_uuids():
    assert row.is_uuid(make_id())
    assert not row.is_uuid(make_id() + "\n")
    assert not row.is_uuid("ABCDEF00-0000-4000-8000-000000000000")
    assert not row.is_uuid(None)


def test_append_only_types_are_those_of_the_contract():
    assert {name for name in row.types() if row.is_append_only(name)} == {"reading", "step", "score", "photo", "note"}
