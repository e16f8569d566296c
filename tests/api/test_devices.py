"""Enrolling, knowing again, inviting and leaving, over HTTP."""

from dataclasses import replace

import pytest

from makegood.app import create_app
from tests.make import Phone, make_founder, make_grounds, make_guest, make_id


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


def test_invite_has_link_qr_and_end(app, grounds):
    made = grounds.keeper.post("/api/invites", {"site_id": grounds.site, "role": "helper"}).json
    assert made["link"] == f"http://localhost/join#{made['token']}"
    assert made["qr_svg"].startswith("<svg")
    assert made["expires_at"].endswith("Z")


def test_only_keepers_invite(app, grounds):
    helper = make_guest(app, grounds.keeper, grounds.site, "helper", "Hal")
    answer = helper.post("/api/invites", {"site_id": grounds.site, "role": "keeper"})
    assert (answer.status_code, answer.json["code"]) == (403, "not_allowed")
    assert grounds.keeper.post("/api/invites", {"site_id": make_id(), "role": "reader"}).status_code == 403
    assert grounds.keeper.post("/api/invites", {"site_id": grounds.site, "role": "king"}).status_code == 422


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
    assert answer.json["grants"] == [{"site_id": grounds.site, "role": "keeper"}]
    assert answer.json["may_found"] is True


def test_eleventh_try_in_a_minute_is_turned_away(settings):
    client = create_app(replace(settings, enrols_per_minute=10)).test_client()
    answers = [enrol(client) for _ in range(11)]
    assert [one.status_code for one in answers] == [404] * 10 + [429]
    assert answers[-1].json["code"] == "too_many_tries"
    other = client.post("/api/enrol", json={}, environ_base={"REMOTE_ADDR": "192.0.2.7"})
    assert other.status_code == 422


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
