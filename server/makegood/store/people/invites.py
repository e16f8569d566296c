"""Table of enrolment links; of the secret in a link only a hash is kept."""

from dataclasses import dataclass

from sqlalchemy import ForeignKey, String, insert, select, update
from sqlalchemy.orm import Mapped, mapped_column

from makegood.store.database import Base, db
from makegood.store.row_table import Choice, Instant, Name, Uuid


class Invite(Base):
    """A link that enrols one device once."""

    __tablename__ = "invite"

    token_hash: Mapped[str] = mapped_column(String(64), primary_key=True)
    site_id: Mapped[Uuid | None] = mapped_column(ForeignKey("site_clock.site_id"))
    role: Mapped[Choice | None]
    handout_id: Mapped[Uuid | None]
    may_found: Mapped[bool]
    made_at: Mapped[Instant]
    # The id of the keeper's device, not the name: two may have one name. None: made at the server itself.
    made_by: Mapped[Name | None]
    revoked_at: Mapped[Instant | None]
    expires_at: Mapped[Instant]
    used_at: Mapped[Instant | None]
    used_by: Mapped[Uuid | None]


@dataclass(frozen=True)
class Link:
    """An enrolment link as it stands: `site_id` and `role` are None on a link that only lets found sites."""

    token_hash: str
    site_id: str | None
    role: str | None
    may_found: bool
    made_at: str
    expires_at: str
    handout_id: str | None = None
    made_by: str | None = None
    used_at: str | None = None
    revoked_at: str | None = None


_OF_LINK = tuple(Link.__dataclass_fields__)


def add_invite(link: Link) -> None:
    """Keep a new enrolment link."""
    db.session.execute(insert(Invite).values(**vars(link)))


def find_invite(token_hash: str) -> Link | None:
    """Return the link of this token."""
    found = db.session.get(Invite, token_hash, populate_existing=True)
    return _link(found) if found else None


def open_invites(site_id: str, now: str) -> list[Link]:
    """Return the links to a site that could still be used, the newest first."""
    query = select(Invite).where(
        Invite.site_id == site_id,
        Invite.used_at.is_(None),
        Invite.revoked_at.is_(None),
        Invite.expires_at >= now,
    )
    return [
        _link(one) for one in db.session.scalars(query.order_by(Invite.made_at.desc(), Invite.token_hash))
    ]


def use_invite(token_hash: str, device_id: str, now: str) -> bool:
    """Mark a link used; False if somebody else was quicker."""
    return _mark(token_hash, used_at=now, used_by=device_id)


def revoke_invite(token_hash: str, now: str) -> bool:
    """Mark a link revoked; False if it was used or revoked before."""
    return _mark(token_hash, revoked_at=now)


def revoke_invites_of(site_id: str, device_id: str, now: str) -> None:
    """Revoke all open links to a site that this device made."""
    made = (Invite.site_id == site_id, Invite.made_by == device_id)
    unused = (Invite.used_at.is_(None), Invite.revoked_at.is_(None))
    db.session.execute(update(Invite).where(*made, *unused).values(revoked_at=now))


def _mark(token_hash: str, **values: str) -> bool:
    marked = db.session.execute(
        update(Invite)
        .where(Invite.token_hash == token_hash, Invite.used_at.is_(None), Invite.revoked_at.is_(None))
        .values(**values)
        .returning(Invite.token_hash)
    )
    return marked.one_or_none() is not None


def _link(found: Invite) -> Link:
    return Link(**{name: getattr(found, name) for name in _OF_LINK})
