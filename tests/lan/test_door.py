"""The door: the guide for everybody, the app only by https or on the machine itself, and no forging of either."""

import json

import pytest
from werkzeug.test import Client

from makegood.lan.door import Door
from makegood.lan.front import Caller
from makegood.lan.guide import Guide

GUIDE = Guide(b"DER", "AB:CD", "makegood.local", 8377, "2036-11-25", ["192.168.4.7"])
PHONE, PHONE_HTTPS = Caller("192.168.4.20", https=False), Caller("192.168.4.20", https=True)
HERE = Caller("127.0.0.1", https=False)
FORGED = {"X-Forwarded-Proto": "https", "X-Forwarded-For": "127.0.0.1", "Forwarded": "proto=https;for=127.0.0.1"}


@pytest.fixture
def call(app):
    """A way to come through the door: (caller, path, how) -> the answer."""
    door = Door(app, GUIDE)
    client = Client(door)

    def come(caller, path, port=50_000, **how):
        door.callers = {50_000: caller}
        host = how.pop("host", "makegood.local:8377")
        return client.open(path, base_url=f"http://{host}", environ_overrides={"REMOTE_PORT": str(port)}, **how)

    return come


def test_by_https_the_app_answers(call):
    answer = call(PHONE_HTTPS, "/api/meta")
    assert json.loads(answer.data)["name"] == "makegood"
    # A .local name or an address cannot keep a promise of https for ever.
    assert "Strict-Transport-Security" not in answer.headers


@pytest.mark.parametrize("path", ["/", "/walls", "/join"])
def test_plain_pages_lead_to_the_guide(call, path):
    answer = call(PHONE, path)
    assert (answer.status_code, answer.headers["Location"]) == (302, "/lan")


@pytest.mark.parametrize(("path", "method"), [("/api/me", "GET"), ("/api/enrol", "POST"), ("/walls", "POST")])
def test_plain_requests_of_the_app_are_refused_in_words(call, path, method):
    answer = call(PHONE, path, method=method)
    told = json.loads(answer.data)
    assert (answer.status_code, told["code"]) == (403, "https_needed")
    assert "/lan" in told["message"]


@pytest.mark.parametrize("host", ["localhost:8377", "127.0.0.1", "makegood.local:8377"])
def test_forged_headers_open_nothing(call, host):
    assert call(PHONE, "/api/meta", host=host, headers=FORGED).status_code == 403


def test_past_the_front_there_is_no_way_in(call):
    for path in ("/api/meta", "/lan"):
        assert call(PHONE_HTTPS, path, port=50_001).status_code == 403


def test_on_the_machine_itself_localhost_needs_no_certificate(call):
    assert call(HERE, "/api/meta", host="localhost:8377").status_code == 200
    assert call(HERE, "/api/meta", host="makegood.local:8377").status_code == 403


@pytest.mark.parametrize("caller", [PHONE, PHONE_HTTPS, HERE])
def test_guide_and_certificate_are_for_everybody(call, caller):
    assert "text/html" in call(caller, "/lan").headers["Content-Type"]
    got = call(caller, "/lan/makegood-ca.crt")
    assert (got.data, got.headers["Content-Type"]) == (b"DER", "application/x-x509-ca-cert")
    assert got.headers["Cache-Control"] == "no-store"
    assert got.headers["X-Content-Type-Options"] == "nosniff"
