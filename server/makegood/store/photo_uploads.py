"""Tables of photo bytes: what each device sends, what a site has kept, which photo rows must learn of it.

Uploads are counted for each device, so that a hash alone tells nobody whether another phone sent that photo.
"""

from dataclasses import dataclass
from typing import Any

from sqlalchemy import ForeignKey, String, and_, bindparam, delete, exists, insert, or_, select
from sqlalchemy import Row as SqlRow
from sqlalchemy.orm import Mapped, mapped_column

from makegood.store.attached import Photo
from makegood.store.database import Base, db
from makegood.store.row_table import Choice, Instant, Shape, Uuid

RECEIVING, COMPLETE, REFUSED = "receiving", "complete", "refused"


class PhotoUpload(Base):
    """What one device sends of one photo."""

    __tablename__ = "photo_upload"

    site_id: Mapped[Uuid] = mapped_column(ForeignKey("site_clock.site_id"), primary_key=True)
    sha256: Mapped[str] = mapped_column(String(64), primary_key=True)
    device_id: Mapped[Uuid] = mapped_column(ForeignKey("device.id"), primary_key=True)
    length: Mapped[int]
    state: Mapped[Choice]
    refusal: Mapped[Choice | None]
    began_at: Mapped[Instant]


class PhotoBlob(Base):
    """The outcome for the bytes of one photo of a site: kept with its facts, or refused."""

    __tablename__ = "photo_blob"

    site_id: Mapped[Uuid] = mapped_column(ForeignKey("site_clock.site_id"), primary_key=True)
    sha256: Mapped[str] = mapped_column(String(64), primary_key=True)
    length: Mapped[int]
    refusal: Mapped[Choice | None]
    media_type: Mapped[Choice | None]
    width_px: Mapped[int | None]
    height_px: Mapped[int | None]
    file_facts: Mapped[Shape]
    decided_at: Mapped[Instant]


@dataclass(frozen=True)
class UploadKey:
    """Whose upload of which photo of which site."""

    site_id: str
    sha256: str
    device_id: str


@dataclass(frozen=True)
class Upload:
    """How an upload stands; `refusal` is the code given when the bytes were refused."""

    length: int
    state: str
    began_at: str
    refusal: str | None = None


@dataclass(frozen=True)
class Blob:
    """The outcome for the bytes: with a `refusal` code nothing was kept and kind and size are None."""

    length: int
    decided_at: str
    file_facts: dict[str, object]
    media_type: str | None = None
    width_px: int | None = None
    height_px: int | None = None
    refusal: str | None = None


def find_upload(key: UploadKey) -> Upload | None:
    """Return how the device's upload stands."""
    found = db.session.connection().execute(_UPLOAD, _bound(key)).one_or_none()
    return Upload(*found) if found else None


def set_upload(key: UploadKey, upload: Upload) -> None:
    """Begin an upload, or note how it stands now."""
    connection = db.session.connection()
    connection.execute(_FORGET_UPLOAD, _bound(key))
    connection.execute(insert(PhotoUpload.__table__), {**vars(key), **vars(upload)})  # type: ignore[arg-type]


def find_blob(site_id: str, sha256: str) -> Blob | None:
    """Return the outcome for these bytes on this site."""
    found = db.session.connection().execute(_BLOB, {"b_site": site_id, "b_sha256": sha256}).one_or_none()
    return _blob(found) if found else None


def set_blob(site_id: str, sha256: str, blob: Blob) -> None:
    """Note the outcome for these bytes, in place of an earlier one."""
    connection = db.session.connection()
    connection.execute(_FORGET_BLOB, {"b_site": site_id, "b_sha256": sha256})
    values = {"site_id": site_id, "sha256": sha256, **vars(blob)}
    connection.execute(insert(PhotoBlob.__table__), values)  # type: ignore[arg-type]


def blobs_of(site_id: str) -> dict[str, Blob]:
    """Return the outcomes for all bytes of a site, by SHA-256."""
    found = db.session.scalars(
        select(PhotoBlob).where(PhotoBlob.site_id == site_id).order_by(PhotoBlob.sha256)
    )
    return {one.sha256: _blob(one) for one in found}


def photos_naming(site_id: str, sha256: str) -> dict[str, str]:
    """Return the photo rows of the site that name these bytes, each with the device that made it."""
    named = select(Photo.id, Photo.made_on_device).where(
        Photo.site_id == site_id, Photo.sha256 == sha256, Photo.deleted.is_(False)
    )
    return dict(db.session.execute(named.order_by(Photo.id)).all())


