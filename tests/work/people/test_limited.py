"""A device that came in by a hand-out: what it gets, what it may add, and how it learns that its list has changed."""

import pytest

from tests.api.test_photos import Sending, picture, sha
from tests.make import (
    make_drop,
    make_edit,
    make_grounds,
    make_guest,
    make_id,
    make_limited,
    make_op,
)

PLACE = {"lat": 51.5, "lon": 0.1}


class List:
    """A site where one of two tickets is handed out, and the phone of who got it."""

    def __init__(self, app, grounds, **handout):
        self.grounds, self.site = grounds, grounds.site
        self.defects = [grounds.add("defect") for _ in range(2)]
        self.tickets = [grounds.add("ticket", defect_ids=[one]) for one in self.defects]
        self.photos = [grounds.add("photo", of_type="defect", of_id=one, **PLACE) for one in self.defects]
        self.handout = grounds.add("handout", ticket_ids=[self.tickets[0]], **handout)
        self.helper = make_limited(app, grounds.keeper, grounds.site, self.handout).pull()

    def ids(self, row_type):
        return {row_id for of_type, row_id in self.helper.rows if of_type == row_type}

    def edit(self, row_type, row_id, **fields):
        (result,) = self.grounds.keeper.push(make_edit(row_type, self.site, row_id, 99, **fields))
        assert result["st"] == "applied"

    def ask(self, since, limit=500):
        body = {"v": 1, "epoch": None, "since": since, "limit": limit}
        return self.helper.post("/api/sync/pull", body).json

    def try_step(self, ticket, kind="taken", **fields):
        (result,) = self.helper.push(
            make_op("step", self.site, set={"ticket_id": ticket, "kind": kind, **fields})
        )
        return result


@pytest.fixture
def handed(app, grounds):
    grounds.keeper.push(make_edit("site", grounds.site, grounds.site, 99, note="12 Mill Lane", **PLACE))
    return List(app, grounds)


def test_helper_gets_the_list_and_nothing_beside(handed):
    assert handed.ids("ticket") == {handed.tickets[0]}
    assert handed.ids("defect") == {handed.defects[0]}
    assert handed.ids("photo") == {handed.photos[0]}
    assert handed.ids("handout") == {handed.handout}
    assert handed.ids("elevation") == {handed.grounds.elevation}


def test_place_is_told_only_where_the_keeper_shows_it(handed):
    site, photo = ("site", handed.site), ("photo", handed.photos[0])
    for key in (site, photo):
        assert handed.helper.rows[key]["lat"] is None
    assert handed.helper.rows[site]["note"] is None
    handed.edit("handout", handed.handout, show_place=True)
    rows = handed.helper.pull().rows
    assert (rows[site]["lat"], rows[site]["note"], rows[photo]["lon"]) == (51.5, "12 Mill Lane", 0.1)
    handed.edit("handout", handed.handout, show_place=False)
    rows = handed.helper.pull().rows
    assert (rows[site]["lat"], rows[site]["note"], rows[photo]["lon"]) == (None, None, None)


def test_changed_list_comes_whole_in_one_answer_that_drops_the_old(handed):
    handed.edit("handout", handed.handout, ticket_ids=[handed.tickets[1]])
    answer = handed.ask(handed.helper.since, limit=2)
    assert answer["drop"] == [handed.site]
    assert not answer["more"]
    assert len(answer["rows"]) > 2
    named = {row["id"] for row in answer["rows"]}
    assert handed.tickets[1] in named
    assert handed.tickets[0] not in named
    again = handed.ask(answer["since"])
    assert (again["drop"], again["rows"]) == ([], [])
    assert {row["id"] for row in handed.ask({})["rows"]} == named


def test_what_others_do_elsewhere_costs_the_helper_nothing(handed):
    for _ in range(3):
        handed.grounds.add("storm")
    answer = handed.ask(handed.helper.since)
    assert (answer["rows"], answer["drop"], answer["more"]) == ([], [], False)
    assert answer["since"][handed.site] > handed.helper.since[handed.site]


