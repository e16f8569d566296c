"""What every response tells the browser to refuse, and the packing of long answers."""

import gzip
import json

import pytest

PATHS = ["/", "/api/meta", "/api/me", "/api/nothing", "/healthz", "/api/openapi.json"]


@pytest.mark.parametrize("path", PATHS)
def test_every_response_carries_the_policy(app, path):
    headers = app.test_client().get(path).headers
    policy = headers["Content-Security-Policy"]
    for part in (
        "default-src 'self'",
        "object-src 'none'",
        "frame-ancestors 'none'",
        "require-trusted-types-for 'script'",
    ):
        assert part in policy
    assert "unsafe" not in policy
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "no-referrer"
    assert "camera=(self)" in headers["Permissions-Policy"]
    assert "geolocation=(self)" in headers["Permissions-Policy"]
    assert headers["X-Robots-Tag"] == "noindex, nofollow"


def test_answers_of_the_api_are_not_kept_by_the_browser(app):
    assert app.test_client().get("/api/meta").headers["Cache-Control"] == "no-store"


@pytest.mark.parametrize(
    ("base_url", "told"),
    [
        ("https://walls.example", True),
        ("http://walls.example", False),
        ("https://localhost:8377", False),
        ("https://farm.local", False),
        ("https://192.168.1.5", False),
    ],
)
def test_https_for_ever_is_asked_only_where_it_can_last(app, base_url, told):
    headers = app.test_client().get("/healthz", base_url=base_url).headers
    assert ("Strict-Transport-Security" in headers) is told


def test_long_answers_are_packed_for_who_takes_that(app):
    client = app.test_client()
    plain = client.get("/api/catalogue")
    packed = client.get("/api/catalogue", headers={"Accept-Encoding": "br;q=1, gzip;q=0.8"})
    assert "Content-Encoding" not in plain.headers
    assert packed.headers["Content-Encoding"] == "gzip"
    assert int(packed.headers["Content-Length"]) == len(packed.data) < len(plain.data) / 3
    assert json.loads(gzip.decompress(packed.data)) == plain.json
    assert "Accept-Encoding" in plain.headers["Vary"]
    assert "Accept-Encoding" in packed.headers["Vary"]
    assert packed.headers["ETag"] == f"W/{plain.headers['ETag']}"
    again = client.get("/api/catalogue", headers={"Accept-Encoding": "gzip", "If-None-Match": packed.headers["ETag"]})
    assert (again.status_code, again.data) == (304, b"")


def test_answers_with_a_secret_or_refused_packing_are_not_packed(app):
    client = app.test_client()
    assert "Content-Encoding" not in client.get("/api/catalogue", headers={"Accept-Encoding": "gzip;q=0"}).headers
    assert "Content-Encoding" not in client.get("/api/openapi.json", headers={"Accept-Encoding": "gzip"}).headers
