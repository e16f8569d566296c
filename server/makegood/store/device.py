"""Enrolled devices, what each may do on which site, and the links that let one in."""

import hashlib
from collections.abc import Collection
from dataclasses import dataclass, field

from sqlalchemy import BigInteger, ForeignKey, String, bindparam, delete, false, insert, or_, select, update
from sqlalchemy import Row as SqlRow
from sqlalchemy.orm import Mapped, mapped_column

from makegood.domain.roles import Part
from makegood.store.database import Base, db
from makegood.store.row_table import Choice, Instant, Name, Uuid


class DeviceTable(Base):
    """One enrolled phone or browser; of its session only a hash is kept."""

    __tablename__ = "device"

    id: Mapped[Uuid] = mapped_column(primary_key=True)
    person: Mapped[Name]
    device_name: Mapped[Name]
    session_hash: Mapped[str] = mapped_column(String(64), unique=True)
    may_found: Mapped[bool]
    made_at: Mapped[Instant]
    seen_at: Mapped[Instant]
    ended_at: Mapped[Instant | None]


class DeviceGrant(Base):
    """The role of a device on a site."""

    __tablename__ = "device_grant"

    site_id: Mapped[Uuid] = mapped_column(ForeignKey("site_clock.site_id"), primary_key=True)
    device_id: Mapped[Uuid] = mapped_column(ForeignKey("device.id"), primary_key=True, index=True)
    role: Mapped[Choice]
    # True: sees only the tickets of its hand-outs. Set anew whenever what they hold changes: below it a cursor counts as 0.
    limited: Mapped[bool] = mapped_column(default=False, server_default=false())
    fresh_rev: Mapped[int] = mapped_column(BigInteger, default=0, server_default="0")


class HandoutGrant(Base):
    """A hand-out that a limited device was given."""

    __tablename__ = "handout_grant"

    site_id: Mapped[Uuid] = mapped_column(ForeignKey("site_clock.site_id"), primary_key=True)
    device_id: Mapped[Uuid] = mapped_column(ForeignKey("device.id"), primary_key=True, index=True)
    handout_id: Mapped[Uuid] = mapped_column(primary_key=True)


@dataclass(frozen=True)
class Device:
    """An enrolled device as the other rings see it: `grants` is site id -> role, `limited` site id -> fresh_rev.

    On a site in `limited` it sees only what its hand-outs cover, and begins anew with a cursor below that revision.
    """

    id: str
    person: str
    device_name: str
    may_found: bool
    seen_at: str
    grants: dict[str, str]
    limited: dict[str, int] = field(default_factory=dict)

    def part(self, site_id: str) -> Part | None:
        """Return the role this device has on a site, and whether it is limited there."""
        role = self.grants.get(site_id)
        return Part(role, site_id in self.limited) if role else None


@dataclass(frozen=True)
class Place:
    """One device of a site, as its keepers see it."""

    device_id: str
    person: str
    device_name: str
    role: str
    limited: bool
    seen_at: str


def hashed(token: str) -> str:
    """Return what is kept of a session or a link: enough to know it again, not enough to use it."""
    return hashlib.sha256(token.encode()).hexdigest()


def device_of_session(session_hash: str) -> Device | None:
    """Return the device whose session this is, unless it was ended."""
    found = db.session.connection().execute(_BY_SESSION, {"b_hash": session_hash}).one_or_none()
    return _device(found) if found else None


def device(device_id: str) -> Device | None:
    """Return a device by its id, ended or not."""
    found = db.session.connection().execute(_BY_ID, {"b_id": device_id}).one_or_none()
    return _device(found) if found else None


def any_keeper() -> bool:
    """Tell whether any enrolled device may found sites or keeps one."""
    keeps = select(DeviceGrant.device_id).where(DeviceGrant.role == "keeper")
    found = select(DeviceTable.id).where(
        DeviceTable.ended_at.is_(None), or_(DeviceTable.may_found, DeviceTable.id.in_(keeps))
    )
    return db.session.scalars(found.limit(1)).one_or_none() is not None


def persons(device_ids: Collection[str]) -> dict[str, str]:
    """Return the person of each of these devices."""
    if not device_ids:
        return {}
    found = db.session.execute(
        select(DeviceTable.id, DeviceTable.person).where(DeviceTable.id.in_(device_ids))
    )
    return {row.id: row.person for row in found}


