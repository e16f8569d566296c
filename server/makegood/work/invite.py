"""Make a link that lets one device in, once."""

import io
import secrets
from dataclasses import dataclass
from datetime import datetime, timedelta

import segno

from makegood.domain import roles
from makegood.domain.row import write_instant
from makegood.errors import BadInput, Gone, NotFound
from makegood.store import device as devices
from makegood.store.database import writing
from makegood.store.device import Device, hashed
from makegood.store.people import invites
from makegood.store.people.coverage import is_open
from makegood.store.people.invites import Link

_SECRET_BYTES = 24


@dataclass(frozen=True)
class Invited:
    """A link's secret, told once, and when it runs out."""

    token: str
    expires_at: str


@dataclass(frozen=True)
class Offer:
    """What a link grants: a role on a site; with a hand-out only that hand-out's tickets."""

    site_id: str
    role: str
    handout_id: str | None = None


@dataclass(frozen=True)
class OpenLink:
    """A link that could still be used. `id` ends it, but opens nothing; `made_by` None: made at the server itself."""

    id: str
    role: str
    handout_id: str | None
    made_by: str | None
    made_at: str
    expires_at: str


def invite(device: Device, offer: Offer, now: datetime, days: int) -> Invited:
    """Make a link to a site, if this device's role there may."""
    roles.check_leads(device.grants.get(offer.site_id))
    if offer.handout_id:
        _check_handout(offer)
    return _make(offer, device.id, (now, days))


def invite_first(now: datetime, days: int) -> Invited:
    """Make the link by which the first phone comes in and may start sites."""
    return _make(None, None, (now, days))


def _check_handout(offer: Offer) -> None:
    if offer.role != "helper":
        raise BadInput("bad_value", "A hand-out is for a helper.", {"role": "not helper"})
    if not is_open(offer.site_id, offer.handout_id or ""):
        sentence = "There is no such hand-out on the server, or it has ended. Send it first, or open another."
        raise NotFound("handout_unknown", sentence, {"handout_id": "unknown"})


def _make(offer: Offer | None, made_by: str | None, lasts: tuple[datetime, int]) -> Invited:
    now, days = lasts
    token = secrets.token_urlsafe(_SECRET_BYTES)
    made_at, expires_at = write_instant(now), write_instant(now + timedelta(days=days))
    site_id, role, handout_id = (offer.site_id, offer.role, offer.handout_id) if offer else (None, None, None)
    with writing():
        invites.add_invite(
            Link(hashed(token), site_id, role, offer is None, made_at, expires_at, handout_id, made_by)
        )
    return Invited(token, expires_at)


def open_links(device: Device, site_id: str, now: datetime) -> list[OpenLink]:
    """Return the links to a site that could still be used, for its keepers."""
    roles.check_leads(device.grants.get(site_id))
    found = invites.open_invites(site_id, write_instant(now))
    names = devices.persons({one.made_by for one in found if one.made_by})
    return [
        OpenLink(
            one.token_hash,
            one.role or "",
            one.handout_id,
            names.get(one.made_by or ""),
            one.made_at,
            one.expires_at,
        )
        for one in found
    ]


def revoke_link(device: Device, site_id: str, link_id: str, now: datetime) -> None:
    """End a link before it is used; a second time changes nothing."""
    roles.check_leads(device.grants.get(site_id))
    link = invites.find_invite(link_id)
    if link is None or link.site_id != site_id:
        raise NotFound("link_unknown", "This link is not known here. Ask for it to be sent again.")
    with writing():
        if not invites.revoke_invite(link_id, write_instant(now)) and not link.revoked_at:
            raise Gone("link_used", "This link was used already. Take away the device that came in by it.")


def link_of(origin: str, token: str) -> str:
    """Return the address to open; the secret stands behind the #, where no server or chat preview sees it."""
    return f"{origin.rstrip('/')}/join#{token}"


def qr_svg(link: str) -> str:
    """Return the link as a QR code to point a phone at."""
    out = io.BytesIO()
    segno.make(link, error="m").save(out, kind="svg", scale=6, border=4, light="#fff", xmldecl=False)
    return out.getvalue().decode()
