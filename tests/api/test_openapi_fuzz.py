"""Every documented route against whatever schemathesis makes up: never a 500, never an undocumented answer.

Half the calls get ids that exist and a version that is spoken, so that more than the first door is tried.
MAKEGOOD_FUZZ_EXAMPLES sets the examples for each route (default 40).
"""

import os
import random

import pytest
import schemathesis
from hypothesis import HealthCheck, given, settings
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_headers_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from makegood.app import create_app
from tests import conftest
from tests.api.test_photos import Sending, add_photo, picture, sha
from tests.make import make_grounds, make_guest

EXAMPLES = int(os.environ.get("MAKEGOOD_FUZZ_EXAMPLES", "40"))
CHECKS = [
    not_a_server_error,
    status_code_conformance,
    content_type_conformance,
    response_schema_conformance,
    response_headers_conformance,
]
_chance = random.Random(5)


@pytest.fixture(scope="module")
def place(empty_data, tmp_path_factory):
    """A site with a stored photo, and what stands for each id in an address."""
    app = create_app(conftest.copied(empty_data, tmp_path_factory.mktemp("fuzz")))
    grounds = make_grounds(app)
    content = picture(size=(64, 48))
    photo = add_photo(grounds, content)
    assert Sending(grounds.keeper, grounds.site, content).send().status_code == 204
    real = {
        "site_id": [grounds.site],
        "sha256": [sha(content), "ab" * 32],
        "photo_id": [photo],
        "size": ["400", "1600", "original"],
    }
    return app, grounds, real


@schemathesis.serializer("application/offset+octet-stream")
def write_bytes(_context, value):
    """Send photo bytes as they are."""
    return value if isinstance(value, bytes) else str(value).encode()


def make_plausible(case, real):
    """Put ids that exist, and the version that is spoken, into a call."""
    case.path_parameters = {name: _chance.choice(real[name]) for name in case.path_parameters or {}}
    if isinstance(case.body, dict) and "v" in case.body:
        case.body = {**case.body, "v": 1, "epoch": None}
        case.body.pop("for", None)


def session_for(case, app, grounds):
    """Return whose session a call is made under; whoever leaves is a guest who came for that."""
    leaves = case.path.endswith("/leave")
    return make_guest(app, grounds.keeper, grounds.site, "helper", "Hal") if leaves else grounds.keeper


def try_route(operation, app, grounds, real):
    """Call one route with examples, and hold each answer to the documentation."""

    @given(case=operation.as_strategy())
    @settings(max_examples=EXAMPLES, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
    def call(case):
        phone = session_for(case, app, grounds)
        if _chance.random() < 0.5:
            make_plausible(case, real)
        headers = {
            "Accept-Encoding": "identity",
            **({"X-CSRF": phone.csrf} if _chance.random() < 0.9 else {}),
        }
        cookie = phone.client.get_cookie("makegood").value
        answer = case.call_and_validate(headers=headers, cookies={"makegood": cookie}, checks=CHECKS)
        seen.add(answer.status_code)

    seen: set[int] = set()
    call()
    return seen


def test_whatever_comes_in_gets_a_documented_answer(place, subtests):
    app, grounds, real = place
    schema = schemathesis.openapi.from_wsgi("/api/openapi.json", app)
    seen = {}
    for found in schema.get_all_operations():
        operation = found.ok()
        with subtests.test(operation.label):
            seen[operation.label] = try_route(operation, app, grounds, real)
    # Proof that more than the first door was tried.
    assert any(status < 300 for status in seen["POST /api/sync/push"]), seen
    assert {200, 404} <= seen["GET /api/photos/{site_id}/{photo_id}/{size}"], seen


def test_every_route_is_documented_and_tried(place):
    app = place[0]
    paths = app.test_client().get("/api/openapi.json").json["paths"]
    documented = {path.replace("{", "<").replace("}", ">") for path in paths}
    served = {rule.rule for rule in app.url_map.iter_rules() if rule.rule.startswith("/api/")}
    assert served - documented == {"/api/openapi.json"}
