"""Photo bytes: sent in chunks that survive a lost signal, given back in three sizes.

The chunks follow the small subset of the tus 1.0 protocol that DEVELOPERS.md 3.3 names. A hash opens nothing:
every answer depends on what this device sent itself or may see on the site.
"""

import re
from typing import Any, BinaryIO

from flask import current_app, request, send_file
from flask.typing import ResponseReturnValue
from marshmallow import EXCLUDE, Schema, fields, validate

from makegood.api.guard import StrictBlueprint, current_device, now
from makegood.api.schemas import RefusalSchema
from makegood.domain.roles import may, sees_originals, visible_types
from makegood.domain.row import Key, is_uuid
from makegood.errors import Conflict, NotAllowed, NotFound, TooLarge, WrongKind
from makegood.store.people.coverage import scope_if_limited
from makegood.store.photo_bytes import PhotoBytes
from makegood.store.photo_uploads import Blob, UploadKey, bytes_of_photo, find_blob, is_named_unseen
from makegood.work.photo_copies import open_copy
from makegood.work.picture import is_small_jpeg
from makegood.work.take_in_photo import MAX_CHUNK_BYTES, Progress, begin_upload, look_up_upload, take_chunk

_CHUNK_TYPE = "application/offset+octet-stream"
_SHA256 = re.compile(r"[0-9a-f]{64}")
_COPY_SIZES = {"400": 400, "1600": 1600}
_ENDINGS = {"image/jpeg": "jpg", "image/png": "png", "image/heic": "heic"}
_INTEGER = {"type": "integer", "minimum": 0}
_HEADERS = {
    "Upload-Offset": {"schema": _INTEGER, "description": "bytes that have arrived"},
    "Upload-Length": {"schema": _INTEGER, "description": "bytes in all"},
    "Upload-Complete": {"schema": {"type": "string", "enum": ["?0", "?1"]}},
}
_CHUNK_CONTENT = {_CHUNK_TYPE: {"schema": {"type": "string", "format": "binary"}}}
_REFUSED = {
    401: "this device is not enrolled",
    403: "its role may not do this, or X-CSRF is wrong",
    404: "nothing here that this device may see",
    413: "too large",
    415: "not a JPEG, PNG or HEIC photo, or the wrong Content-Type",
    422: "a damaged picture, or a value that cannot be used",
}

blueprint = StrictBlueprint("photos", __name__, url_prefix="/api", description=__doc__)


class LengthSchema(Schema):
    """How long a photo is."""

    length = fields.Integer(required=True, validate=validate.Range(min=1))


class OffsetSchema(Schema):
    """Where a chunk belongs."""

    class Meta:
        """A request has many other headers."""

        unknown = EXCLUDE

    offset = fields.Integer(required=True, data_key="Upload-Offset", validate=validate.Range(min=0))


def _refuses(*statuses: int, **more: str) -> Any:
    """Document the refusals of a view."""
    told = {
        **{status: _REFUSED[status] for status in statuses},
        **{int(n[1:]): text for n, text in more.items()},
    }

    def document(view: Any) -> Any:
        for status, text in told.items():
            view = blueprint.alt_response(status, schema=RefusalSchema, description=text)(view)
        return view

    return document


def _photo_bytes() -> PhotoBytes:
    found: PhotoBytes = current_app.config["PHOTO_BYTES"]
    return found


def _role_on(site_id: str) -> str:
    role = current_device().grants.get(site_id)
    if role is None or "photo" not in visible_types(role):
        raise _nothing_here()
    return role


def _sees(site_id: str, photo_id: str) -> bool:
    here = current_device().id
    scope = scope_if_limited(site_id, here)
    if scope is None:
        return True
    # A row of one's own that names a photo others sent opens nothing: only who sends the bytes has shown to have them.
    return scope.holds(Key("photo", site_id, photo_id)) and not is_named_unseen(site_id, photo_id, here)


def _nothing_here() -> NotFound:
    return NotFound("photo_unknown", "There is no such photo in what this device may see.")


def _upload_key(site_id: str, sha256: str) -> UploadKey:
    _role_on(site_id)
    if not _SHA256.fullmatch(sha256):
        raise _nothing_here()
    return UploadKey(site_id, sha256, current_device().id)


def _key_to_send(site_id: str, sha256: str) -> UploadKey:
    key = _upload_key(site_id, sha256)
    if not may(_role_on(site_id), "make", "photo"):
        raise NotAllowed("not_allowed", "Your role on this site may look, but not add photos.")
    return key


def _told(progress: Progress) -> dict[str, str]:
    complete = "?1" if progress.complete else "?0"
    return {
        "Upload-Offset": str(progress.offset),
        "Upload-Length": str(progress.length),
        "Upload-Complete": complete,
    }


def _chunk() -> bytes:
    if request.mimetype != _CHUNK_TYPE:
        raise WrongKind("offset_type_expected", f"Send photo bytes as {_CHUNK_TYPE}.")
    # A request that names no length has no body: the empty chunk that finishes an upload. A stream names none either.
    streamed = request.content_length is None and "Transfer-Encoding" in request.headers
    if streamed or (request.content_length or 0) > MAX_CHUNK_BYTES:
        raise TooLarge("chunk_too_large", "Send at most 1 MiB at a time, and say how much it is.")
    request.max_content_length = MAX_CHUNK_BYTES
    return request.get_data(cache=False)


