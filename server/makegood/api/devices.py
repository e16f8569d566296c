"""Enrolling a device, knowing it again, leaving."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from flask import Response, current_app, jsonify

from makegood.api.guard import (
    StrictBlueprint,
    caller,
    current_device,
    forget_session,
    keep_session,
    known_device,
    now,
    session_token,
    settings,
)
from makegood.api.schemas import EnrolSchema, MeSchema, PromiseSchema, TokenSchema
from makegood.errors import BadInput
from makegood.store.clock import epoch
from makegood.store.device import Device
from makegood.work.enrol import Enrolled, Newcomer, csrf_of, enrol_by_link, enrol_on_demo, leave, look_at_link

blueprint = StrictBlueprint("devices", __name__, description=__doc__)


def _me(device: Device, session: str) -> dict[str, Any]:
    return {
        "device_id": device.id,
        "person": device.person,
        "csrf": csrf_of(session),
        "epoch": epoch(),
        "may_found": device.may_found,
        "grants": [
            {"site_id": site_id, "role": role, "limited": site_id in device.limited}
            for site_id, role in device.grants.items()
        ],
    }


def _let_in(given: dict[str, Any]) -> Enrolled:
    who = Newcomer(given["person"], given["device_name"], known_device())
    if given.get("demo") and settings().demo:
        return enrol_on_demo(who, now())
    if not given.get("token"):
        raise BadInput(
            "missing_field", "Open the enrolment link again: its token is missing.", {"token": "missing"}
        )
    return enrol_by_link(given["token"], who, now())


@contextmanager
def _counted() -> Iterator[None]:
    """Count a try to open a link unless it goes well: many phones may come in at once behind one address."""
    turnstile = current_app.extensions["makegood_turnstile"]
    turnstile.enter(caller())
    yield
    turnstile.give_back(caller())


@blueprint.post("/api/enrol")
@blueprint.arguments(EnrolSchema)
@blueprint.response(201, MeSchema)
def enrol(given: dict[str, Any]) -> Response:
    """Let a device in; a known one gets what the link grants."""
    with _counted():
        enrolled = _let_in(given)
    session = enrolled.session or session_token() or ""
    response = jsonify(_me(enrolled.device, session))
    response.status_code = 201
    keep_session(response, session)
    return response


@blueprint.post("/api/links")
@blueprint.arguments(TokenSchema)
@blueprint.response(200, PromiseSchema)
def look(given: dict[str, Any]) -> dict[str, Any]:
    """What a link would grant, told before it is used; the link stays as it is."""
    with _counted():
        return vars(look_at_link(given["token"], now()))


@blueprint.get("/api/me")
@blueprint.response(200, MeSchema)
def me() -> dict[str, Any]:
    """The device of the present session."""
    return _me(current_device(), session_token() or "")


@blueprint.post("/api/leave")
@blueprint.response(204)
def leave_here() -> Response:
    """End the session."""
    leave(current_device(), now())
    response = Response(status=204)
    forget_session(response)
    return response
