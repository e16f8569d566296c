"""Let a device in by a one-time link, know it again by its session, let it go."""

import hashlib
import secrets
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from uuid import uuid4

from makegood.domain import roles
from makegood.domain.roles import Part
from makegood.domain.row import Key, read_instant, write_instant
from makegood.errors import Gone, NotFound, StorageFull
from makegood.store import clock
from makegood.store import device as devices
from makegood.store.database import writing
from makegood.store.device import Device, hashed
from makegood.store.people import coverage, invites
from makegood.store.people.invites import Link
from makegood.store.row import fetch

_SEEN_EVERY = timedelta(hours=12)


@dataclass(frozen=True)
class Enrolled:
    """A device that was let in; `session` is None if it keeps the one it had."""

    device: Device
    session: str | None


@dataclass(frozen=True)
class Newcomer:
    """Who asks to be let in; `known` is the device if it already has a session."""

    person: str
    device_name: str
    known: Device | None = None


def csrf_of(session: str) -> str:
    """Return the second token of a session, which a page must read and send itself."""
    return hashlib.sha256(b"csrf " + session.encode()).hexdigest()


@dataclass(frozen=True)
class Promise:
    """What a link would grant, told before it is used; all None on the link that lets start a first site."""

    role: str | None
    site_name: str | None
    tickets: int | None
    invited_by: str | None
    expires_at: str


def look_at_link(token: str, now: datetime) -> Promise:
    """Tell what a link grants without using it up; refuses as enrolling would."""
    link = _usable(token, now)
    if link.site_id is None:
        return Promise(None, None, None, None, link.expires_at)
    site = Key("site", link.site_id, link.site_id)
    handout = Key("handout", link.site_id, link.handout_id or "")
    rows = fetch([site, handout])
    names = devices.persons({link.made_by}) if link.made_by else {}
    tickets = len(rows[handout].fields["ticket_ids"]) if handout in rows else None
    name = rows[site].fields["name"] if site in rows else None
    return Promise(link.role, name, tickets, names.get(link.made_by or ""), link.expires_at)


def enrol_by_link(token: str, who: Newcomer, now: datetime) -> Enrolled:
    """Let a device in by its link, or give a known one what the link grants; the link is used up."""
    with writing():
        link = _usable(token, now)
        enrolled = _let_in(who, link.may_found, now)
        if not invites.use_invite(link.token_hash, enrolled.device.id, write_instant(now)):
            raise _used()
        if link.site_id and link.role:
            _grant(enrolled.device, link.site_id, link.role, link.handout_id)
        return _with_grants(enrolled)


def _usable(token: str, now: datetime) -> Link:
    link = invites.find_invite(hashed(token))
    if link is None:
        raise NotFound("link_unknown", "This link is not known here. Ask for it to be sent again.")
    if link.used_at:
        raise _used()
    if link.revoked_at:
        raise Gone("link_revoked", "The keeper took this link back. Ask for a new one.")
    if link.expires_at < write_instant(now):
        raise Gone("link_expired", "This link has run out. Ask the keeper for a new one.")
    if link.site_id and link.handout_id and not coverage.is_open(link.site_id, link.handout_id):
        raise Gone("handout_ended", "The hand-out of this link is over. Ask the keeper what there is to do.")
    return link


def _grant(device: Device, site_id: str, role: str, handout_id: str | None) -> None:
    part = roles.together(device.part(site_id), Part(role, handout_id is not None))
    if part.limited and handout_id:
        # Waits for pushes under way: whatever they change in the hand-out, they will find this device or it finds them.
        rev, _, _ = clock.advance(site_id, 0, 0, 0)
        devices.grant_handout(device.id, site_id, handout_id, rev - 1)
    elif part != device.part(site_id):
        devices.grant(device.id, site_id, part.role)


def enrol_on_demo(who: Newcomer, now: datetime) -> Enrolled:
    """Let anybody in as keeper of every site there is."""
    with writing():
        enrolled = _let_in(who, True, now)
        for site_id in clock.sites():
            devices.grant(enrolled.device.id, site_id, "keeper")
        return _with_grants(enrolled)


def _used() -> Gone:
    return Gone("link_used", "This link was used already. Ask the keeper for a new one.")


def _let_in(who: Newcomer, may_found: bool, now: datetime) -> Enrolled:
    if who.known:
        if may_found:
            devices.allow_founding(who.known.id)
        return Enrolled(who.known, None)
    session = secrets.token_urlsafe(32)
    new = Device(str(uuid4()), who.person, who.device_name, may_found, write_instant(now), {})
    devices.add_device(new, hashed(session))
    return Enrolled(new, session)


def _with_grants(enrolled: Enrolled) -> Enrolled:
    device = devices.device(enrolled.device.id)
    return replace(enrolled, device=device) if device else enrolled


def recognise(session: str, now: datetime, session_days: int) -> Device | None:
    """Return the device of a session that was neither ended nor left unused for too long."""
    device = devices.device_of_session(hashed(session))
    seen = read_instant(device.seen_at) if device else None
    if device is None or seen is None or now - seen > timedelta(days=session_days):
        return None
    if now - seen > _SEEN_EVERY:
        # A full disk bars nobody from reading.
        with suppress(StorageFull), writing():
            devices.mark_seen(device.id, write_instant(now))
    return device


def leave(device: Device, now: datetime) -> None:
    """End the device's session."""
    with writing():
        devices.end_session(device.id, write_instant(now))
