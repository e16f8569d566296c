"""Where photo bytes lie: uploads under way, originals kept untouched, and their copies.

`PhotoBytes` is what the rest of the server asks for; `FolderPhotoBytes` keeps one folder for each site, so
that a site's photos can be handed over or removed by themselves (a photo shown on two sites is kept twice):

    <site>/partial/<sha256>.<device>     what a device has sent so far
    <site>/blobs/ab/cd/<sha256>          the original
    <site>/copies/ab/cd/<sha256>-1600.jpg
"""

import errno
import hashlib
import os
import re
import threading
import time
from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager
from datetime import UTC, datetime
from io import RawIOBase
from pathlib import Path
from typing import BinaryIO, Protocol

from makegood.store.database import storage_full
from makegood.store.photo_uploads import UploadKey

try:
    import fcntl
except ImportError:  # Windows: the thread locks below serve there, which is enough for one server process
    fcntl = None  # type: ignore[assignment]

_LOCKS = 64
_FULL = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG)
_BLOCK_BYTES = 1024 * 1024
_THREAD_LOCKS = [threading.Lock() for _ in range(_LOCKS)]
_UUID = re.compile(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}")
_SHA256 = re.compile(r"[0-9a-f]{64}")


class PhotoBytes(Protocol):
    """A place for photo bytes. What was kept is never half there: it is complete or absent."""

    def locked(self, site_id: str, sha256: str) -> AbstractContextManager[None]:
        """Hold off everybody else who works on these bytes."""

    def received(self, key: UploadKey) -> int:
        """Return how many bytes of an upload have arrived."""

    def touched_at(self, key: UploadKey) -> datetime | None:
        """Return when the last bytes of an upload arrived; None if there are none."""

    def append(self, key: UploadKey, chunk: bytes) -> int:
        """Add bytes to an upload; return how many there are now."""

    def open_received(self, key: UploadKey) -> BinaryIO:
        """Open what has arrived for reading."""

    def drop_received(self, key: UploadKey) -> None:
        """Forget what has arrived."""

    def keep(self, key: UploadKey) -> None:
        """Keep a complete upload as the original; safe on disk on return."""

    def keep_copies(self, site_id: str, sha256: str, copies: dict[int, bytes]) -> None:
        """Keep copies of an original, by size [px]."""

    def open_original(self, site_id: str, sha256: str) -> BinaryIO:
        """Open an original; FileNotFoundError if it is not kept."""

    def open_copy(self, site_id: str, sha256: str, size_px: int) -> BinaryIO:
        """Open a copy; FileNotFoundError if it is not kept."""

    def drop_idle(self, site_id: str, since: datetime) -> int:
        """Forget uploads of a site that got no bytes since then; return how many."""


def sha256_of_bytes(content: BinaryIO) -> str:
    """Return the SHA-256 of a file in hex."""
    content.seek(0)
    digest = hashlib.sha256()
    while block := content.read(_BLOCK_BYTES):
        digest.update(block)
    return digest.hexdigest()


