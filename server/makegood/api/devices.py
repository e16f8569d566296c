"""Enrolling a device, knowing it again, inviting others, leaving."""

from typing import Any

from flask import Response, current_app, jsonify, request

from makegood.api.guard import (
    StrictBlueprint,
    current_device,
    forget_session,
    keep_session,
    known_device,
    now,
    session_token,
    settings,
)
from makegood.api.schemas import EnrolSchema, InvitedSchema, InviteSchema, MeSchema
from makegood.errors import BadInput
from makegood.store.clock import epoch
from makegood.store.device import Device
from makegood.work.enrol import Enrolled, Newcomer, csrf_of, enrol_by_link, enrol_on_demo, leave
from makegood.work.invite import invite, link_of, qr_svg

blueprint = StrictBlueprint("devices", __name__, description=__doc__)


def _me(device: Device, session: str) -> dict[str, Any]:
    return {
        "device_id": device.id,
        "person": device.person,
        "csrf": csrf_of(session),
        "epoch": epoch(),
        "may_found": device.may_found,
        "grants": [{"site_id": site_id, "role": role} for site_id, role in device.grants.items()],
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


@blueprint.post("/api/enrol")
@blueprint.arguments(EnrolSchema)
@blueprint.response(201, MeSchema)
def enrol(given: dict[str, Any]) -> Response:
    """Let a device in; a known one gets what the link grants."""
    current_app.extensions["makegood_turnstile"].enter(request.remote_addr or "")
    enrolled = _let_in(given)
    session = enrolled.session or session_token() or ""
    response = jsonify(_me(enrolled.device, session))
    response.status_code = 201
    keep_session(response, session)
    return response


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


@blueprint.post("/api/invites")
@blueprint.arguments(InviteSchema)
@blueprint.response(201, InvitedSchema)
def invite_one(given: dict[str, Any]) -> dict[str, Any]:
    """Make a one-time link to a site."""
    made = invite(current_device(), given["site_id"], given["role"], now(), settings().invite_days)
    link = link_of(request.host_url, made.token)
    return {"link": link, "token": made.token, "qr_svg": qr_svg(link), "expires_at": made.expires_at}
