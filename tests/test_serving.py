"""What a running server does by itself, and what it believes of a proxy."""

import http.client
import json
import threading
from contextlib import contextmanager
from datetime import UTC, datetime

import pytest

from makegood import serving
from makegood.app import create_app
from makegood.work.invite import invite_first
from tests.bench._serving import served

TOLD = {"X-Forwarded-Proto": "https", "X-Forwarded-Host": "walls.example"}


def test_tidying_is_done_at_the_start_and_again_and_survives_trouble(app, monkeypatch, caplog):
    stopped, calls = threading.Event(), []

    def tidy(now):
        calls.append(now)
        if len(calls) == 1:
            raise ZeroDivisionError
        if len(calls) == 3:
            stopped.set()

    monkeypatch.setattr(serving, "tidy", tidy)
    serving.keep_tidy(app, stopped, every_s=0.0)
    assert len(calls) == 3
    assert calls == sorted(calls)
    assert "tried again" in caplog.text


@pytest.mark.parametrize(
    ("host", "address"),
    [("127.0.0.1", "http://localhost:80"), ("::1", "http://localhost:80"), ("walls.example", "http://walls.example:80")],
)
def test_address_is_one_a_person_can_type(host, address):
    assert serving.origin_of(host, 80) == address


@contextmanager
def doorway(settings):
    """A real server with one good link, and a way to knock at it: (token, caller as told) -> status, headers."""
    app = create_app(settings)
    with app.app_context():
        link = invite_first(datetime.now(UTC), days=1).token

    def knock(port, token, told_for):
        line = http.client.HTTPConnection("127.0.0.1", port, timeout=20)
        body = json.dumps({"token": token, "person": "Ada", "device_name": "phone"})
        headers = {"Content-Type": "application/json", "X-Forwarded-For": told_for, **TOLD}
        line.request("POST", "/api/enrol", body, headers)
        answer = line.getresponse()
        answer.read()
        line.close()
        return answer.status, answer.headers

    with served(settings) as port:
        yield link, lambda token, told_for: knock(port, token, told_for)


def test_behind_one_proxy_the_cookie_is_secure_and_each_phone_has_its_own_limit(sqlite_settings, monkeypatch):
    monkeypatch.setenv("MAKEGOOD_PROXIES", "1")
    monkeypatch.setenv("MAKEGOOD_ENROLS_PER_MINUTE", "2")
    with doorway(sqlite_settings) as (link, knock):
        status, headers = knock(link, "203.0.113.9")
        assert status == 201
        assert headers["Set-Cookie"].startswith("__Host-makegood=")
        assert "Secure" in headers["Set-Cookie"]
        assert headers["Strict-Transport-Security"] == "max-age=31536000"
        assert [knock("guess", "203.0.113.1")[0] for _ in range(3)] == [404, 404, 429]
        assert knock("guess", "203.0.113.2")[0] == 404
        # Only the nearest proxy is believed: what a caller put in front of it is its own invention.
        assert knock("guess", "198.51.100.7, 203.0.113.1")[0] == 429


def test_without_the_setting_forged_headers_change_nothing(sqlite_settings, monkeypatch):
    monkeypatch.delenv("MAKEGOOD_PROXIES", raising=False)
    monkeypatch.setenv("MAKEGOOD_ENROLS_PER_MINUTE", "2")
    with doorway(sqlite_settings) as (link, knock):
        status, headers = knock(link, "203.0.113.9")
        assert status == 201
        assert headers["Set-Cookie"].startswith("makegood=")
        assert "Secure" not in headers["Set-Cookie"]
        assert "Strict-Transport-Security" not in headers
        assert [knock("guess", f"203.0.113.{n}")[0] for n in range(3)] == [404, 404, 429]
