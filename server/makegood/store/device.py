"""Enrolled devices, what each may do on which site, and the links that let one in."""

import hashlib
from collections.abc import Collection
from dataclasses import dataclass

from sqlalchemy import BigInteger, ForeignKey, String, false, insert, or_, select, update
from sqlalchemy.orm import Mapped, mapped_column

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


class Invite(Base):
    """A link that enrols one device once; only a hash of its token is kept."""

    __tablename__ = "invite"

    token_hash: Mapped[str] = mapped_column(String(64), primary_key=True)
    site_id: Mapped[Uuid | None] = mapped_column(ForeignKey("site_clock.site_id"))
    role: Mapped[Choice | None]
    handout_id: Mapped[Uuid | None]
    may_found: Mapped[bool]
    made_at: Mapped[Instant]
    made_by: Mapped[Name | None]
    revoked_at: Mapped[Instant | None]
    expires_at: Mapped[Instant]
    used_at: Mapped[Instant | None]
    used_by: Mapped[Uuid | None]


@dataclass(frozen=True)
class Device:
    """An enrolled device as the other rings see it: `grants` is site id -> role."""

    id: str
    person: str
    device_name: str
    may_found: bool
    seen_at: str
    grants: dict[str, str]


@dataclass(frozen=True)
class Link:
    """An enrolment link as it stands: `site_id` and `role` are None on a link that only lets found sites."""

    token_hash: str
    site_id: str | None
    role: str | None
    may_found: bool
    expires_at: str
    used_at: str | None


def hashed(token: str) -> str:
    """Return what is kept of a session or a link: enough to know it again, not enough to use it."""
    return hashlib.sha256(token.encode()).hexdigest()


def device_of_session(session_hash: str) -> Device | None:
    """Return the device whose session this is, unless it was ended."""
    found = db.session.scalars(
        select(DeviceTable).where(DeviceTable.session_hash == session_hash, DeviceTable.ended_at.is_(None))
    ).one_or_none()
    return _device(found) if found else None


def device(device_id: str) -> Device | None:
    """Return a device by its id, ended or not."""
    found = db.session.get(DeviceTable, device_id)
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


def _device(found: DeviceTable) -> Device:
    grants = db.session.execute(
        select(DeviceGrant.site_id, DeviceGrant.role)
        .where(DeviceGrant.device_id == found.id)
        .order_by(DeviceGrant.site_id)
    )
    return Device(
        found.id,
        found.person,
        found.device_name,
        found.may_found,
        found.seen_at,
        {g.site_id: g.role for g in grants},
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
    """Give a device a role on a site, in place of the one it had."""
    here = (DeviceGrant.device_id == device_id, DeviceGrant.site_id == site_id)
    if db.session.scalars(select(DeviceGrant.role).where(*here)).one_or_none() is None:
        db.session.execute(insert(DeviceGrant).values(device_id=device_id, site_id=site_id, role=role))
    else:
        db.session.execute(update(DeviceGrant).where(*here).values(role=role))


def mark_seen(device_id: str, now: str) -> None:
    """Note that a device was here, so that its session slides on."""
    db.session.execute(update(DeviceTable).where(DeviceTable.id == device_id).values(seen_at=now))


def end_session(device_id: str, now: str) -> None:
    """End a device's session for good."""
    db.session.execute(update(DeviceTable).where(DeviceTable.id == device_id).values(ended_at=now))


def add_invite(link: Link, made_at: str) -> None:
    """Keep a new enrolment link."""
    db.session.execute(
        insert(Invite).values(
            token_hash=link.token_hash,
            site_id=link.site_id,
            role=link.role,
            may_found=link.may_found,
            made_at=made_at,
            expires_at=link.expires_at,
        )
    )


def find_invite(token_hash: str) -> Link | None:
    """Return the link of this token."""
    found = db.session.get(Invite, token_hash)
    if found is None:
        return None
    return Link(found.token_hash, found.site_id, found.role, found.may_found, found.expires_at, found.used_at)


def use_invite(token_hash: str, device_id: str, now: str) -> bool:
    """Mark a link used; False if somebody else was quicker."""
    used = db.session.execute(
        update(Invite)
        .where(Invite.token_hash == token_hash, Invite.used_at.is_(None))
        .values(used_at=now, used_by=device_id)
        .returning(Invite.token_hash)
    )
    return used.one_or_none() is not None
