"""Every error of every route has one shape."""

import pytest

from makegood.store import clock


def check(answer, status, code):
    assert (answer.status_code, answer.json["code"]) == (status, code)
    assert set(answer.json) == {"code", "message", "fields"}
    assert isinstance(answer.json["fields"], dict)
    assert len(answer.json["message"]) > 10


def test_unknown_address(app):
    check(app.test_client().get("/api/nothing"), 404, "not_found")
    check(app.test_client().post("/nothing", json={}), 405, "method_not_allowed")


@pytest.mark.parametrize(
    ("path", "allowed"), [("/api/meta", "GET"), ("/api/sync/push", "POST"), ("/api/enrol", "POST")]
)
def test_wrong_method_names_those_allowed(app, path, allowed):
    answer = app.test_client().delete(path)
    check(answer, 405, "method_not_allowed")
    assert allowed in answer.headers["Allow"]


def test_own_refusals(app):
    check(app.test_client().get("/api/me"), 401, "not_enrolled")


def test_arguments(app):
    answer = app.test_client().post("/api/enrol", json={"token": "x"})
    check(answer, 422, "bad_input")
    assert set(answer.json["fields"]) == {"person", "device_name"}


def test_fields_are_named_by_their_path(grounds):
    answer = grounds.keeper.post("/api/sync/pull", {"v": 1, "epoch": None, "since": {"x": 1}})
    assert any(name.startswith("since.x") for name in answer.json["fields"])


def test_body_over_the_limit(app):
    check(app.test_client().post("/api/enrol", json={"token": "x" * 300_000}), 413, "body_too_large")


def test_fault_of_the_server_is_told_without_its_inside(app, monkeypatch):
    def broken():
        raise ZeroDivisionError("inside")

    monkeypatch.setattr("makegood.api.meta.epoch", broken)
    assert clock.epoch is not broken
    answer = app.test_client().get("/healthz")
    check(answer, 500, "server_fault")
    assert "inside" not in answer.text


def test_description_knows_the_shape(app):
    schemas = app.test_client().get("/api/openapi.json").json["components"]["schemas"]
    assert set(schemas["Refusal"]["properties"]) == {"code", "message", "fields"}
