"""What a phone saved to a file for the keeper: reading it, and whose work it is.

A bundle is a zip of `ops.json` {"v": 1, "device", "person", "ops": [...], "photos": [{"site", "sha256", "length"}]}
and `blobs/<sha256>`. Nothing in it is believed: its ops pass the same checks as any push, under the role its phone
has now, and its bytes must add up to their names. What is taken in counts as that phone's own work, so its later
edits do not clash with themselves; the ops keep their ids, so that bringing them twice, or sending them as well,
changes nothing. A file proves nobody's name: a keeper, or whoever runs the server, vouches for it. A phone that has
no part any more can be vouched for only as the keeper's own work.
"""

import json
import zipfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from makegood.domain.roles import may
from makegood.domain.row import is_uuid
from makegood.errors import BadInput, NotAllowed, NotFound
from makegood.store import device as devices
from makegood.store.device import Device
from makegood.store.photo_uploads import UploadKey
from makegood.work.picture import MAX_BYTES

_OPS = "ops.json"
_MAX_OPS_BYTES = 64 * 1024 * 1024
_SPOKEN = 1


@dataclass(frozen=True)
class BundledPhoto:
    """The bytes of one photo in a bundle, not read yet."""

    site_id: str
    sha256: str
    name: str


@dataclass(frozen=True)
class Bundle:
    """What a bundle says it holds; `device_id` is the phone it comes from."""

    device_id: str
    person: str
    ops: list[Any]
    photos: list[BundledPhoto]


@contextmanager
def open_bundle(file: Path) -> Iterator[tuple[Bundle, zipfile.ZipFile]]:
    """Open a bundle for reading; raises BadInput with bundle_unreadable."""
    try:
        with zipfile.ZipFile(file) as archive:
            yield _read(archive), archive
    except FileNotFoundError as error:
        raise _unreadable("there is no such file") from error
    except (zipfile.BadZipFile, NotImplementedError, EOFError, RuntimeError) as error:
        raise _unreadable("it is damaged or another kind of file") from error


def _read(archive: zipfile.ZipFile) -> Bundle:
    told = _told(archive)
    if told.get("v") != _SPOKEN or not is_uuid(told.get("device")) or not isinstance(told.get("ops"), list):
        raise _unreadable("it does not say which phone it comes from, or was made by another version")
    listed = told.get("photos") if isinstance(told.get("photos"), list) else []
    names = set(archive.namelist())
    photos = [_photo(one) for one in listed or []]
    there = [photo for photo in photos if photo and photo.name in names]
    return Bundle(str(told["device"]), str(told.get("person", "")), told["ops"], there)


def _told(archive: zipfile.ZipFile) -> dict[str, Any]:
    if _OPS not in archive.namelist() or archive.getinfo(_OPS).file_size > _MAX_OPS_BYTES:
        raise _unreadable("it holds no list of changes, or far too long a one")
    try:
        told = json.loads(archive.read(_OPS))
    except (ValueError, RecursionError) as error:
        raise _unreadable("its list of changes cannot be read") from error
    return told if isinstance(told, dict) else {}


def _photo(one: object) -> BundledPhoto | None:
    if not isinstance(one, dict) or not is_uuid(one.get("site")) or not isinstance(one.get("sha256"), str):
        return None
    return BundledPhoto(one["site"], one["sha256"], f"blobs/{one['sha256']}")


def read_photo(archive: zipfile.ZipFile, photo: BundledPhoto) -> bytes:
    """Return the bytes of a photo; raises BadInput for what unpacks to more than any photo has."""
    with archive.open(photo.name) as content:
        found = content.read(MAX_BYTES + 1)
    if len(found) > MAX_BYTES:
        raise BadInput(
            "photo_too_large", "This photo is larger than 25 MB. Make it smaller and add it again."
        )
    return found


def _unreadable(why: str) -> BadInput:
    return BadInput(
        "bundle_unreadable", f"This file cannot be taken in: {why}. Ask for it to be saved again."
    )


def author_of(device_id: str) -> Device:
    """Return the phone whose work a bundle is; raises NotFound. It founds no site this way."""
    author = devices.device(device_id)
    if author is None:
        raise NotFound(
            "author_unknown",
            "The phone that saved this was never enrolled here. Enter it under your own name.",
        )
    return replace(author, may_found=False)


def author_vouched_for(keeper: Device, device_id: str, ops: Sequence[object], *, as_own: bool = False) -> Device:
    """Return the phone a keeper brings ops of; every one of them must be on a site that keeper keeps.

    A phone that was taken out of all these sites can do nothing there any more: raises NotFound, as for a stranger's,
    unless the keeper enters it as their own.
    """
    sites = {one.get("site") for one in ops if isinstance(one, dict)}
    if any(keeper.grants.get(str(site)) != "keeper" for site in sites):
        raise NotAllowed("not_allowed", "Only the keeper of a site can take in what others saved for it.")
    if as_own:
        return entered_as_own(keeper, device_id)
    author = author_of(device_id)
    if sites and not any(str(site) in author.grants for site in sites):
        raise NotFound(
            "author_unknown",
            f"{author.person}'s phone has no part in this site any more. Enter it under your own name.",
        )
    return author


def entered_as_own(keeper: Device, device_id: str) -> Device:
    """Return who answers for a phone's work that a keeper enters as their own: their name, their role, the phone's id.

    Under the keeper's own id it would quietly overwrite what they changed themselves meanwhile, instead of clashing.
    """
    return replace(keeper, id=device_id, may_found=False)


def upload_key(author: Device, photo: BundledPhoto) -> UploadKey:
    """Return what a photo is taken in under; raises NotAllowed if its phone may not add photos there."""
    if not may(author.grants.get(photo.site_id), "make", "photo"):
        raise NotAllowed(
            "not_allowed", f"{author.person} has no part in that site that lets photos be added."
        )
    return UploadKey(photo.site_id, photo.sha256, author.id)
