"""What every response tells the browser to refuse."""

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
