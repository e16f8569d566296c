"""Tables of what hangs on a row of any type: photos (their bytes lie elsewhere), notes, clashes."""

from sqlalchemy import String
from sqlalchemy.orm import Mapped, mapped_column

from makegood.store.row_table import Choice, Instant, LongText, Name, Shape, SyncedRow, Uuid


class Photo(SyncedRow):
    """What is known of a photo; the bytes are named by sha256."""

    __tablename__ = "photo"

    of_type: Mapped[Choice]
    of_id: Mapped[Uuid]
    sha256: Mapped[str] = mapped_column(String(64), index=True)
    media_type: Mapped[Choice]
    bytes: Mapped[int]
    taken_at: Mapped[Instant | None]
    lat: Mapped[float | None]
    lon: Mapped[float | None]
    accuracy_m: Mapped[float | None]
    heading_deg: Mapped[float | None]
    position_source: Mapped[Choice | None]
    preview: Mapped[str | None] = mapped_column(String(64))
    same_place_as: Mapped[Uuid | None]
    stored: Mapped[bool | None]
    width_px: Mapped[int | None]
    height_px: Mapped[int | None]
    file_facts: Mapped[Shape | None]


class Note(SyncedRow):
    """A remark, never overwritten."""

    __tablename__ = "note"

    of_type: Mapped[Choice]
    of_id: Mapped[Uuid]
    at: Mapped[Instant]
    text: Mapped[LongText]


class Clash(SyncedRow):
    """Two answers to one question; a person picks."""

    __tablename__ = "clash"

    of_type: Mapped[Choice]
    of_id: Mapped[Uuid]
    field: Mapped[Choice]
    kept: Mapped[Shape | None]
    lost: Mapped[Shape | None]
    kept_by: Mapped[Name]
    lost_by: Mapped[Name]
    chosen: Mapped[Choice | None]
