"""Taking in a photo: bytes arrive in chunks; once complete they are verified, looked at and kept.

Two things meet here in either order, the photo row (by sync) and its bytes. `settle_photos` brings them
together. It runs after the bytes are decided and must run after a push, each time in a transaction of its
own: so whichever of two simultaneous requests commits last sees the other.
"""

from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from makegood.domain.row import Key, Row, read_instant, write_instant
from makegood.errors import (
    Conflict,
    Gone,
    HashMismatch,
    MakegoodError,
    NotFound,
    StorageFull,
    TooLarge,
    Unavailable,
)
from makegood.store import photo_uploads as uploads
from makegood.store.change import note_changes
from makegood.store.clock import advance
from makegood.store.database import writing
from makegood.store.people.coverage import scope_if_limited
from makegood.store.photo_bytes import PhotoBytes, sha256_of_bytes
from makegood.store.photo_uploads import Blob, Upload, UploadKey
from makegood.store.row import fetch, save
from makegood.work.camera_file import FileFacts, read_camera_file
from makegood.work.picture import (
    MAX_BYTES,
    check_preview,
    check_whole,
    decoding,
    read_header,
    refusal,
    upright_size,
)

MAX_CHUNK_BYTES = 1024 * 1024
UPLOAD_AGE = timedelta(days=7)


@dataclass(frozen=True)
class Progress:
    """How far an upload is, in bytes."""

    offset: int
    length: int
    complete: bool


def look_up_upload(key: UploadKey, photo_bytes: PhotoBytes, now: datetime) -> Progress:
    """Return how far this device's upload is; complete for whoever may see the photo already."""
    kept = _kept_in_sight(key)
    if kept is not None:
        return kept
    upload = _live_upload(key, photo_bytes, now)
    if upload is None:
        raise _unknown()
    return _progress(key, upload, photo_bytes)


def begin_upload(
    key: UploadKey, length: int, photo_bytes: PhotoBytes, now: datetime, first: bytes = b""
) -> tuple[Progress, bool]:
    """Begin an upload or take up one under way; return its progress and whether bytes were wanted when it was asked.

    `first` is its first chunk; if other bytes arrived before, the progress says from where to go on instead.
    """
    _check_chunk(first)
    if length > MAX_BYTES:
        raise refusal("photo_too_large")
    photo_bytes.drop_idle(key.site_id, now - UPLOAD_AGE)
    with photo_bytes.locked(key.site_id, key.sha256):
        kept = _kept_in_sight(key)
        if kept is not None:
            return kept, False
        upload = _live_upload(key, photo_bytes, now)
        if upload is not None and upload.refusal:
            raise refusal(upload.refusal)
        if upload is None or upload.length != length:
            photo_bytes.drop_received(key)
            upload = Upload(length, uploads.RECEIVING, write_instant(now))
            if len(first) < length:  # else it is noted together with its outcome
                with writing():
                    uploads.set_upload(key, upload)
        progress = _progress(key, upload, photo_bytes)
        wanted = not progress.complete
        if first and wanted and progress.offset == 0:
            progress = _add(key, upload, first, photo_bytes, now)
        return progress, wanted


def take_chunk(key: UploadKey, offset: int, chunk: bytes, photo_bytes: PhotoBytes, now: datetime) -> Progress:
    """Add a chunk; the last one has the photo verified and kept, or refused with the reason.

    An empty chunk at the end finishes an upload whose last chunk arrived but was not answered.
    """
    _check_chunk(chunk)
    with photo_bytes.locked(key.site_id, key.sha256):
        upload = _upload_to_continue(key, photo_bytes, now)
        before = _progress(key, upload, photo_bytes)
        if offset != before.offset:
            at = str(before.offset)
            raise Conflict("wrong_offset", f"Go on from byte {at}.", {"offset": at})
        if before.complete:
            settle_photos(key.site_id, key.sha256)  # in case the server died before it could
            return before
        return _add(key, upload, chunk, photo_bytes, now)


def _check_chunk(chunk: bytes) -> None:
    if len(chunk) > MAX_CHUNK_BYTES:
        raise TooLarge("chunk_too_large", "Send at most 1 MiB at a time.")


def _add(key: UploadKey, upload: Upload, chunk: bytes, photo_bytes: PhotoBytes, now: datetime) -> Progress:
    """Add a chunk to what has arrived; with the last one, finish."""
    if photo_bytes.received(key) + len(chunk) > upload.length:
        raise TooLarge("chunk_past_end", "More bytes came than were announced. Begin this photo again.")
    received = photo_bytes.append(key, chunk)
    if received < upload.length:
        return Progress(received, upload.length, complete=False)
    _finish(key, upload, photo_bytes, now)
    return Progress(received, upload.length, complete=True)


def settle_photos(site_id: str, sha256: str | None = None) -> int:
    """Tell the photo rows of a site (or of these bytes) the outcome for their bytes, for phones to learn; return how many."""
    if not uploads.news_for_photos(site_id, sha256):
        return 0
    with writing():
        return _settle(site_id, sha256)


def _settle(site_id: str, sha256: str | None) -> int:
    news = {Key("photo", site_id, photo_id): blob for photo_id, blob in uploads.news_for_photos(site_id, sha256)}
    rows = [_told(row, news[key]) for key, row in fetch(news, for_update=True).items()]
    _move_on(rows)
    return len(rows)


def _told(row: Row, blob: Blob) -> Row:
    outcome = {
        "stored": blob.refusal is None,
        "width_px": blob.width_px,
        "height_px": blob.height_px,
        "file_facts": blob.file_facts,
    }
    return replace(row, fields={**row.fields, **outcome})


