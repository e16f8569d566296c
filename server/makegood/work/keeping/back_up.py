"""Back up a site that is being served: the database as one file, each photo once, in a folder beside it."""

from pathlib import Path

from makegood.store.backup import Carried, carry_photos, kept_photos
from makegood.store.photo_bytes import FolderPhotoBytes, PhotoBytes


def photos_beside(file: Path) -> Path:
    """Return the folder of photos that belongs to a backup file."""
    return file.with_name(f"{file.name}.photos")


def back_up_photos(file: Path, source: PhotoBytes) -> Carried:
    """Copy the photos a backup file speaks of into the folder beside it, leaving out those that lie there.

    Call it after the file was written: bytes are kept before a database speaks of them, and never taken away.
    """
    return carry_photos(kept_photos(file), source, FolderPhotoBytes(photos_beside(file)))
