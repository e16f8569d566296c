"""Push and pull over HTTP: envelopes, epochs, protocols, limits."""

import json

import pytest

from makegood.api.guard import PROTOCOL
from makegood.store.clock import new_epoch
from makegood.store.database import writing
from tests.make import make_edit, make_guest, make_id, make_op

PUSH, PULL = "/api/sync/push", "/api/sync/pull"
SITE = "00000000-0000-4000-8000-00000000abcd"


def push(**how):
    return {"v": 1, "epoch": None, "ops": [], **how}


def pull(**how):
    return {"v": 1, "epoch": None, "since": {}, **how}


def test_answers_have_the_shape_of_the_contract(grounds):
    op = grounds.op("defect")
    pushed = grounds.keeper.post(PUSH, push(ops=[op, grounds.op("defect", kind="ghost")])).json
    assert set(pushed) == {"epoch", "now", "results"}
    assert set(pushed["results"][0]) == {"op", "st", "rev"}
    assert set(pushed["results"][1]) == {"op", "st", "code", "say", "fields"}
    pulled = grounds.keeper.post(PULL, pull()).json
    assert set(pulled) == {"epoch", "now", "more", "since", "drop", "rows"}
    assert all(set(row) == {"type", "id", "site", "rev", "d"} for row in pulled["rows"])
    (defect,) = [row for row in pulled["rows"] if row["type"] == "defect"]
    assert {"made_at", "made_by", "number", "mark"} <= set(defect["d"])


def test_clash_names_its_fields(app, grounds):
    defect = grounds.add("defect")
    other = make_guest(app, grounds.keeper, grounds.site, "surveyor", "Sura")
    other.push(make_edit("defect", grounds.site, defect, 4, note="theirs"))
    result = grounds.keeper.post(
        PUSH, push(ops=[make_edit("defect", grounds.site, defect, 4, note="mine")])
    ).json["results"][0]
    assert set(result) == {"op", "st", "rev", "fields"}
    assert (result["st"], result["fields"]) == ("clash", ["note"])


@pytest.mark.parametrize(("path", "body"), [(PUSH, push), (PULL, pull)])
def test_restored_server_says_so_and_does_nothing(app, grounds, path, body):
    old = grounds.keeper.client.get("/api/me").json["epoch"]
    assert grounds.keeper.post(path, body(epoch=old)).json["epoch"] == old
    with app.app_context(), writing():
        new_epoch()
    answer = grounds.keeper.post(path, body(epoch=old))
    assert (answer.status_code, answer.json["code"]) == (409, "epoch_changed")


@pytest.mark.parametrize(("path", "body"), [(PUSH, push), (PULL, pull)])
def test_unknown_protocol_is_refused(grounds, path, body):
    answer = grounds.keeper.post(path, body(v=2))
    assert (answer.status_code, answer.json["code"]) == (426, "protocol_too_old")


@pytest.mark.parametrize(
    ("path", "body"),
    [
        (PUSH, {}),
        (PUSH, []),
        (PUSH, push(ops=None)),
        (PUSH, push(ops={})),
        (PUSH, push(ops=[None] * 201)),
        (PUSH, push(v="1")),
        (PUSH, push(epoch=7)),
        (PUSH, push(more=1)),
        (PULL, pull(since=[])),
        (PULL, pull(since={"x": 1})),
        (PULL, pull(since={SITE: -1})),
        (PULL, pull(since={SITE: 2**70})),
        (PULL, pull(since={SITE: "1"})),
        (PULL, pull(limit=0)),
        (PULL, pull(limit=10**9)),
    ],
    ids=str,
)
def test_malformed_envelope_is_refused_with_fields(grounds, path, body):
    answer = grounds.keeper.post(path, body)
    assert (answer.status_code, answer.json["code"]) == (422, "bad_input")
    assert answer.json["fields"]


@pytest.mark.parametrize(
    "text",
    [
        "",
        "{",
        '{"v": 1, "epoch": null, "ops": [NaN]}',
        '{"v": 1, "epoch": null, "ops": [Infinity]}',
        '{"v": 1, "epoch": null, "ops": ' + "[" * 100_000 + "]" * 100_000 + "}",
        '{"v": ' + "9" * 5000 + "}",
        b"\xff\xfe\x00",
    ],
    ids=["empty", "cut off", "NaN", "Infinity", "deep", "long number", "bytes"],
)
def test_body_that_is_not_json_is_refused(grounds, text):
    headers = {"X-CSRF": grounds.keeper.csrf, "Content-Type": "application/json"}
    answer = grounds.keeper.client.post(PUSH, data=text, headers=headers)
    assert (answer.status_code, answer.json["code"]) == (422, "bad_json")


def test_number_no_database_can_hold_is_refused_in_its_op_alone(grounds):
    text = json.dumps(push(ops=[grounds.op("storm", rain_mm=1), grounds.op("storm")])).replace(
        '"rain_mm": 1', '"rain_mm": 1e999'
    )
    headers = {"X-CSRF": grounds.keeper.csrf, "Content-Type": "application/json"}
    results = grounds.keeper.client.post(PUSH, data=text, headers=headers).json["results"]
    assert [one["st"] for one in results] == ["rejected", "applied"]


def test_push_larger_than_256_kib_is_refused_whole(grounds):
    answer = grounds.keeper.post(PUSH, push(ops=["x" * 300 * 1024]))
    assert (answer.status_code, answer.json["code"]) == (413, "body_too_large")


