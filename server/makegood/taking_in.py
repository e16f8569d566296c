"""Take in a whole bundle where no keeper's phone is at hand: each site's share under whoever may answer for it.

A share nobody may answer for stays in the file, untouched: the server keeps the answer to an op for good, so one that
was sent and refused could never be taken in later.
"""

import zipfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import datetime

from makegood.domain.row import is_uuid
from makegood.domain.step import is_same_name
from makegood.errors import MakegoodError, NotFound
from makegood.store import device as devices
from makegood.store.clock import is_started
from makegood.store.device import Device, Place
from makegood.store.photo_bytes import PhotoBytes
from makegood.store.photo_uploads import UploadKey
from makegood.work.receive_changes import Result, receive_changes
from makegood.work.take_in_bundle import (
    Bundle,
    BundledPhoto,
    author_of,
    entered_as_own,
    read_photo,
    upload_key,
)
from makegood.work.take_in_photo import MAX_CHUNK_BYTES, begin_upload, settle_photos, take_chunk

_OPS_AT_ONCE = 200
_STRANGER = "The phone that saved this was never enrolled here"


@dataclass(frozen=True)
class Voucher:
    """Who answers for one site's share: `author` of its changes, `sender` of its photos, `own` where a keeper enters it."""

    author: Device
    sender: Device
    own: bool


@dataclass
class TakenIn:
    """What became of a file; `refused` holds a sentence for each change, photo or share that was not taken in."""

    changes: int = 0
    photos: int = 0
    own_work_of: str | None = None
    refused: list[str] = field(default_factory=list)


def take_in_file(
    opened: tuple[Bundle, zipfile.ZipFile], as_own: str | None, photo_bytes: PhotoBytes, now: datetime
) -> TakenIn:
    """Take in what can be; `as_own` names the keeper who enters as their own what its phone may not send any more.

    Raises NotFound `author_unknown` where nobody may answer for any of it: then nothing was taken in.
    """
    bundle, archive = opened
    vouchers, left = _vouchers(bundle, as_own)
    if left and not vouchers:
        raise NotFound("author_unknown", " ".join(left))
    taken = TakenIn(refused=left)
    for results in _changes(bundle, vouchers, now):
        taken.changes += len(results)
        taken.refused += [f"{one.code}: {one.say}" for one in results if one.st == "rejected"]
    for photo in bundle.photos:
        if voucher := vouchers.get(photo.site_id):
            trouble = _photo(archive, photo, voucher.sender, photo_bytes, now)
            taken.refused += trouble
            taken.photos += not trouble
    for site_id in vouchers:
        settle_photos(site_id)
    taken.own_work_of = next((one.author.person for one in vouchers.values() if one.own), None)
    return taken


def _site_of(op: object) -> str:
    site = op.get("site") if isinstance(op, dict) else None
    return str(site) if is_uuid(site) else ""


def _vouchers(bundle: Bundle, as_own: str | None) -> tuple[dict[str, Voucher], list[str]]:
    """Return who answers for each site's share, and a sentence for each share that must stay in the file."""
    phone = devices.device(bundle.device_id)
    found: dict[str, Voucher] = {}
    left: list[str] = []
    for site_id in sorted({*map(_site_of, bundle.ops), *(photo.site_id for photo in bundle.photos)}):
        keeper = _keeper(site_id, as_own)
        if phone and site_id in phone.grants:
            author = author_of(phone.id)
            found[site_id] = Voucher(author, author, own=False)
        elif keeper:
            found[site_id] = Voucher(entered_as_own(keeper, bundle.device_id), keeper, own=True)
        else:
            left.append(f"{_share(bundle, site_id)} stay in the file. {_why(phone, site_id, as_own)}")
    return found, left


def _keepers(site_id: str) -> list[Place]:
    return [one for one in devices.devices_of(site_id) if one.role == "keeper"]


def _keeper(site_id: str, name: str | None) -> Device | None:
    """Return the phone of this name that keeps the site, of several the one seen last."""
    if name is None:
        return None
    named = [one for one in _keepers(site_id) if is_same_name(one.person, name)]
    latest = max(named, key=lambda one: (one.seen_at, one.device_id), default=None)
    return devices.device(latest.device_id) if latest else None


def _share(bundle: Bundle, site_id: str) -> str:
    changes = sum(_site_of(op) == site_id for op in bundle.ops)
    photos = sum(photo.site_id == site_id for photo in bundle.photos)
    return f"Changes: {changes}, photos: {photos}, of the site {site_id or 'that is not named'}:"


def _why(phone: Device | None, site_id: str, as_own: str | None) -> str:
    if not site_id:
        return "A change must say which site it belongs to. Ask for the file to be saved again."
    if not is_started(site_id):
        return "That site was never sent to this server. Let a phone that has it send it first."
    names = ", ".join(dict.fromkeys(one.person for one in _keepers(site_id)))
    if not names:
        return "Nobody keeps that site now. Let a keeper in with `makegood invite` first."
    if as_own is not None:
        return f"{as_own} does not keep that site. It is kept by {names}: give one of these names with --as-own."
    whose = f"{phone.person}'s phone has no part in that site any more" if phone else _STRANGER
    return f"{whose}. If its keeper vouches for it, enter it as their own work: add --as-own and the name ({names})."


def _changes(bundle: Bundle, vouchers: Mapping[str, Voucher], now: datetime) -> Iterator[list[Result]]:
    """Yield the answers, some hundred at a time; within a site in the order of the file."""
    for site_id, voucher in vouchers.items():
        ops = [op for op in bundle.ops if _site_of(op) == site_id]
        for start in range(0, len(ops), _OPS_AT_ONCE):
            yield receive_changes(voucher.author, ops[start : start + _OPS_AT_ONCE], now)


def _photo(
    archive: zipfile.ZipFile, photo: BundledPhoto, sender: Device, photo_bytes: PhotoBytes, now: datetime
) -> list[str]:
    """Take in one photo; return why not, if so."""
    try:
        _send(read_photo(archive, photo), upload_key(sender, photo), photo_bytes, now)
    except (MakegoodError, ValueError) as error:
        return [f"photo {photo.sha256}: {error}"]
    return []


def _send(content: bytes, key: UploadKey, photo_bytes: PhotoBytes, now: datetime) -> None:
    progress, wanted = begin_upload(key, len(content), photo_bytes, now)
    while wanted and not progress.complete:
        chunk = content[progress.offset : progress.offset + MAX_CHUNK_BYTES]
        progress = take_chunk(key, progress.offset, chunk, photo_bytes, now)
