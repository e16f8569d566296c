"""Bring a backup back: its photos verified one by one, its database under a new epoch."""

from pathlib import Path

from makegood.store.backup import Carried, carry_photos, kept_photos
from makegood.store.clock import new_epoch
from makegood.store.database import writing
from makegood.store.photo_bytes import FolderPhotoBytes, PhotoBytes


def restore_photos(file: Path, photos: Path, target: PhotoBytes) -> Carried:
    """Bring back the photos of a backup; those that cannot be are told, and the rest comes all the same."""
    return carry_photos(kept_photos(file), FolderPhotoBytes(photos), target)


def begin_anew() -> str:
    """Give the restored database a new epoch, so that phones fetch everything again and send what it lacks."""
    with writing():
        return new_epoch()
