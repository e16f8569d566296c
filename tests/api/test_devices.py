"""Enrolling, knowing again, inviting and leaving, over HTTP."""

from collections import Counter
from dataclasses import replace
from datetime import UTC, datetime

import pytest

from makegood.app import create_app
from makegood.work.invite import invite_first
from tests.make import Phone, make_founder, make_grounds, make_guest


def enrol(client, token="x", **more):
    return client.post("/api/enrol", json={"token": token, "person": "Ada", "device_name": "phone", **more})


def test_enrolled_device_is_told_what_it_may(app):
    keeper = make_founder(app)
    me = keeper.client.get("/api/me").json
    assert set(me) == {"device_id", "person", "csrf", "epoch", "may_found", "grants"}
    assert me["may_found"] is True
    assert me["csrf"] == keeper.csrf


def test_session_cookie_is_out_of_reach_for_scripts(app, grounds):
    link = grounds.keeper.post("/api/invites", {"site_id": grounds.site, "role": "helper"}).json["token"]
    cookie = enrol(app.test_client(), link).headers["Set-Cookie"]
    assert cookie.startswith("makegood=")
    for part in ("HttpOnly", "SameSite=Lax", "Path=/", "Max-Age=5184000"):
        assert part in cookie
    assert "Secure" not in cookie


def test_over_https_the_cookie_is_bound_to_its_host(app, grounds):
    link = grounds.keeper.post("/api/invites", {"site_id": grounds.site, "role": "helper"}).json["token"]
    client = app.test_client()
    body = {"token": link, "person": "Ada", "device_name": "phone"}
    answer = client.post("/api/enrol", json=body, base_url="https://walls.example")
    assert answer.headers["Set-Cookie"].startswith("__Host-makegood=")
    assert "Secure" in answer.headers["Set-Cookie"]
    assert "Domain" not in answer.headers["Set-Cookie"]
    assert client.get("/api/me", base_url="https://walls.example").status_code == 200


@pytest.mark.parametrize(
    ("body", "status", "code"),
    [
        ({"token": "guess"}, 404, "link_unknown"),
        ({"token": ""}, 422, "bad_input"),
        ({"demo": True}, 404, "link_unknown"),
        ({"person": ""}, 422, "bad_input"),
        ({"person": "x" * 121}, 422, "bad_input"),
        ({"token": 7}, 422, "bad_input"),
        ({"admin": True}, 422, "bad_input"),
    ],
)
def test_enrolling_badly_is_refused(app, body, status, code):
    answer = enrol(app.test_client(), **body)
    assert (answer.status_code, answer.json["code"]) == (status, code)
    assert "Set-Cookie" not in answer.headers


def test_enrolling_without_token_is_refused(app):
    answer = app.test_client().post("/api/enrol", json={"person": "Ada", "device_name": "phone"})
    assert (answer.status_code, answer.json["code"]) == (422, "missing_field")


def test_second_enrolment_with_a_used_link_is_refused(app, grounds):
    link = grounds.keeper.post("/api/invites", {"site_id": grounds.site, "role": "helper"}).json["token"]
    assert enrol(app.test_client(), link).status_code == 201
    answer = enrol(app.test_client(), link)
    assert (answer.status_code, answer.json["code"]) == (410, "link_used")


def test_after_leaving_nobody_is_there(app):
    keeper = make_founder(app)
    assert keeper.post("/api/leave", {}).status_code == 204
    assert keeper.client.get("/api/me").json["code"] == "not_enrolled"


def test_session_taken_along_does_not_outlive_leaving(app):
    keeper = make_founder(app)
    session = keeper.client.get_cookie("makegood").value
    keeper.post("/api/leave", {})
    thief = app.test_client()
    thief.set_cookie("makegood", session)
    assert thief.get("/api/me").status_code == 401


