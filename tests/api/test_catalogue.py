"""The catalogue phones keep."""

from makegood.domain.catalogue import build_catalogue


def test_catalogue_is_sent_once(app):
    client = app.test_client()
    first = client.get("/api/catalogue")
    assert first.status_code == 200
    assert {"hash", "vocabulary", "materials", "mixes", "methods"} <= set(first.json)
    again = client.get("/api/catalogue", headers={"If-None-Match": first.headers["ETag"]})
    assert (again.status_code, again.data) == (304, b"")
    assert client.get("/api/catalogue", headers={"If-None-Match": '"other"'}).status_code == 200


def test_etag_is_the_hash(app):
    answer = app.test_client().get("/api/catalogue")
    assert answer.headers["ETag"] == f'"{answer.json["hash"]}"'


def test_order_of_the_tables_survives_the_wire(app):
    answer = app.test_client().get("/api/catalogue")
    assert list(answer.json["states"]["steps"]) == ["taken", "done", "checked", "rechecked", "reopened"]
    assert list(answer.json["methods"]) == list(build_catalogue()["methods"])
