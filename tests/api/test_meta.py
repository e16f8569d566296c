"""What the server is."""

from makegood import __version__


def test_meta_names_version_protocol_and_catalogue(app):
    meta = app.test_client().get("/api/meta").json
    assert meta["name"] == "makegood"
    assert meta["version"] == __version__
    assert meta["protocol"] == {"min": 1, "max": 1}
    assert meta["demo"] is False
    assert meta["catalogue"] == app.test_client().get("/api/catalogue").json["hash"]
    assert meta["now"].endswith("Z")


def test_healthz_asks_the_database(app):
    assert app.test_client().get("/healthz").json == {"ok": True}


def test_description_is_openapi_3_1_and_names_every_route(app):
    described = app.test_client().get("/api/openapi.json").json
    assert described["openapi"] == "3.1.0"
    routes = {rule.rule.replace("<", "{").replace(">", "}") for rule in app.url_map.iter_rules()}
    routes = {route.replace("{path:", "{") for route in routes if route.startswith("/api/")} - {
        "/api/openapi.json"
    }
    assert routes <= set(described["paths"])
    assert len(routes) >= 8
