"""The devices of a site as its keepers see them, and taking one's part away."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from makegood.domain import roles
from makegood.domain.row import write_instant
from makegood.errors import Conflict, NotFound
from makegood.store import clock
from makegood.store import device as devices
from makegood.store.database import writing
from makegood.store.device import Device, Place
from makegood.store.people.invites import revoke_invites_of


@dataclass(frozen=True)
class Placed:
    """One device of a site, and the hand-outs it was given if it is limited to those."""

    place: Place
    handout_ids: list[str]


def devices_here(device: Device, site_id: str) -> list[Placed]:
    """Return the devices that have a part in a site, for its keepers."""
    roles.check_leads(device.grants.get(site_id))
    handouts = devices.handouts_of(site_id)
    return [
        Placed(one, handouts.get(one.device_id, []) if one.limited else [])
        for one in devices.devices_of(site_id)
    ]


def revoke_device(keeper: Device, site_id: str, device_id: str, now: datetime, session_days: int) -> None:
    """Take a device's part in a site away, and the open links it made; what it had not sent stays on it."""
    roles.check_leads(keeper.grants.get(site_id))
    with writing():
        clock.advance(site_id, 0, 0, 0)  # one at a time: two keepers must not send each other away at once
        here = {one.device_id: one for one in devices.devices_of(site_id)}
        if device_id not in here:
            raise NotFound(
                "device_unknown", "This device has no part in the site any more. Load the list again."
            )
        active_from = write_instant(now - timedelta(days=session_days))
        keepers = {
            one.device_id for one in here.values() if one.role == "keeper" and one.seen_at >= active_from
        }
        if keeper.id not in keepers:
            roles.check_leads(None)
        if keepers == {device_id}:
            raise Conflict(
                "last_keeper",
                "This is the site's only keeper. Let another keeper in first, then take this device away.",
            )
        devices.revoke(device_id, site_id)
        revoke_invites_of(site_id, device_id, write_instant(now))
