"""The photos as they were taken, in one zip with a manifest of SHA-256, written piece by piece."""

import hashlib
import json
from collections.abc import Callable, Iterable
from datetime import datetime
from typing import Any, BinaryIO
from zipfile import ZIP_DEFLATED, ZIP_STORED, ZipFile, ZipInfo

from makegood.domain.repair.known import Plain
from makegood.papers.ask import Progress

# Gives the bytes of an original; raises FileNotFoundError where it is not here.
OpenOriginal = Callable[[Plain], BinaryIO]
ENDINGS = {"image/jpeg": "jpg", "image/png": "png", "image/heic": "heic"}
_PIECE = 1 << 20


def write_originals(out: BinaryIO, photos: Iterable[Plain], opened: OpenOriginal, progress: Progress) -> None:
    """Write each original once under its photo's id; the manifest names hash, size and what the row says of each."""
    wanted = list(photos)
    told: list[dict[str, Any]] = []
    missing: list[str] = []
    with ZipFile(out, "w", ZIP_STORED, allowZip64=True) as archive:
        for n, photo in enumerate(wanted):
            progress(n, len(wanted))
            try:
                with opened(photo) as content:
                    told.append(_add(archive, photo, content))
            except FileNotFoundError:
                missing.append(photo["id"])
        manifest = {"v": 1, "photos": told, "not_here": missing}
        archive.writestr("manifest.json", json.dumps(manifest, ensure_ascii=False, indent=1), ZIP_DEFLATED)


def _add(archive: ZipFile, photo: Plain, content: BinaryIO) -> dict[str, Any]:
    when = datetime.fromisoformat(photo.get("taken_at") or photo["made_at"])
    name = f"photos/{when:%Y-%m-%d} {photo['id']}.{ENDINGS[photo['media_type']]}"
    entry = ZipInfo(name, (max(when.year, 1980), when.month, when.day, when.hour, when.minute, when.second))
    digest, size = hashlib.sha256(), 0
    with archive.open(entry, "w", force_zip64=True) as packed:
        while piece := content.read(_PIECE):
            digest.update(piece)
            size += len(piece)
            packed.write(piece)
    kept = ("id", "of_type", "of_id", "taken_at", "lat", "lon", "accuracy_m", "heading_deg", "made_by", "media_type")
    return {"file": name, "sha256": digest.hexdigest(), "bytes": size, **{key: photo.get(key) for key in kept}}