def test_anybody_joins_a_demo_as_keeper_of_every_site(app, settings):
    grounds = make_grounds(app)
    demo = create_app(replace(settings, demo=True))
    answer = demo.test_client().post(
        "/api/enrol", json={"demo": True, "person": "Ada", "device_name": "phone"}
    )
    assert answer.status_code == 201
    assert answer.json["grants"] == [{"site_id": grounds.site, "role": "keeper", "limited": False}]
    assert answer.json["may_found"] is True


def test_eleventh_try_in_a_minute_is_turned_away(settings):
    client = create_app(replace(settings, enrols_per_minute=10)).test_client()
    answers = [enrol(client) for _ in range(11)]
    assert [one.status_code for one in answers] == [404] * 10 + [429]
    assert answers[-1].json["code"] == "too_many_tries"
    other = client.post("/api/enrol", json={}, environ_base={"REMOTE_ADDR": "192.0.2.7"})
    assert other.status_code == 422


def test_who_has_a_good_link_is_not_counted_among_the_guesses(settings):
    app = create_app(replace(settings, enrols_per_minute=2))
    grounds = make_grounds(app)
    for n in range(5):
        make_guest(app, grounds.keeper, grounds.site, "helper", f"Hal {n}")
    assert [enrol(app.test_client()).status_code for _ in range(3)] == [404, 404, 429]


def test_link_tells_what_it_grants_before_it_is_used(app, grounds):
    defect = grounds.add("defect")
    tickets = [grounds.add("ticket", defect_ids=[defect]) for _ in range(2)]
    handout = grounds.add("handout", ticket_ids=tickets)
    body = {"site_id": grounds.site, "role": "helper", "handout_id": handout}
    made = grounds.keeper.post("/api/invites", body).json
    client = app.test_client()
    for _ in range(2):
        told = client.post("/api/links", json={"token": made["token"]})
        assert told.status_code == 200
        assert told.json == {
            "role": "helper",
            "site_name": "Hollow Farm",
            "tickets": 2,
            "invited_by": "Keeper Kit",
            "expires_at": made["expires_at"],
        }
    assert enrol(client, made["token"]).status_code == 201
    assert client.post("/api/links", json={"token": made["token"]}).json["code"] == "link_used"


def test_link_that_starts_a_site_tells_of_no_site(app):
    with app.app_context():
        token = invite_first(datetime.now(UTC), 14).token
    told = app.test_client().post("/api/links", json={"token": token}).json
    assert told["role"] is None
    assert told["site_name"] is None


def test_ten_thousand_guesses_are_slowed_find_nothing_and_fill_no_memory(settings):
    app = create_app(replace(settings, enrols_per_minute=10))
    make_grounds(app)
    client = app.test_client()
    seen = Counter()
    for n in range(10_000):
        path = ("/api/enrol", "/api/links")[n % 2]
        body = {"token": f"{n:032d}", **({"person": "Ada", "device_name": "x"} if n % 2 == 0 else {})}
        # Half from one address, half each from an address of its own.
        address = "192.0.2.1" if n % 4 < 2 else f"10.{n >> 16}.{n >> 8 & 255}.{n & 255}"
        seen[client.post(path, json=body, environ_base={"REMOTE_ADDR": address}).status_code] += 1
    assert set(seen) == {404, 429}
    assert seen[429] > 4_900
    assert len(app.extensions["makegood_turnstile"]._left) <= 10_000


def test_phone_keeps_its_device_when_it_joins_another_site(app, grounds):
    other = make_grounds(app)
    link = other.keeper.post("/api/invites", {"site_id": other.site, "role": "helper"}).json["token"]
    before = grounds.keeper.device_id
    grounds.keeper.enrol(link, "Keeper Kit")
    assert grounds.keeper.device_id == before
    assert isinstance(grounds.keeper, Phone)
    assert {one["site_id"] for one in grounds.keeper.client.get("/api/me").json["grants"]} == {
        grounds.site,
        other.site,
    }
