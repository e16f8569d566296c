"""Who may do what: the table of roles, op by op, and the founding of sites."""

import pytest

from makegood.domain import roles, row
from tests.make import make_drop, make_edit, make_founder, make_guest, make_id, make_op


def only(results):
    (result,) = results
    return result


def needs(grounds, row_type, ids):
    hangs_on = {
        "elevation": {"structure_id": grounds.structure},
        "reading": {"defect_id": ids["defect"]},
        "ticket": {"defect_ids": [ids["defect"]]},
        "step": {"ticket_id": ids["ticket"]},
        "score": {"finish_id": ids["finish"]},
        "photo": {"of_type": "defect", "of_id": ids["defect"]},
        "note": {"of_type": "defect", "of_id": ids["defect"]},
    }
    return grounds.op(row_type, **hangs_on.get(row_type, {}))


@pytest.mark.parametrize("role", roles.roles())
def test_role_does_only_what_the_table_allows(app, grounds, role):
    ids = {"defect": grounds.add("defect"), "finish": grounds.add("finish")}
    ids["ticket"] = grounds.add("ticket", defect_ids=[ids["defect"]])
    guest = make_guest(app, grounds.keeper, grounds.site, role, "Guest")
    for row_type in [one for one in row.types() if one not in ("site", "clash")]:
        made = only(guest.push(needs(grounds, row_type, ids)))
        assert (made["st"] == "applied") == roles.may(role, "make", row_type), (row_type, made)
        assert made["st"] == "applied" or made["code"] == "not_allowed"
        there = needs(grounds, row_type, {**ids, "ticket": grounds.add("ticket", defect_ids=[ids["defect"]])})
        rev = only(grounds.keeper.push(there))["rev"]
        if row.is_append_only(row_type):
            continue
        field = {"survey": {"on": "2026-11-22"}}.get(
            row_type, {"name": "N"} if row_type in ("elevation",) else {"note": "n"}
        )
        edited = only(guest.push(make_edit(row_type, grounds.site, there["id"], rev, **field)))
        assert (edited["st"] == "applied") == roles.may(role, "edit", row_type), (row_type, edited)
        dropped = only(guest.push(make_drop(row_type, grounds.site, there["id"], edited.get("rev", rev))))
        assert (dropped["st"] == "applied") == roles.may(role, "drop", row_type), (row_type, dropped)


def test_helper_may_not_check_a_repair(app, grounds):
    ticket = grounds.add("ticket", defect_ids=[grounds.add("defect")])
    helper = make_guest(app, grounds.keeper, grounds.site, "helper", "Hal")
    kinds = ["taken", "done", "checked"]
    results = helper.push(
        *(make_op("step", grounds.site, set={"ticket_id": ticket, "kind": kind}) for kind in kinds)
    )
    assert [one["st"] for one in results] == ["applied", "applied", "rejected"]
    assert results[2]["code"] == "not_allowed"


def test_stranger_to_a_site_changes_nothing_there(app, grounds):
    stranger = make_founder(app, "Stranger")
    result = only(stranger.push(grounds.op("defect")))
    assert result["code"] == "not_allowed"
    assert (
        only(stranger.push(make_op("site", grounds.site, set={"name": "Mine now"})))["code"] == "not_allowed"
    )
    assert grounds.keeper.pull().row("site", grounds.site)["name"] == "Hollow Farm"


def test_only_who_may_found_starts_a_site(app, grounds):
    surveyor = make_guest(app, grounds.keeper, grounds.site, "surveyor", "Sura")
    assert only(surveyor.push(make_op("site", make_id())))["code"] == "not_allowed"
    site = make_id()
    storm = make_op("storm", site)
    results = grounds.keeper.push(make_op("storm", site), make_op("site", site), storm)
    assert [one["st"] for one in results] == ["rejected", "applied", "applied"]
    assert ("storm", storm["id"]) in grounds.keeper.pull().rows


def test_site_row_carries_the_id_of_its_site(grounds):
    assert only(grounds.keeper.push(make_op("site", grounds.site, make_id())))["code"] == "wrong_site"


def test_refused_founding_leaves_no_site_behind(app, grounds):
    site = make_id()
    assert only(grounds.keeper.push(make_op("site", site, set={"name": ""})))["code"] == "missing_field"
    assert site not in grounds.keeper.pull().since