class FolderPhotoBytes:
    """PhotoBytes in a folder. Several server processes may share it where the system knows file locks."""

    def __init__(self, root: Path) -> None:
        self._root = root

    @contextmanager
    def locked(self, site_id: str, sha256: str) -> Iterator[None]:
        """Hold off everybody else who works on these bytes."""
        n = int(checked_sha256(sha256)[:4], 16) % _LOCKS
        with _THREAD_LOCKS[n], self._lock_file(n) as lock:
            if fcntl:
                fcntl.flock(lock, fcntl.LOCK_EX)  # let go when the file is closed
            yield

    def received(self, key: UploadKey) -> int:
        """Return how many bytes of an upload have arrived."""
        try:
            return self._partial(key).stat().st_size
        except FileNotFoundError:
            return 0

    def touched_at(self, key: UploadKey) -> datetime | None:
        """Return when the last bytes of an upload arrived; None if there are none."""
        try:
            return datetime.fromtimestamp(self._partial(key).stat().st_mtime, UTC)
        except FileNotFoundError:
            return None

    def append(self, key: UploadKey, chunk: bytes) -> int:
        """Add bytes to an upload; return how many there are now."""
        path = self._partial(key)
        with _told_if_full():
            path.parent.mkdir(parents=True, exist_ok=True)
            with open(path, "ab", buffering=0) as out:
                before = out.tell()
                try:
                    _write_all(out, chunk)
                except OSError:
                    out.truncate(before)
                    raise
                return out.tell()

    def open_received(self, key: UploadKey) -> BinaryIO:
        """Open what has arrived for reading."""
        return open(self._partial(key), "rb")

    def drop_received(self, key: UploadKey) -> None:
        """Forget what has arrived."""
        self._partial(key).unlink(missing_ok=True)

    def keep(self, key: UploadKey) -> None:
        """Keep a complete upload as the original; safe on disk on return."""
        with _told_if_full():
            _move_safely(self._partial(key), self._original(key.site_id, key.sha256))

    def keep_copies(self, site_id: str, sha256: str, copies: dict[int, bytes]) -> None:
        """Keep copies of an original, by size [px]."""
        with _told_if_full():
            for size_px, content in copies.items():
                _write_safely(self._copy(site_id, sha256, size_px), content)

    def open_original(self, site_id: str, sha256: str) -> BinaryIO:
        """Open an original; FileNotFoundError if it is not kept."""
        return open(self._original(site_id, sha256), "rb")

    def open_copy(self, site_id: str, sha256: str, size_px: int) -> BinaryIO:
        """Open a copy; FileNotFoundError if it is not kept."""
        return open(self._copy(site_id, sha256, size_px), "rb")

    def drop_idle(self, site_id: str, since: datetime) -> int:
        """Forget uploads of a site that got no bytes since then; return how many."""
        folder = self._site(site_id) / "partial"
        idle = [path for path in folder.glob("*.*") if _touched_s(path) < since.timestamp()]
        for path in idle:
            path.unlink(missing_ok=True)
        return len(idle)

    def _lock_file(self, n: int) -> BinaryIO:
        with _told_if_full():
            folder = self._root / "locks"
            folder.mkdir(parents=True, exist_ok=True)
            return open(folder / f"{n:02}", "ab")

    def _site(self, site_id: str) -> Path:
        return self._root / checked_uuid(site_id)

    def _partial(self, key: UploadKey) -> Path:
        name = f"{checked_sha256(key.sha256)}.{checked_uuid(key.device_id)}"
        return self._site(key.site_id) / "partial" / name

    def _original(self, site_id: str, sha256: str) -> Path:
        return self._site(site_id) / "blobs" / _branch(sha256) / sha256

    def _copy(self, site_id: str, sha256: str, size_px: int) -> Path:
        return self._site(site_id) / "copies" / _branch(sha256) / f"{sha256}-{size_px:d}.jpg"


def checked_uuid(name: str) -> str:
    """Return the id of a site or device if it is one: it becomes part of a path."""
    return _checked(_UUID, name)


def checked_sha256(name: str) -> str:
    """Return the SHA-256 in hex if it is one: it becomes part of a path."""
    return _checked(_SHA256, name)


def _checked(form: re.Pattern[str], name: str) -> str:
    if not form.fullmatch(name):
        raise ValueError(f"not a name of photo bytes: {name!r}")
    return name


def _branch(sha256: str) -> Path:
    checked_sha256(sha256)
    return Path(sha256[:2], sha256[2:4])


def _touched_s(path: Path) -> float:
    try:
        return path.stat().st_mtime
    except FileNotFoundError:  # finished by another thread since the folder was listed
        return time.time()


@contextmanager
def _told_if_full() -> Iterator[None]:
    try:
        yield
    except OSError as error:
        if error.errno in _FULL:
            raise storage_full() from error
        raise


def _write_all(out: RawIOBase, content: bytes) -> None:
    """Write to an unbuffered file, which may take less than it is given."""
    left = memoryview(content)
    while left:
        left = left[out.write(left) or 0 :]


def _write_safely(path: Path, content: bytes) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    unfinished = path.with_suffix(".new")
    try:
        unfinished.write_bytes(content)
        _move_safely(unfinished, path)
    except OSError:
        unfinished.unlink(missing_ok=True)
        raise


def _move_safely(source: Path, target: Path) -> None:
    """Move a file so that under its new name it is never half there, and on return outlasts a power cut."""
    _to_disk(source)
    changed = _make_folder(target.parent)
    os.replace(source, target)
    # Last, and together: a file system with a journal writes what all of them wait for at the first.
    for folder in changed:
        _to_disk(folder)


def _make_folder(folder: Path) -> list[Path]:
    """Make a folder and those above it; return it and each above that has a new name in it."""
    if folder.is_dir():
        return [folder]
    above = _make_folder(folder.parent)
    folder.mkdir(exist_ok=True)
    return [folder, *above]


def _to_disk(path: Path) -> None:
    # Windows flushes only what is open for writing and cannot open a folder; POSIX opens folders only for reading.
    if os.name != "posix" and path.is_dir():
        return
    handle = os.open(path, os.O_RDONLY if path.is_dir() else os.O_RDWR)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
