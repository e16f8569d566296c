"""The small copies of photos: made when somebody first asks for one, not while a phone waits to hear that its photo is kept."""

from contextlib import suppress
from io import BytesIO
from typing import BinaryIO

from makegood.errors import StorageFull, Unavailable
from makegood.store.photo_bytes import PhotoBytes
from makegood.work.camera_file import read_orientation
from makegood.work.picture import decoding, make_copies, read_header


def open_copy(site_id: str, sha256: str, size_px: int, photo_bytes: PhotoBytes) -> BinaryIO:
    """Open a copy of COPY_SIZES_PX, made now if need be.

    FileNotFoundError if the original is not kept; a refusal if it is no longer a picture.
    """
    with suppress(FileNotFoundError):
        return photo_bytes.open_copy(site_id, sha256, size_px)
    with photo_bytes.locked(site_id, sha256):
        with suppress(FileNotFoundError):  # made by another thread meanwhile
            return photo_bytes.open_copy(site_id, sha256, size_px)
        copies = _made(site_id, sha256, photo_bytes)
        with suppress(StorageFull, Unavailable):  # a full disk shows the photo all the same
            photo_bytes.keep_copies(site_id, sha256, copies)
    return BytesIO(copies[size_px])


def _made(site_id: str, sha256: str, photo_bytes: PhotoBytes) -> dict[int, bytes]:
    with photo_bytes.open_original(site_id, sha256) as content:
        header = read_header(content)
        turned = read_orientation(header.exif, header.media_type)
        with decoding():
            return make_copies(content, header.media_type, turned)
