"""Whom a keeper lets in and sends away: links to a site, and the devices that have a part in it."""

from typing import Any

from flask import Response, request

from makegood.api.guard import StrictBlueprint, current_device, now, settings
from makegood.api.schemas import DevicesSchema, InvitedSchema, InviteSchema, OpenLinksSchema
from makegood.work.invite import Offer, invite, link_of, open_links, qr_svg, revoke_link
from makegood.work.people.devices import devices_here, revoke_device

blueprint = StrictBlueprint("people", __name__, url_prefix="/api", description=__doc__)


@blueprint.post("/invites")
@blueprint.arguments(InviteSchema)
@blueprint.response(201, InvitedSchema)
def invite_one(given: dict[str, Any]) -> dict[str, Any]:
    """Make a one-time link to a site, or to one hand-out."""
    made = invite(current_device(), Offer(**given), now(), settings().invite_days)
    link = link_of(request.host_url, made.token)
    return {"link": link, "token": made.token, "qr_svg": qr_svg(link), "expires_at": made.expires_at}


@blueprint.get("/invites/<site_id>")
@blueprint.response(200, OpenLinksSchema)
def list_links(site_id: str) -> dict[str, Any]:
    """The links to a site that could still be used; without their secrets, which nobody has kept."""
    return {"links": open_links(current_device(), site_id, now())}


@blueprint.delete("/invites/<site_id>/<link_id>")
@blueprint.response(204)
def take_back_link(site_id: str, link_id: str) -> Response:
    """End a link before it is used."""
    revoke_link(current_device(), site_id, link_id, now())
    return Response(status=204)


@blueprint.get("/devices/<site_id>")
@blueprint.response(200, DevicesSchema)
def list_devices(site_id: str) -> dict[str, Any]:
    """The devices that have a part in a site."""
    found = devices_here(current_device(), site_id)
    return {"devices": [{**vars(one.place), "handout_ids": one.handout_ids} for one in found]}


@blueprint.delete("/devices/<site_id>/<device_id>")
@blueprint.response(204)
def send_away(site_id: str, device_id: str) -> Response:
    """Take a device's part in a site away."""
    revoke_device(current_device(), site_id, device_id, now(), settings().session_days)
    return Response(status=204)
