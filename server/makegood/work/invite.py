"""Make a link that lets one device in, once."""

import io
import secrets
from dataclasses import dataclass
from datetime import datetime, timedelta

import segno

from makegood.domain import roles
from makegood.domain.row import write_instant
from makegood.errors import NotAllowed
from makegood.store import device as devices
from makegood.store.database import writing
from makegood.store.device import Device, Link, hashed


@dataclass(frozen=True)
class Invited:
    """A link's secret, told once, and when it runs out."""

    token: str
    expires_at: str


def invite(device: Device, site_id: str, role: str, now: datetime, days: int) -> Invited:
    """Make a link to a site, if this device's role there may."""
    held = device.grants.get(site_id)
    if held is None or not roles.may_invite(held):
        raise NotAllowed(
            "not_allowed",
            "Only a keeper of the site can invite others. Ask one of them.",
            {"site_id": "not allowed"},
        )
    return _make(site_id, role, False, (now, days))


def invite_first(now: datetime, days: int) -> Invited:
    """Make the link by which the first phone comes in and may start sites."""
    return _make(None, None, True, (now, days))


def _make(site_id: str | None, role: str | None, may_found: bool, lasts: tuple[datetime, int]) -> Invited:
    now, days = lasts
    token = secrets.token_urlsafe(24)
    expires_at = write_instant(now + timedelta(days=days))
    with writing():
        link = Link(hashed(token), site_id, role, may_found, expires_at, None)
        devices.add_invite(link, write_instant(now))
    return Invited(token, expires_at)


def link_of(origin: str, token: str) -> str:
    """Return the address to open; the secret stands behind the #, where no server or chat preview sees it."""
    return f"{origin.rstrip('/')}/join#{token}"


def qr_svg(link: str) -> str:
    """Return the link as a QR code to point a phone at."""
    out = io.BytesIO()
    segno.make(link, error="m").save(out, kind="svg", scale=6, border=4, light="#fff", xmldecl=False)
    return out.getvalue().decode()