def _unknown() -> NotFound:
    return NotFound("upload_unknown", "This photo was not begun yet. Begin sending it.")


def _live_upload(key: UploadKey, photo_bytes: PhotoBytes, now: datetime) -> Upload | None:
    """Return this device's upload unless it is too old to go on with."""
    upload = uploads.find_upload(key)
    return None if upload is None or _is_too_old(key, upload, photo_bytes, now) else upload


def _is_too_old(key: UploadKey, upload: Upload, photo_bytes: PhotoBytes, now: datetime) -> bool:
    if upload.state == uploads.COMPLETE:
        return False
    last = photo_bytes.touched_at(key) or read_instant(upload.began_at)
    return last is not None and now - last > UPLOAD_AGE


def _upload_to_continue(key: UploadKey, photo_bytes: PhotoBytes, now: datetime) -> Upload:
    upload = uploads.find_upload(key)
    if upload is None:
        raise _unknown()
    if _is_too_old(key, upload, photo_bytes, now):
        photo_bytes.drop_received(key)
        raise Gone("upload_expired", "This upload was left for more than 7 days. Begin this photo again.")
    if upload.refusal:
        raise refusal(upload.refusal)
    return upload


def _progress(key: UploadKey, upload: Upload, photo_bytes: PhotoBytes) -> Progress:
    if upload.state == uploads.COMPLETE:
        return Progress(upload.length, upload.length, complete=True)
    return Progress(photo_bytes.received(key), upload.length, complete=False)


def _kept_in_sight(key: UploadKey) -> Progress | None:
    """Return the kept photo if a photo row in the device's sight names it: a hash alone must not tell of others."""
    blob = uploads.find_blob(key.site_id, key.sha256)
    if blob is None or blob.refusal:
        return None
    naming = uploads.photos_naming(key.site_id, key.sha256)
    scope = scope_if_limited(key.site_id, key.device_id) if naming else None
    in_sight = [
        scope is None or (maker != key.device_id and scope.holds(Key("photo", key.site_id, photo_id)))
        for photo_id, maker in naming.items()
    ]
    if not any(in_sight):
        return None
    return Progress(blob.length, blob.length, complete=True)


def _finish(key: UploadKey, upload: Upload, photo_bytes: PhotoBytes, now: datetime) -> None:
    with photo_bytes.open_received(key) as content:
        arrived = sha256_of_bytes(content)
    if arrived != key.sha256:
        photo_bytes.drop_received(key)
        raise HashMismatch(
            "hash_mismatch", "This photo was damaged on its way. Send it again from the start."
        )
    known = uploads.find_blob(key.site_id, key.sha256)
    if known and not known.refusal:
        photo_bytes.drop_received(key)  # another device sent the same bytes before
        _note(key, replace(upload, state=uploads.COMPLETE), known)
        return
    try:
        blob = _look_and_keep(key, upload, photo_bytes, now)
    except (StorageFull, Unavailable):
        raise  # the photo is not to blame: what has arrived stays, and an empty chunk later finishes it
    except MakegoodError as error:
        photo_bytes.drop_received(key)
        facts = FileFacts(doubtful=("picture",)).as_json()
        refused = Blob(upload.length, write_instant(now), facts, refusal=error.code)
        _note(key, replace(upload, state=uploads.REFUSED, refusal=error.code), refused)
        raise
    _note(key, replace(upload, state=uploads.COMPLETE), blob)


def _look_and_keep(key: UploadKey, upload: Upload, photo_bytes: PhotoBytes, now: datetime) -> Blob:
    with photo_bytes.open_received(key) as content:
        header = read_header(content)
        if _is_preview_only(key):
            check_preview(header, upload.length)
        facts = read_camera_file(header.exif, header.media_type, now.date())
        with decoding():
            check_whole(content, header.media_type)
    # Bytes first, then the tables: a crash between the two costs a second upload, never a photo.
    photo_bytes.keep(key)
    width_px, height_px = upright_size(header, facts.orientation)
    return Blob(upload.length, write_instant(now), facts.as_json(), header.media_type, width_px, height_px)


def _is_preview_only(key: UploadKey) -> bool:
    previewed = uploads.photos_previewed_by(key.site_id, key.sha256)
    return bool(previewed) and not uploads.photos_naming(key.site_id, key.sha256)


def _note(key: UploadKey, upload: Upload, blob: Blob) -> None:
    with writing():
        uploads.set_upload(key, upload)
        uploads.set_blob(key.site_id, key.sha256, blob)
        _settle(key.site_id, key.sha256)
    # Once more for a row that a push committed meanwhile; where writers wait for each other there is none.
    settle_photos(key.site_id, key.sha256)
    if blob.refusal is None:
        _tell_of_preview(key)


def _tell_of_preview(key: UploadKey) -> None:
    """Send the rows of this preview to the phones once more: there is something to show of them now."""
    previewed = uploads.photos_previewed_by(key.site_id, key.sha256)
    if not previewed:
        return
    with writing():
        keys = [Key("photo", key.site_id, photo_id) for photo_id in previewed]
        _move_on([row for row in fetch(keys, for_update=True).values() if not row.fields["stored"]])


def _move_on(rows: list[Row]) -> None:
    """Write rows under new revisions of their site, for phones to learn."""
    if not rows:
        return
    rev, _, _ = advance(rows[0].site_id, len(rows), 0, 0)
    rows = [replace(row, rev=rev + n) for n, row in enumerate(rows)]
    known = {row.key for row in rows}
    save(rows, known)
    note_changes(rows, known)