def test_stranger_neither_pushes_nor_pulls(app):
    for path, body in ((PUSH, push()), (PULL, pull())):
        answer = app.test_client().post(path, json=body)
        assert (answer.status_code, answer.json["code"]) == (401, "not_enrolled")


def test_keeper_brings_what_another_phone_saved_and_it_stays_that_phones_work(app, grounds):
    surveyor = make_guest(app, grounds.keeper, grounds.site, "surveyor", "Oona")
    storm = make_op("storm", grounds.site)
    body = {"v": 1, "epoch": None, "ops": [storm], "for": surveyor.device_id}
    for _ in range(2):
        answer = grounds.keeper.post("/api/sync/push", body)
        assert [one["st"] for one in answer.json["results"]] == ["applied"]
    row = grounds.keeper.pull().row("storm", storm["id"])
    assert row["made_by"] == "Oona"
    # The surveyor's own later edit knows nothing of the revision above, and is no clash with herself.
    edit = make_edit("storm", grounds.site, storm["id"], base=0, name="Second name")
    assert surveyor.push(storm, edit)[1]["st"] == "applied"
    assert grounds.keeper.pull().all("clash") == []


def test_only_a_keeper_brings_the_work_of_others_and_only_of_phones_enrolled_here(app, grounds):
    surveyor = make_guest(app, grounds.keeper, grounds.site, "surveyor", "Oona")
    body = {"v": 1, "epoch": None, "ops": [make_op("storm", grounds.site)]}
    stranger = grounds.keeper.post("/api/sync/push", {**body, "for": make_id()})
    assert (stranger.status_code, stranger.json["code"]) == (404, "author_unknown")
    guest = surveyor.post("/api/sync/push", {**body, "for": grounds.keeper.device_id})
    assert (guest.status_code, guest.json["code"]) == (403, "not_allowed")


def test_what_a_keeper_enters_as_their_own_still_clashes_with_what_they_changed_themselves(app, grounds):
    surveyor = make_guest(app, grounds.keeper, grounds.site, "surveyor", "Oona")
    storm = make_op("storm", grounds.site, set={"name": "First"})
    grounds.keeper.push(storm)
    base = grounds.keeper.pull().row("storm", storm["id"])["rev"]
    late = {**make_edit("storm", grounds.site, storm["id"], base, name="Oona's"), "at": "2020-01-01T00:00:00.000Z"}
    own = make_edit("storm", grounds.site, storm["id"], base, name="Ada's")
    grounds.keeper.push(own)
    path = f"/api/devices/{grounds.site}/{surveyor.device_id}"
    assert grounds.keeper.client.delete(path, headers={"X-CSRF": grounds.keeper.csrf}).status_code == 204
    body = {"v": 1, "epoch": None, "ops": [late], "for": surveyor.device_id}
    refused = grounds.keeper.post("/api/sync/push", body)
    assert (refused.status_code, refused.json["code"]) == (404, "author_unknown")
    for _ in range(2):
        answer = grounds.keeper.post("/api/sync/push", {**body, "as_own": True})
        assert [one["st"] for one in answer.json["results"]] == ["clash"], answer.json
    phone = grounds.keeper.pull()
    assert phone.row("storm", storm["id"])["name"] == "Ada's"
    assert [(one["kept"], one["lost"]) for one in phone.all("clash")] == [("Ada's", "Oona's")]
    guest = make_guest(app, grounds.keeper, grounds.site, "surveyor", "Ben")
    assert guest.post("/api/sync/push", {**body, "as_own": True}).status_code == 403


def test_phone_below_the_oldest_version_may_still_send_but_not_fetch(grounds, monkeypatch):
    monkeypatch.setitem(PROTOCOL, "min", 2)
    monkeypatch.setitem(PROTOCOL, "max", 3)
    assert grounds.keeper.client.get("/api/meta").json["protocol"] == {"min": 2, "max": 3}
    sent = grounds.keeper.post(PUSH, push(ops=[grounds.op("defect")]))
    assert [one["st"] for one in sent.json["results"]] == ["applied"]
    assert grounds.keeper.post(PULL, pull()).status_code == 426
    assert grounds.keeper.post(PULL, pull(v=2)).status_code == grounds.keeper.post(PULL, pull(v=3)).status_code == 200
    assert grounds.keeper.post(PUSH, push(v=4)).status_code == 426


def test_news_is_told_at_once_and_only_to_the_enrolled(app, grounds):
    since = grounds.keeper.pull().since
    grounds.add("defect")
    revs = [("rev", f"{site}:{rev}") for site, rev in since.items()]
    answer = grounds.keeper.client.get("/api/sync/wait", query_string=revs)
    assert (answer.status_code, answer.json["news"]) == (200, True)
    assert answer.json["epoch"] == grounds.keeper.client.get("/api/me").json["epoch"]
    assert app.test_client().get("/api/sync/wait", query_string=revs).status_code == 401


@pytest.mark.parametrize("rev", ["", "x:1", f"{SITE}", f"{SITE}:-1", f"{SITE}:1e3", f"{SITE}:99999999999999999"])
def test_cursors_that_are_none_are_refused(grounds, rev):
    answer = grounds.keeper.client.get("/api/sync/wait", query_string={"rev": rev})
    assert answer.status_code == 422
    assert answer.json["code"]
