"""Who may write: own session, own page, JSON only."""

import re
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from makegood.api.guard import Turnstile, caller
from makegood.app import create_app
from makegood.errors import TooManyTries
from tests.make import make_founder, make_grounds

PULL = {"v": 1, "epoch": None, "since": {}}
WRITES = ["/api/leave", "/api/invites", "/api/sync/push", "/api/sync/pull"]


@pytest.mark.parametrize("path", WRITES)
def test_every_write_needs_the_token_of_the_page(grounds, path):
    for headers in ({}, {"X-CSRF": "0" * 64}, {"X-CSRF": "é"}):
        answer = grounds.keeper.client.post(path, json={}, headers=headers)
        assert (answer.status_code, answer.json["code"]) == (403, "csrf_wrong")
    assert grounds.keeper.client.get("/api/me").status_code == 200


def written(app, site):
    """Yield the method and an address of every route that writes, those aside that need no session."""
    for rule in app.url_map.iter_rules():
        for method in {"POST", "PUT", "PATCH", "DELETE"} & set(rule.methods):
            if rule.rule.startswith("/api/") and rule.rule not in ("/api/enrol", "/api/links"):
                yield method, re.sub(r"<\w+>", site, rule.rule)


def test_every_route_that_writes_needs_the_token_of_the_page(app, grounds):
    routes = list(written(app, grounds.site))
    assert {("POST", path) for path in WRITES} < set(routes)
    assert {method for method, _ in routes} == {"POST", "PUT", "PATCH", "DELETE"}
    for method, path in routes:
        body = {"json": {}} if method == "POST" else {}
        assert grounds.keeper.client.open(path, method=method, **body).json["code"] == "csrf_wrong", path
        headers = {"X-CSRF": grounds.keeper.csrf, "Sec-Fetch-Site": "cross-site"}
        answer = grounds.keeper.client.open(path, method=method, headers=headers, **body)
        assert answer.json["code"] == "cross_site", path
        assert app.test_client().open(path, method=method, **body).json["code"] == "not_enrolled", path


def test_token_of_another_session_does_not_do(app, grounds):
    other = make_founder(app, "Other")
    answer = grounds.keeper.client.post("/api/sync/pull", json=PULL, headers={"X-CSRF": other.csrf})
    assert answer.json["code"] == "csrf_wrong"


@pytest.mark.parametrize("path", [*WRITES, "/api/enrol"])
def test_write_from_another_website_is_refused(grounds, path):
    headers = {"X-CSRF": grounds.keeper.csrf, "Sec-Fetch-Site": "cross-site"}
    answer = grounds.keeper.client.post(path, json={}, headers=headers)
    assert (answer.status_code, answer.json["code"]) == (403, "cross_site")


def test_own_page_is_let_through(grounds):
    headers = {"X-CSRF": grounds.keeper.csrf, "Sec-Fetch-Site": "same-origin"}
    assert grounds.keeper.client.post("/api/sync/pull", json=PULL, headers=headers).status_code == 200


@pytest.mark.parametrize("content_type", ["text/plain", "application/x-www-form-urlencoded", ""])
def test_what_a_form_can_send_is_refused(grounds, content_type):
    headers = {"X-CSRF": grounds.keeper.csrf, "Content-Type": content_type}
    answer = grounds.keeper.client.post("/api/sync/pull", data=b"{}", headers=headers)
    assert (answer.status_code, answer.json["code"]) == (415, "json_expected")


def test_session_runs_out_unless_used(app, grounds):
    client, start = grounds.keeper.client, datetime.now(UTC)
    for days, status in ((59, 200), (118, 200), (179, 401)):
        app.config["CLOCK"] = lambda days=days: start + timedelta(days=days)
        assert client.get("/api/me").status_code == status


def test_cookie_is_renewed_along_with_the_session(grounds):
    answer = grounds.keeper.client.get("/api/me")
    assert "Max-Age=5184000" in answer.headers["Set-Cookie"]


def test_made_up_session_is_nobody(app):
    client = app.test_client()
    client.set_cookie("makegood", "made-up")
    assert client.get("/api/me").status_code == 401


def test_turnstile_lets_so_many_through_and_then_again_later(monkeypatch):
    at = [0.0]
    monkeypatch.setattr("makegood.api.guard.time.monotonic", lambda: at[0])
    turnstile = Turnstile(2)
    turnstile.enter("a")
    turnstile.enter("a")
    turnstile.enter("b")
    with pytest.raises(TooManyTries):
        turnstile.enter("a")
    at[0] = 31
    turnstile.enter("a")
    turnstile.give_back("a")
    turnstile.enter("a")


def test_turnstile_forgets_who_was_there_longest_ago_and_nobody_else(monkeypatch):
    monkeypatch.setattr("makegood.api.guard.time.monotonic", lambda: 0.0)
    monkeypatch.setattr("makegood.api.guard._MOST_COUNTED", 10)
    turnstile = Turnstile(1)
    for n in range(30):
        turnstile.enter(f"10.0.0.{n}")
    turnstile.enter("10.0.0.0")
    with pytest.raises(TooManyTries) as refused:
        turnstile.enter("10.0.0.29")
    assert refused.value.fields == {"wait_s": "60"}


def test_addresses_of_one_ipv6_network_are_one_caller(app):
    def of(address):
        with app.test_request_context(environ_base={"REMOTE_ADDR": address}):
            return caller()

    assert of("2001:db8:1:2::1") == of("2001:db8:1:2:ffff::9") != of("2001:db8:1:3::1")
    assert of("192.0.2.1") == "192.0.2.1" != of("192.0.2.2")
    assert of("unix") == "unix"


def test_device_that_syncs_without_end_is_slowed_and_others_are_not(settings):
    app = create_app(replace(settings, syncs_per_minute=5))
    grounds = make_grounds(app)
    other = make_founder(app, "Other")
    answers = [grounds.keeper.post("/api/sync/pull", PULL) for _ in range(6)]
    assert [one.status_code for one in answers] == [200] * 5 + [429]
    assert 1 <= int(answers[-1].headers["Retry-After"]) <= 12
    assert other.post("/api/sync/pull", PULL).status_code == 200
    assert grounds.keeper.post("/api/sync/push", {"v": 1, "epoch": None, "ops": []}).status_code == 200