@blueprint.route("/blobs/<site_id>/<sha256>", methods=["HEAD"])
@_refuses(401, 404)
@blueprint.response(200, headers=_HEADERS)
def ask_upload(site_id: str, sha256: str) -> ResponseReturnValue:
    """How much of a photo has arrived."""
    return "", 200, _told(look_up_upload(_upload_key(site_id, sha256), _photo_bytes(), now()))


@blueprint.put("/blobs/<site_id>/<sha256>")
@_refuses(401, 403, 404, 413, 415, 422, _460="hash_mismatch")
@blueprint.alt_response(200, headers=_HEADERS, description="already complete")
@blueprint.arguments(LengthSchema, location="query")
@blueprint.doc(requestBody={"content": _CHUNK_CONTENT, "required": False})
@blueprint.response(201, headers=_HEADERS)
def begin(given: dict[str, int], site_id: str, sha256: str) -> ResponseReturnValue:
    """Begin to send a photo, its first chunk with it if wished, or take it up where it stopped."""
    key = _key_to_send(site_id, sha256)
    first = _chunk() if request.content_length or "Transfer-Encoding" in request.headers else b""
    progress, wanted = begin_upload(key, given["length"], _photo_bytes(), now(), first)
    return "", 201 if wanted else 200, _told(progress)


@blueprint.patch("/blobs/<site_id>/<sha256>")
@_refuses(
    401,
    403,
    404,
    413,
    415,
    422,
    _409="wrong_offset, the right one in Upload-Offset",
    _410="left for 7 days",
    _460="hash_mismatch",
)
@blueprint.arguments(OffsetSchema, location="headers")
@blueprint.doc(requestBody={"content": _CHUNK_CONTENT, "required": True})
@blueprint.response(204, headers=_HEADERS)
def send_chunk(given: dict[str, int], site_id: str, sha256: str) -> ResponseReturnValue:
    """Send the next chunk; the last one has the photo checked and kept."""
    key = _key_to_send(site_id, sha256)
    try:
        progress = take_chunk(key, given["offset"], _chunk(), _photo_bytes(), now())
    except Conflict as error:
        return error.as_json(), error.status, {"Upload-Offset": error.fields["offset"]}
    return "", 204, _told(progress)


@blueprint.get("/photos/<site_id>/<photo_id>/<size>")
@_refuses(401, 403, 404, 413, 415, 422)
@blueprint.response(200, content_type="image/jpeg", schema={"type": "string", "format": "binary"})
def photo(site_id: str, photo_id: str, size: str) -> ResponseReturnValue:
    """A photo: a copy of 400 or 1600 px without metadata, made when first asked for, or the original for roles that may have it.

    Until the original has arrived, 400 answers with the preview that its phone sent ahead.
    """
    role = _role_on(site_id)
    if size == "original" and not sees_originals(role):
        raise NotAllowed("originals_not_allowed", "Your role may see this photo, but not the original.")
    named = bytes_of_photo(site_id, photo_id) if is_uuid(photo_id) and _sees(site_id, photo_id) else None
    if named is None or size not in {"original", *_COPY_SIZES}:
        raise _nothing_here()
    sha256, blob = _best_there_is(site_id, *named, size)
    content, media_type = _opened(site_id, sha256, blob, size)
    return _sent(content, media_type, f"{photo_id}-{size}", f"{sha256}-{size}", lasting=sha256 == named[0])


def _best_there_is(site_id: str, sha256: str, preview: str | None, size: str) -> tuple[str, Blob]:
    blob = find_blob(site_id, sha256)
    if blob is not None and blob.media_type is not None:
        return sha256, blob
    ahead = find_blob(site_id, preview) if preview and size == "400" else None
    # Only what can be a preview: a row that names somebody's photo as its own preview opens nothing.
    if preview is None or ahead is None or not is_small_jpeg(ahead.media_type, ahead.width_px, ahead.height_px):
        raise NotFound("photo_not_stored", "This photo is not here yet; only the phone that took it has it.")
    return preview, ahead


def _opened(site_id: str, sha256: str, blob: Blob, size: str) -> tuple[BinaryIO, str]:
    media_type = blob.media_type or "image/jpeg"
    try:
        if size == "original":
            return _photo_bytes().open_original(site_id, sha256), media_type
        return open_copy(site_id, sha256, _COPY_SIZES[size], _photo_bytes()), "image/jpeg"
    except FileNotFoundError as error:
        raise NotFound("photo_lost", "This photo is gone from the photo folder. Tell the keeper.") from error


def _sent(content: BinaryIO, media_type: str, name: str, etag: str, *, lasting: bool) -> ResponseReturnValue:
    length = content.seek(0, 2)
    content.seek(0)
    file_name = f"photo-{name}.{_ENDINGS[media_type]}"
    response = send_file(content, mimetype=media_type, download_name=file_name, etag=etag)
    response.content_length = length
    response.headers["Content-Disposition"] = f'inline; filename="{file_name}"'
    # A preview gives way to the real copy at the same address.
    response.headers["Cache-Control"] = "private, max-age=31536000, immutable" if lasting else "private, no-cache"
    response.headers["Content-Security-Policy"] = "sandbox"
    response.headers["X-Content-Type-Options"] = "nosniff"
    return response.make_conditional(request)
