"""The counters of a site and the epoch of the whole database."""

import secrets
import time
from collections.abc import Mapping

from sqlalchemy import BigInteger, String, bindparam, case, insert, select, update
from sqlalchemy.orm import Mapped, mapped_column

from makegood.store.database import Base, db
from makegood.store.row_table import Uuid

_EPOCH = "epoch"
# Nobody gives out more revisions a second than this; and so many times the seconds since 1970 fit a JSON number.
_REVS_A_SECOND = 2**20
# For a clock that is behind: more than a server gives out between two backups.
_REVS_SKIPPED = 2**36


class SiteClock(Base):
    """One row per site: the last revision given out and the next numbers people see."""

    __tablename__ = "site_clock"

    site_id: Mapped[Uuid] = mapped_column(primary_key=True)
    rev: Mapped[int] = mapped_column(BigInteger, default=0)
    next_defect: Mapped[int] = mapped_column(default=1)
    next_ticket: Mapped[int] = mapped_column(default=1)
    # Tombstones up to here are gone: a cursor below it has to begin anew.
    horizon_rev: Mapped[int] = mapped_column(BigInteger, default=0, server_default="0")


class Meta(Base):
    """What holds for the database as a whole."""

    __tablename__ = "meta"

    key: Mapped[str] = mapped_column(String(40), primary_key=True)
    value: Mapped[str] = mapped_column(String(200))


def sites() -> list[str]:
    """Return the ids of all sites."""
    return list(db.session.scalars(select(SiteClock.site_id).order_by(SiteClock.site_id)))


def is_started(site_id: str) -> bool:
    """Tell whether a site has its counters."""
    return db.session.get(SiteClock, site_id) is not None


def counters(site_id: str) -> tuple[int, int, int]:
    """Return the last revision of a site, and the next numbers of its defects and tickets."""
    columns = (SiteClock.rev, SiteClock.next_defect, SiteClock.next_ticket)
    clock = db.session.execute(select(*columns).where(SiteClock.site_id == site_id)).one()
    return clock.rev, clock.next_defect, clock.next_ticket


def start_site(site_id: str) -> None:
    """Begin the counters of a new site."""
    db.session.execute(insert(SiteClock).values(site_id=site_id, rev=0, next_defect=1, next_ticket=1))


def advance(site_id: str, changes: int, defects: int, tickets: int) -> tuple[int, int, int]:
    """Take so many revisions and numbers at once; return the first of each.

    Call it as the last step of the work: the row stays locked until commit, so no reader can step over a
    revision that is not yet visible.
    """
    taken = {"b_site": site_id, "b_changes": changes, "b_defects": defects, "b_tickets": tickets}
    clock = db.session.connection().execute(_ADVANCE, taken).one()
    return clock.rev - changes + 1, clock.next_defect - defects, clock.next_ticket - tickets


# Written out once: each push and each photo asks it, and putting it together anew would take longer than the answer.
_ADVANCE = (
    update(SiteClock.__table__)  # type: ignore[arg-type]
    .where(SiteClock.site_id == bindparam("b_site"))
    .values(
        rev=SiteClock.rev + bindparam("b_changes"),
        next_defect=SiteClock.next_defect + bindparam("b_defects"),
        next_ticket=SiteClock.next_ticket + bindparam("b_tickets"),
    )
    .returning(SiteClock.rev, SiteClock.next_defect, SiteClock.next_ticket)
)


def set_horizon(site_id: str, rev: int) -> None:
    """Note that tombstones up to this revision may be gone; it never goes back."""
    here = (SiteClock.site_id == site_id, SiteClock.horizon_rev < rev)
    db.session.execute(update(SiteClock).where(*here).values(horizon_rev=rev))


def beyond_horizon(cursors: Mapping[str, int]) -> list[str]:
    """Return the sites of which these cursors are too old: what was deleted since is no longer known."""
    known = db.session.execute(
        select(SiteClock.site_id, SiteClock.horizon_rev).where(SiteClock.site_id.in_(list(cursors)))
    )
    return sorted(site_id for site_id, horizon in known if 0 < cursors[site_id] < horizon)


def epoch() -> str:
    """Return the mark that tells phones whether this database is still the one they knew."""
    return db.session.scalars(select(Meta.value).where(Meta.key == _EPOCH)).one()


def ensure_epoch() -> None:
    """Give a new database its mark."""
    if db.session.get(Meta, _EPOCH) is None:
        new_epoch()


def new_epoch() -> str:
    """Give the database a new mark, as after restoring a backup.

    Phones may hold unsent edits of rows as they stood after the backup was made. The counters leap over the
    revisions given out then, so that such an edit never counts as made with knowledge of what comes now. How far
    follows from the time, so that the same backup restored twice leaps to different places.
    """
    by_time, by_count = int(time.time()) * _REVS_A_SECOND, SiteClock.rev + _REVS_SKIPPED
    db.session.execute(update(SiteClock).values(rev=case((by_count > by_time, by_count), else_=by_time)))
    mark = secrets.token_hex(8)
    if db.session.execute(update(Meta).where(Meta.key == _EPOCH).values(value=mark)).rowcount == 0:  # type: ignore[attr-defined]
        db.session.execute(insert(Meta).values(key=_EPOCH, value=mark))
    return mark