def test_small_pages_bring_every_change_once(handed):
    steps = [handed.grounds.add("note", of_type="ticket", of_id=handed.tickets[n % 2]) for n in range(10)]
    since, got = handed.helper.since, []
    while True:
        answer = handed.ask(since, limit=2)
        got += [row["id"] for row in answer["rows"] if row["type"] == "note"]
        since = answer["since"]
        if not answer["more"]:
            break
    assert got == steps[::2]


def test_helper_works_through_the_list(handed):
    step = make_op("step", handed.site, set={"ticket_id": handed.tickets[0], "kind": "done"})
    photo = make_op("photo", handed.site, set={"of_type": "step", "of_id": step["id"], **PLACE})
    note = make_op("note", handed.site, set={"of_type": "ticket", "of_id": handed.tickets[0]})
    assert [one["st"] for one in handed.helper.push(step, photo, note)] == ["applied"] * 3
    assert [one["st"] for one in handed.helper.push(photo)] == ["applied"]
    again = {**photo, "op": make_id()}
    assert [one["st"] for one in handed.helper.push(again)] == ["applied"]
    assert handed.ids("step") == set()
    assert step["id"] in {row_id for _, row_id in handed.helper.pull().rows}


def refused_alike(handed, *ops):
    results = handed.helper.push(*ops)
    assert {(one["st"], one["code"]) for one in results} == {("rejected", "not_allowed")}
    assert len({one["say"] for one in results}) == 1


def test_helper_changes_nothing_off_the_list_and_learns_nothing_of_it(handed):
    site, other = handed.site, handed.tickets[1]
    step = handed.grounds.add("step", ticket_id=other)
    photo = handed.photos[1]
    refused_alike(
        handed,
        make_op("step", site, set={"ticket_id": other}),
        make_op("step", site, set={"ticket_id": make_id()}),
        make_op("step", site, step, set={"ticket_id": other}),
        make_op("step", site, step, set={"ticket_id": handed.tickets[0], "kind": "done"}),
        make_op("photo", site, photo, set={"of_type": "defect", "of_id": handed.defects[1], **PLACE}),
        make_op("photo", site, set={"of_type": "ticket", "of_id": other}),
        make_op("photo", site, set={"of_type": "step", "of_id": step}),
        make_op("photo", site, set={"of_type": "elevation", "of_id": handed.grounds.elevation}),
        make_op("note", site, set={"of_type": "defect", "of_id": handed.defects[1]}),
        make_op("note", site, set={"of_type": "storm", "of_id": make_id()}),
        make_edit("ticket", site, other, 99, note="n"),
        make_drop("ticket", site, other, 99),
        make_op("ticket", site, set={"defect_ids": [handed.defects[0]]}),
    )
    # Its own rows it may see, but not change either.
    (result,) = handed.helper.push(make_edit("ticket", site, handed.tickets[0], 99, note="n"))
    assert result["code"] == "not_allowed"


def test_place_of_a_photo_is_not_told_by_guessing_it(app, handed):
    photo = handed.photos[0]
    where = {"of_type": "defect", "of_id": handed.defects[0]}
    full = make_guest(app, handed.grounds.keeper, handed.site, "helper", "Hedda")
    for phone in (handed.helper, full):
        right, wrong = (make_op("photo", handed.site, photo, set={**where, "lat": lat}) for lat in (51.5, 40))
        answers = phone.push(right, wrong)
        assert [one["code"] for one in answers] == ["append_only"] * 2


def test_photo_for_a_ticket_of_another_site_is_refused(app, handed):
    other = make_grounds(app)
    ticket = other.add("ticket", defect_ids=[other.add("defect")])
    photo = {"of_type": "ticket", "of_id": ticket}
    (result,) = handed.helper.push(make_op("photo", handed.site, set=photo))
    assert result["code"] == "not_allowed"
    (result,) = handed.helper.push(make_op("photo", other.site, set=photo))
    assert result["code"] == "not_allowed"
    (result,) = handed.grounds.keeper.push(make_op("photo", handed.site, set=photo))
    assert result["code"] == "parent_missing"


def test_ended_handout_takes_the_list_away_and_refuses_what_comes_late(handed):
    handed.edit("handout", handed.handout, ended_on="2026-11-25")
    assert handed.try_step(handed.tickets[0])["code"] == "not_allowed"
    handed.helper.pull()
    assert set(handed.helper.rows) == {("site", handed.site)}


