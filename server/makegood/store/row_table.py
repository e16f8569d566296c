"""What every table of synced rows shares: key, revision, tombstone, who wrote which field when."""

from typing import Annotated

from sqlalchemy import BigInteger, ForeignKey, ForeignKeyConstraint, String
from sqlalchemy.orm import Mapped, mapped_column
from sqlalchemy.types import JSON

from makegood.store.database import Base

Uuid = Annotated[str, mapped_column(String(36))]
Name = Annotated[str, mapped_column(String(120))]
Choice = Annotated[str, mapped_column(String(40))]
Phrase = Annotated[str, mapped_column(String(400))]
LongText = Annotated[str, mapped_column(String(4000))]
# ISO text, always in one form and in UTC: sorts as time, reads the same on every database and on the wire.
Day = Annotated[str, mapped_column(String(10))]
Instant = Annotated[str, mapped_column(String(24))]
Shape = Annotated[object, mapped_column(JSON(none_as_null=True))]


class SyncedRow(Base):
    """Parent of one table per row type of shared/records.json."""

    __abstract__ = True

    site_id: Mapped[Uuid] = mapped_column(ForeignKey("site_clock.site_id"), primary_key=True)
    id: Mapped[Uuid] = mapped_column(primary_key=True)
    rev: Mapped[int] = mapped_column(BigInteger, index=True)
    deleted: Mapped[bool] = mapped_column(default=False)
    fv: Mapped[Shape]
    made_at: Mapped[Instant]
    made_by: Mapped[Name]
    made_on_device: Mapped[Uuid]


def refers(column: str, table: str) -> ForeignKeyConstraint:
    """Return the tie to a parent of the same site."""
    return ForeignKeyConstraint(["site_id", column], [f"{table}.site_id", f"{table}.id"])
