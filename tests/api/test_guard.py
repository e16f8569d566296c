"""Who may write: own session, own page, JSON only."""

from datetime import UTC, datetime, timedelta

import pytest

from makegood.api.guard import Turnstile
from makegood.errors import TooManyTries

PULL = {"v": 1, "epoch": None, "since": {}}
WRITES = ["/api/leave", "/api/invites", "/api/sync/push", "/api/sync/pull"]


@pytest.mark.parametrize("path", WRITES)
def test_every_write_needs_the_token_of_the_page(grounds, path):
    for headers in ({}, {"X-CSRF": "0" * 64}, {"X-CSRF": "é"}):
        answer = grounds.keeper.client.post(path, json={}, headers=headers)
        assert (answer.status_code, answer.json["code"]) == (403, "csrf_wrong")
    assert grounds.keeper.client.get("/api/me").status_code == 200


def test_every_write_route_is_covered_here(app):
    posts = {rule.rule for rule in app.url_map.iter_rules() if "POST" in rule.methods}
    assert posts == {*WRITES, "/api/enrol"}


def test_token_of_another_session_does_not_do(app, grounds):
    from tests.make import make_founder

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