def devices_of(site_id: str) -> list[Place]:
    """Return the devices that have a part in a site and have not left, by person."""
    query = (
        select(DeviceTable, DeviceGrant)
        .join(DeviceGrant, DeviceGrant.device_id == DeviceTable.id)
        .where(DeviceGrant.site_id == site_id, DeviceTable.ended_at.is_(None))
        .order_by(DeviceTable.person, DeviceTable.id)
    )
    return [
        Place(one.id, one.person, one.device_name, part.role, part.limited, one.seen_at)
        for one, part in db.session.execute(query)
    ]


def handouts_of(site_id: str) -> dict[str, list[str]]:
    """Return the hand-outs that each limited device of a site was given."""
    query = select(HandoutGrant.device_id, HandoutGrant.handout_id).where(HandoutGrant.site_id == site_id)
    found: dict[str, list[str]] = {}
    for device_id, handout_id in db.session.execute(query.order_by(HandoutGrant.handout_id)):
        found.setdefault(device_id, []).append(handout_id)
    return found


def _device(found: SqlRow[str, str, str, bool, str]) -> Device:
    grants = db.session.connection().execute(_GRANTS, {"b_id": found.id}).all()
    return Device(
        found.id,
        found.person,
        found.device_name,
        found.may_found,
        found.seen_at,
        {g.site_id: g.role for g in grants},
        {g.site_id: g.fresh_rev for g in grants if g.limited},
    )


# Written out once: every request asks them, and putting them together anew would take longer than the answer.
_DEVICE = select(
    DeviceTable.id, DeviceTable.person, DeviceTable.device_name, DeviceTable.may_found, DeviceTable.seen_at
)
_BY_ID = _DEVICE.where(DeviceTable.id == bindparam("b_id"))
_BY_SESSION = _DEVICE.where(DeviceTable.session_hash == bindparam("b_hash"), DeviceTable.ended_at.is_(None))
_GRANTS = (
    select(DeviceGrant.site_id, DeviceGrant.role, DeviceGrant.limited, DeviceGrant.fresh_rev)
    .where(DeviceGrant.device_id == bindparam("b_id"))
    .order_by(DeviceGrant.site_id)
)


def add_device(new: Device, session_hash: str) -> None:
    """Keep a newly enrolled device; its grants are given one by one."""
    db.session.execute(
        insert(DeviceTable).values(
            id=new.id,
            person=new.person,
            device_name=new.device_name,
            session_hash=session_hash,
            may_found=new.may_found,
            made_at=new.seen_at,
            seen_at=new.seen_at,
        )
    )


def allow_founding(device_id: str) -> None:
    """Let a device start new sites."""
    db.session.execute(update(DeviceTable).where(DeviceTable.id == device_id).values(may_found=True))


def grant(device_id: str, site_id: str, role: str) -> None:
    """Give a device a role on the whole of a site, in place of what it had."""
    revoke(device_id, site_id)
    db.session.execute(insert(DeviceGrant).values(device_id=device_id, site_id=site_id, role=role))


def grant_handout(device_id: str, site_id: str, handout_id: str, fresh_rev: int) -> None:
    """Give a device one more hand-out of a site as a limited helper, in place of any other part it had."""
    given = {*handouts_of(site_id).get(device_id, []), handout_id}
    revoke(device_id, site_id)
    here = {"device_id": device_id, "site_id": site_id}
    db.session.execute(insert(DeviceGrant).values(**here, role="helper", limited=True, fresh_rev=fresh_rev))
    db.session.execute(insert(HandoutGrant), [{**here, "handout_id": one} for one in sorted(given)])


def revoke(device_id: str, site_id: str) -> bool:
    """Take away a device's part in a site; False if it had none."""
    for table in (HandoutGrant, DeviceGrant):
        gone = db.session.execute(delete(table).where(table.device_id == device_id, table.site_id == site_id))
    return bool(gone.rowcount)  # type: ignore[attr-defined]


def mark_seen(device_id: str, now: str) -> None:
    """Note that a device was here, so that its session slides on."""
    db.session.execute(update(DeviceTable).where(DeviceTable.id == device_id).values(seen_at=now))


def end_session(device_id: str, now: str) -> None:
    """End a device's session for good."""
    db.session.execute(update(DeviceTable).where(DeviceTable.id == device_id).values(ended_at=now))
