"""Every documented route against whatever schemathesis makes up: never a 500, never an undocumented answer.

Half the calls get ids that exist and a version that is spoken, so that more than the first door is tried.
MAKEGOOD_FUZZ_EXAMPLES sets the examples for each route (default 40).
"""

import os
import random
import sqlite3
from collections import defaultdict
from contextlib import closing

import pytest
import schemathesis
from hypothesis import HealthCheck, given, settings
from hypothesis.stateful import run_state_machine_as_test
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_headers_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from makegood.app import create_app
from makegood.papers.press import PAPERS
from tests import conftest
from tests.api.test_photos import Sending, add_photo, picture, sha
from tests.make import make_grounds, make_guest, make_id

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
    long = next(name for name, one in PAPERS.items() if one.long)
    begun = grounds.keeper.post(f"/api/papers/{grounds.site}/{long}", {})
    real = {
        "site_id": [grounds.site],
        "sha256": [sha(content), "ab" * 32],
        "photo_id": [photo],
        "size": ["400", "1600", "original"],
        "device_id": [grounds.keeper.device_id, make_id()],
        "link_id": ["ab" * 32],
        "paper": [*PAPERS, "none"],
        "job": [begun.json["job"], make_id()],
    }
    return app, grounds, real


@schemathesis.serializer("text/csv")
def write_table(_context, value):
    """Send a table as it is."""
    return value if isinstance(value, bytes) else str(value).encode(errors="replace")


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


def machine_of(place, walked, set_back):
    """Return a state machine of the whole document: calls that feed on what earlier ones answered."""
    app, grounds, real = place
    schema = schemathesis.openapi.from_wsgi("/api/openapi.json", app)

    class Visits(schema.as_state_machine()):  # type: ignore[misc]
        """One visit: a chain of calls by the keeper, each visit to the same site as it was."""

        def setup(self):
            """Begin with the site as it was."""
            set_back()

        def before_call(self, case):
            """Let the first of a chain be about a site that there is; what follows brings ids of its own."""
            case.path_parameters = {
                name: real[name][0] if name == "site_id" else value
                for name, value in (case.path_parameters or {}).items()
            }
            if "paper" in case.path_parameters:
                case.path_parameters["paper"] = "report"
                case.query = {}
                case.body = {} if case.method == "POST" else case.body
            if isinstance(case.body, dict) and "role" in case.body:
                case.body = {"site_id": grounds.site, "role": case.body["role"]}

        def get_call_kwargs(self, case):
            """Call under the keeper's session."""
            cookie = grounds.keeper.client.get_cookie("makegood").value
            headers = {"Accept-Encoding": "identity", "X-CSRF": grounds.keeper.csrf}
            return {"headers": headers, "cookies": {"makegood": cookie}}

        def validate_response(self, response, case, additional_checks=(), **how):
            """Hold each answer to the documentation."""
            walked[case.operation.label].add(response.status_code)
            case.validate_response(response, checks=CHECKS)

    return Visits


def copy_database(source, target):
    """Make one SQLite file hold what another does."""
    with closing(sqlite3.connect(source)) as old, closing(sqlite3.connect(target)) as new:
        old.backup(new)


def test_chains_of_calls_get_documented_answers_too(place, tmp_path):
    """The stateful phase: a link made, listed, taken back and used; a paper begun, asked after, fetched, stopped."""
    app, grounds, _ = place
    for _ in range(5):
        grounds.keeper.post("/api/invites", {"site_id": grounds.site, "role": "reader"})
    file, before = app.config["SETTINGS"].database_file, tmp_path / "before.sqlite"
    copy_database(file, before)
    walked = defaultdict(set)
    machine = machine_of(place, walked, lambda: copy_database(before, file))
    chains = int(os.environ.get("MAKEGOOD_FUZZ_CHAINS", "40"))
    run_state_machine_as_test(
        machine,
        settings=settings(
            max_examples=chains, stateful_step_count=8, deadline=None, derandomize=True,
            suppress_health_check=list(HealthCheck),
        ),
    )  # fmt: skip
    fed = [codes for label, codes in walked.items() if any(name in label for name in ("{link_id}", "{job}", "{device_id}"))]
    assert any(code < 300 for codes in fed for code in codes), walked