def test_step_on_a_ticket_deleted_meanwhile_brings_it_back(handed):
    (gone,) = handed.grounds.keeper.push(make_drop("ticket", handed.site, handed.tickets[0], 99))
    assert gone["st"] == "applied"
    handed.helper.pull()
    assert handed.ids("ticket") == handed.ids("defect") == set()
    assert handed.try_step(handed.tickets[0], "done")["st"] == "clash"
    handed.helper.pull()
    assert handed.ids("ticket") == {handed.tickets[0]}
    assert handed.ids("defect") == {handed.defects[0]}


def test_second_handout_adds_to_the_first(handed):
    second = handed.grounds.add("handout", ticket_ids=[handed.tickets[1]])
    body = {"site_id": handed.site, "role": "helper", "handout_id": second}
    handed.helper.enrol(handed.grounds.keeper.post("/api/invites", body).json["token"], "Hal")
    assert handed.ids("ticket") == {handed.tickets[0]}
    handed.helper.pull()
    assert handed.ids("ticket") == set(handed.tickets)
    assert handed.ids("handout") == {handed.handout, second}


def test_reader_who_opens_a_handout_sees_its_list_only(app, handed):
    reader = make_guest(app, handed.grounds.keeper, handed.site, "reader", "Rea").pull()
    body = {"site_id": handed.site, "role": "helper", "handout_id": handed.handout}
    reader.enrol(handed.grounds.keeper.post("/api/invites", body).json["token"], "Rea").pull()
    assert {row_id for of_type, row_id in reader.rows if of_type == "ticket"} == {handed.tickets[0]}


def test_surveyor_who_opens_a_handout_stays_what_they_are(app, handed):
    surveyor = make_guest(app, handed.grounds.keeper, handed.site, "surveyor", "Sura")
    body = {"site_id": handed.site, "role": "helper", "handout_id": handed.handout}
    surveyor.enrol(handed.grounds.keeper.post("/api/invites", body).json["token"], "Sura")
    (grant,) = surveyor.client.get("/api/me").json["grants"]
    assert grant == {"site_id": handed.site, "role": "surveyor", "limited": False}


def test_nobody_checks_their_own_work_except_a_keeper_who_says_so(app, grounds):
    surveyor = make_guest(app, grounds.keeper, grounds.site, "surveyor", "Sura")
    again = make_guest(app, grounds.keeper, grounds.site, "surveyor", "sura ")

    def step(phone, ticket, kind, **fields):
        (result,) = phone.push(
            make_op("step", grounds.site, set={"ticket_id": ticket, "kind": kind, **fields})
        )
        return result.get("code", result["st"])

    first, second = (grounds.add("ticket", defect_ids=[grounds.add("defect")]) for _ in range(2))
    assert step(surveyor, first, "done") == "applied"
    assert step(surveyor, first, "checked") == "own_work_refused"
    assert step(surveyor, first, "checked", own_work=True) == "own_work_refused"
    assert step(again, first, "checked") == "own_work_refused"
    assert step(grounds.keeper, first, "checked") == "applied"
    assert step(surveyor, first, "rechecked") == "own_work_refused"
    assert step(grounds.keeper, second, "done") == "applied"
    assert step(grounds.keeper, second, "checked") == "own_work_refused"
    assert step(grounds.keeper, second, "checked", own_work=True) == "applied"


def test_hash_of_a_photo_off_the_list_opens_nothing_even_in_a_row_of_ones_own(handed):
    keeper, helper, site = handed.grounds.keeper, handed.helper, handed.site
    content = picture(size=(48, 32))
    secret = {"sha256": sha(content), "bytes": len(content)}
    handed.grounds.add("photo", of_type="defect", of_id=handed.defects[1], **secret)
    assert Sending(keeper, site, content).send().status_code == 204
    mine = make_op("photo", site, set={"of_type": "ticket", "of_id": handed.tickets[0], **secret})
    helper.push(mine)
    assert Sending(helper, site, content).ask().status_code == 404
    assert helper.client.get(f"/api/photos/{site}/{mine['id']}/400").status_code == 404
    # Who really has the photo sends it, and sees it.
    assert Sending(helper, site, content).send().status_code == 204
    assert helper.client.get(f"/api/photos/{site}/{mine['id']}/400").status_code == 200
