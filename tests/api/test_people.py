"""Links and devices over HTTP: made, listed, taken back."""

import pytest

from tests.make import Phone, make_grounds, make_guest, make_id, make_limited


def delete(phone, path):
    return phone.client.delete(path, headers={"X-CSRF": phone.csrf})


def enrol(app, token):
    body = {"token": token, "person": "Ada", "device_name": "phone"}
    return app.test_client().post("/api/enrol", json=body)


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


def test_links_for_several_are_listed_without_their_secrets(app, grounds):
    made = [
        grounds.keeper.post("/api/invites", {"site_id": grounds.site, "role": role}).json
        for role in ("helper", "reader", "keeper")
    ]
    answer = grounds.keeper.client.get(f"/api/invites/{grounds.site}")
    assert sorted(one["role"] for one in answer.json["links"]) == ["helper", "keeper", "reader"]
    assert all(one["made_by"] == "Keeper Kit" and one["expires_at"] for one in answer.json["links"])
    assert not any(one["token"] in answer.text for one in made)
    assert enrol(app, made[0]["token"]).status_code == 201
    left = grounds.keeper.client.get(f"/api/invites/{grounds.site}").json["links"]
    assert sorted(one["role"] for one in left) == ["keeper", "reader"]


def test_link_taken_back_opens_nothing(app, grounds):
    token = grounds.keeper.post("/api/invites", {"site_id": grounds.site, "role": "helper"}).json["token"]
    (link,) = grounds.keeper.client.get(f"/api/invites/{grounds.site}").json["links"]
    path = f"/api/invites/{grounds.site}/{link['id']}"
    for _ in range(2):
        assert delete(grounds.keeper, path).status_code == 204
    answer = enrol(app, token)
    assert (answer.status_code, answer.json["code"]) == (410, "link_revoked")
    assert "Set-Cookie" not in answer.headers
    assert app.test_client().post("/api/links", json={"token": token}).json["code"] == "link_revoked"
    assert grounds.keeper.client.get(f"/api/invites/{grounds.site}").json["links"] == []


def test_id_of_a_link_is_not_its_secret(app, grounds):
    grounds.keeper.post("/api/invites", {"site_id": grounds.site, "role": "helper"})
    (link,) = grounds.keeper.client.get(f"/api/invites/{grounds.site}").json["links"]
    assert enrol(app, link["id"]).json["code"] == "link_unknown"


def test_links_and_devices_are_for_keepers_of_that_site_only(app, grounds):
    other = make_grounds(app)
    grounds.keeper.post("/api/invites", {"site_id": grounds.site, "role": "helper"})
    (link,) = grounds.keeper.client.get(f"/api/invites/{grounds.site}").json["links"]
    handout = grounds.add("handout")
    others = [
        make_guest(app, grounds.keeper, grounds.site, role, "Guest")
        for role in ("surveyor", "helper", "reader")
    ]
    others.append(make_limited(app, grounds.keeper, grounds.site, handout))
    for phone in (*others, other.keeper):
        for path in (f"/api/invites/{grounds.site}", f"/api/devices/{grounds.site}"):
            assert phone.client.get(path).json["code"] == "not_allowed"
        for path in (
            f"/api/invites/{grounds.site}/{link['id']}",
            f"/api/devices/{grounds.site}/{grounds.keeper.device_id}",
        ):
            assert delete(phone, path).json["code"] == "not_allowed"
    # Through a site of one's own nothing of another's is reached either.
    assert delete(other.keeper, f"/api/invites/{other.site}/{link['id']}").json["code"] == "link_unknown"
    path = f"/api/devices/{other.site}/{grounds.keeper.device_id}"
    assert delete(other.keeper, path).json["code"] == "device_unknown"


def test_devices_are_listed_with_role_scope_and_last_sight(app, grounds):
    handout = grounds.add("handout")
    helper = make_limited(app, grounds.keeper, grounds.site, handout)
    listed = grounds.keeper.client.get(f"/api/devices/{grounds.site}").json["devices"]
    assert [(one["person"], one["role"], one["limited"], one["handout_ids"]) for one in listed] == [
        ("Hal", "helper", True, [handout]),
        ("Keeper Kit", "keeper", False, []),
    ]
    assert listed[0]["device_id"] == helper.device_id
    assert listed[0]["device_name"] == "Hal's phone"
    assert listed[0]["seen_at"].endswith("Z")


def test_device_sent_away_gets_drop_and_its_changes_are_refused(app, grounds):
    guest = make_guest(app, grounds.keeper, grounds.site, "surveyor", "Sura").pull()
    assert delete(grounds.keeper, f"/api/devices/{grounds.site}/{guest.device_id}").status_code == 204
    answer = guest.post("/api/sync/pull", {"v": 1, "epoch": None, "since": guest.since}).json
    assert (answer["drop"], answer["rows"], answer["since"]) == ([grounds.site], [], {})
    (result,) = guest.push(grounds.op("defect"))
    assert (result["st"], result["code"]) == ("rejected", "not_allowed")
    assert guest.client.get(f"/api/photos/{grounds.site}/{make_id()}/400").status_code == 404
    assert guest.client.get("/api/me").json["grants"] == []


def test_only_keeper_is_not_sent_away_by_anybody(app, grounds):
    path = f"/api/devices/{grounds.site}/{grounds.keeper.device_id}"
    answer = delete(grounds.keeper, path)
    assert (answer.status_code, answer.json["code"]) == (409, "last_keeper")
    second = make_guest(app, grounds.keeper, grounds.site, "keeper", "Kim")
    assert delete(grounds.keeper, path).status_code == 204
    answer = delete(second, f"/api/devices/{grounds.site}/{second.device_id}")
    assert answer.json["code"] == "last_keeper"


def test_keeper_sent_away_leaves_no_link_behind(app, grounds):
    second = make_guest(app, grounds.keeper, grounds.site, "keeper", "Kim")
    token = second.post("/api/invites", {"site_id": grounds.site, "role": "keeper"}).json["token"]
    assert delete(grounds.keeper, f"/api/devices/{grounds.site}/{second.device_id}").status_code == 204
    assert enrol(app, token).json["code"] == "link_revoked"


@pytest.mark.parametrize("how", ["unknown", "ended", "role"])
def test_link_to_a_handout_needs_one_that_is_open(grounds, how):
    handout = (
        make_id()
        if how == "unknown"
        else grounds.add("handout", **({"ended_on": "2026-11-25"} if how == "ended" else {}))
    )
    role = "surveyor" if how == "role" else "helper"
    answer = grounds.keeper.post(
        "/api/invites", {"site_id": grounds.site, "role": role, "handout_id": handout}
    )
    assert answer.json["code"] == ("bad_value" if how == "role" else "handout_unknown")


def test_link_to_a_handout_that_ended_meanwhile_lets_nobody_in(app, grounds):
    handout = grounds.add("handout")
    body = {"site_id": grounds.site, "role": "helper", "handout_id": handout}
    token = grounds.keeper.post("/api/invites", body).json["token"]
    grounds.keeper.push(grounds.op("handout", ended_on="2026-11-25") | {"id": handout, "base": 99})
    answer = enrol(app, token)
    assert (answer.status_code, answer.json["code"]) == (410, "handout_ended")
    assert isinstance(grounds.keeper, Phone)
