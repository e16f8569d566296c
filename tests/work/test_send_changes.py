"""Phones get what they lack: page by page, each site and role for itself."""

import pytest

from makegood.domain import roles
from makegood.store import device as devices
from makegood.store.database import db, writing
from makegood.work.send_changes import send_changes
from tests.make import make_drop, make_edit, make_grounds, make_guest


def pages(phone, limit, since=None):
    more, since, found = True, since or {}, []
    while more:
        answer = phone.post("/api/sync/pull", {"v": 1, "epoch": None, "since": since, "limit": limit}).json
        assert len(answer["rows"]) <= limit
        found.append(answer)
        more, since = answer["more"], answer["since"]
    return found


def test_small_pages_bring_the_same_as_one_large(grounds):
    for _ in range(7):
        grounds.add("defect")
    small = [row for page in pages(grounds.keeper, 2) for row in page["rows"]]
    (large,) = pages(grounds.keeper, 1000)
    assert small == large["rows"]
    assert [row["rev"] for row in small] == sorted(row["rev"] for row in small)


def test_cursor_is_the_last_row_given_and_never_the_counter(grounds):
    for _ in range(3):
        grounds.add("defect")
    first = pages(grounds.keeper, 2)[0]
    assert first["since"] == {grounds.site: first["rows"][-1]["rev"]}
    assert first["more"]


def test_nothing_new_leaves_the_cursor_where_it_was(grounds):
    since = pages(grounds.keeper, 500)[-1]["since"]
    (again,) = pages(grounds.keeper, 500, since)
    assert (again["rows"], again["since"], again["more"]) == ([], since, False)


def test_pages_run_over_several_sites(app, grounds):
    other = make_grounds(app)
    link = other.keeper.post("/api/invites", {"site_id": other.site, "role": "reader"}).json["token"]
    grounds.keeper.enrol(link, "Keeper Kit")
    found = pages(grounds.keeper, 2)
    assert len(found) == 3
    assert {row["site"] for page in found for row in page["rows"]} == {grounds.site, other.site}
    assert set(found[-1]["since"]) == {grounds.site, other.site}


def test_changed_row_comes_again_and_only_once(grounds):
    defect = grounds.add("defect")
    since = pages(grounds.keeper, 500)[-1]["since"]
    for note in ("a", "b"):
        grounds.keeper.push(make_edit("defect", grounds.site, defect, 99, note=note))
    (again,) = pages(grounds.keeper, 500, since)
    assert [(row["id"], row["d"]["note"]) for row in again["rows"]] == [(defect, "b")]


def test_deleted_row_comes_as_a_tombstone_without_content(grounds):
    defect = grounds.add("defect", note="private")
    rev = grounds.keeper.pull().row("defect", defect)["rev"]
    grounds.keeper.push(make_drop("defect", grounds.site, defect, rev))
    (page,) = pages(grounds.keeper, 500, {grounds.site: rev})
    assert page["rows"] == [
        {"type": "defect", "id": defect, "site": grounds.site, "rev": rev + 1, "deleted": True}
    ]


@pytest.mark.parametrize("role", roles.roles())
def test_role_gets_only_types_it_sees(app, grounds, role):
    defect = grounds.add("defect")
    guest = make_guest(app, grounds.keeper, grounds.site, role, "Guest")
    other = make_guest(app, grounds.keeper, grounds.site, "surveyor", "Sura")
    for phone in (grounds.keeper, other):
        phone.push(make_edit("defect", grounds.site, defect, 4, note=phone.csrf[:5]))
    seen = {row_type for row_type, _ in guest.pull().rows}
    assert seen <= set(roles.visible_types(role))
    assert ("clash" in seen) == ("clash" in roles.visible_types(role))


def test_site_without_a_part_is_named_to_be_dropped(app, grounds):
    other = make_grounds(app)
    (page,) = pages(grounds.keeper, 500, {other.site: 3, grounds.site: 0})
    assert page["drop"] == [other.site]
    assert set(page["since"]) == {grounds.site}
    assert {row["site"] for row in page["rows"]} == {grounds.site}


def test_part_that_ends_between_two_pages_ends_the_flow(app, grounds):
    guest = make_guest(app, grounds.keeper, grounds.site, "helper", "Hal")
    first = pages(guest, 1)[0]
    with app.app_context(), writing():
        db.session.delete(db.session.get(devices.DeviceGrant, (grounds.site, guest.device_id)))
    (second,) = pages(guest, 1, first["since"])
    assert (second["rows"], second["drop"], second["since"]) == ([], [grounds.site], {})


def test_device_without_a_part_gets_an_empty_page(app):
    with app.app_context():
        page = send_changes(devices.Device("d", "Ada", "phone", False, "", {}), {}, 10)
    assert (page.rows, page.since, page.drop, page.more) == ([], {}, [], False)