def is_named_unseen(site_id: str, photo_id: str, device_id: str) -> bool:
    """Tell whether a device made this photo row itself and never sent the bytes it names, which others did."""
    sent = exists().where(
        PhotoUpload.site_id == site_id,
        PhotoUpload.sha256 == Photo.sha256,
        PhotoUpload.device_id == device_id,
        PhotoUpload.state == COMPLETE,
    )
    kept = exists().where(PhotoBlob.site_id == site_id, PhotoBlob.sha256 == Photo.sha256)
    named = select(Photo.id).where(
        Photo.site_id == site_id, Photo.id == photo_id, Photo.made_on_device == device_id, kept, ~sent
    )
    return db.session.scalars(named).one_or_none() is not None


def photos_previewed_by(site_id: str, sha256: str) -> list[str]:
    """Return the photo rows of the site that name these bytes as their preview."""
    return list(db.session.connection().scalars(_PREVIEWED_BY, {"b_site": site_id, "b_sha256": sha256}))


def bytes_of_photo(site_id: str, photo_id: str) -> tuple[str, str | None] | None:
    """Return which bytes a photo row names, the original's and the preview's; None if there is no such row."""
    named = select(Photo.sha256, Photo.preview).where(
        Photo.site_id == site_id, Photo.id == photo_id, Photo.deleted.is_(False)
    )
    found = db.session.execute(named).one_or_none()
    return (found.sha256, found.preview) if found else None


def news_for_photos(site_id: str, sha256: str | None = None) -> list[tuple[str, Blob]]:
    """Return the photo rows (all, or of these bytes) that do not know the outcome for their bytes yet, each with that outcome."""
    asked = {"b_site": site_id} if sha256 is None else {"b_site": site_id, "b_sha256": sha256}
    found = db.session.connection().execute(_NEWS if sha256 is None else _NEWS_OF_BYTES, asked)
    return [(one.photo_id, _blob(one)) for one in found]


def _blob(found: PhotoBlob | SqlRow[Any]) -> Blob:
    facts = found.file_facts if isinstance(found.file_facts, dict) else {}
    return Blob(
        found.length,
        found.decided_at,
        facts,
        found.media_type,
        found.width_px,
        found.height_px,
        found.refusal,
    )


def _bound(key: UploadKey) -> dict[str, str]:
    return {"b_site": key.site_id, "b_sha256": key.sha256, "b_device": key.device_id}


# Written out once: each chunk asks them, and putting them together anew would take longer than the answer.
_OF_UPLOAD = (
    PhotoUpload.site_id == bindparam("b_site"),
    PhotoUpload.sha256 == bindparam("b_sha256"),
    PhotoUpload.device_id == bindparam("b_device"),
)
_UPLOAD = select(PhotoUpload.length, PhotoUpload.state, PhotoUpload.began_at, PhotoUpload.refusal).where(*_OF_UPLOAD)
_FORGET_UPLOAD = delete(PhotoUpload.__table__).where(*_OF_UPLOAD)  # type: ignore[arg-type]
_OF_BLOB = (PhotoBlob.site_id == bindparam("b_site"), PhotoBlob.sha256 == bindparam("b_sha256"))
_BLOB = select(PhotoBlob.__table__).where(*_OF_BLOB)
_PREVIEWED_BY = (
    select(Photo.id)
    .where(Photo.site_id == bindparam("b_site"), Photo.preview == bindparam("b_sha256"), Photo.deleted.is_(False))
    .order_by(Photo.id)
)
_NEWS = (
    select(Photo.id.label("photo_id"), PhotoBlob.__table__)
    .join(PhotoBlob, and_(PhotoBlob.site_id == Photo.site_id, PhotoBlob.sha256 == Photo.sha256))
    .where(
        Photo.site_id == bindparam("b_site"),
        Photo.deleted.is_(False),
        or_(Photo.stored.is_(None), Photo.stored.is_(False)),
        # A refusal is told once: `stored` stays false afterwards, `file_facts` is then no longer empty.
        or_(PhotoBlob.refusal.is_(None), Photo.file_facts.is_(None)),
    )
    .order_by(Photo.id)
)
_NEWS_OF_BYTES = _NEWS.where(Photo.sha256 == bindparam("b_sha256"))
_FORGET_BLOB = delete(PhotoBlob.__table__).where(*_OF_BLOB)  # type: ignore[arg-type]
