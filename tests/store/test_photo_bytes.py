"""Photo bytes in a folder: whole or absent, each site by itself, no name leaves the folder."""

import errno
import hashlib
import io
import os
import threading
import time
from datetime import UTC, datetime, timedelta

import pytest

from makegood.errors import StorageFull
from makegood.store import photo_bytes as module
from makegood.store.photo_bytes import FolderPhotoBytes, sha256_of_bytes
from makegood.store.photo_uploads import UploadKey
from tests.make import make_id

SHA = hashlib.sha256(b"a wall").hexdigest()


@pytest.fixture
def folder(tmp_path):
    return FolderPhotoBytes(tmp_path / "photos")


@pytest.fixture
def key():
    return UploadKey(make_id(), SHA, make_id())


def test_upload_grows_chunk_by_chunk(folder, key):
    assert (folder.received(key), folder.touched_at(key)) == (0, None)
    assert folder.append(key, b"a ") == 2
    assert folder.append(key, b"wall") == 6
    assert folder.received(key) == 6
    with folder.open_received(key) as content:
        assert sha256_of_bytes(content) == SHA


def test_upload_survives_a_restart(folder, key, tmp_path):
    folder.append(key, b"a ")
    assert FolderPhotoBytes(tmp_path / "photos").received(key) == 2


def test_two_devices_send_the_same_photo_apart(folder, key):
    folder.append(key, b"a ")
    assert folder.received(UploadKey(key.site_id, SHA, make_id())) == 0


def test_kept_photo_lies_whole_in_its_site(folder, key, tmp_path):
    folder.append(key, b"a wall")
    folder.keep(key)
    folder.keep_copies(key.site_id, SHA, {400: b"small"})
    assert folder.received(key) == 0
    with folder.open_original(key.site_id, SHA) as content:
        assert content.read() == b"a wall"
    with folder.open_copy(key.site_id, SHA, 400) as content:
        assert content.read() == b"small"
    at = tmp_path / "photos" / key.site_id / "blobs" / SHA[:2] / SHA[2:4] / SHA
    assert at.read_bytes() == b"a wall"
    assert not list((tmp_path / "photos").rglob("*.new"))
    with pytest.raises(FileNotFoundError):
        folder.open_original(make_id(), SHA)


def test_keeping_twice_is_harmless(folder, key):
    for _ in range(2):
        folder.append(key, b"a wall")
        folder.keep(key)
        folder.keep_copies(key.site_id, SHA, {400: b"small"})
    with folder.open_original(key.site_id, SHA) as content:
        assert content.read() == b"a wall"


def test_files_are_on_disk_before_they_get_their_names(folder, key, monkeypatch, tmp_path):
    on_disk, moved = [], []
    really_sync, really_move = os.fsync, os.replace

    def sync(handle):
        on_disk.append(os.fstat(handle).st_ino)
        really_sync(handle)

    def move(source, target):
        moved.append((target.parents[2].name, os.stat(source).st_ino in on_disk))
        really_move(source, target)

    monkeypatch.setattr(os, "fsync", sync)
    monkeypatch.setattr(os, "replace", move)
    folder.append(key, b"a wall")
    folder.keep(key)
    folder.keep_copies(key.site_id, SHA, {400: b"small"})
    assert moved == [("blobs", True), ("copies", True)]
    # The folders too, up to the one that was there before, so that each new name lasts.
    shelves = tmp_path / "photos" / key.site_id / "blobs"
    for shelf in (shelves / SHA[:2] / SHA[2:4], shelves / SHA[:2], shelves, shelves.parent):
        assert shelf.stat().st_ino in on_disk


def no_room(*_given):
    raise OSError(errno.ENOSPC, "No space left on device")


def test_full_disk_keeps_what_had_arrived_and_not_half_a_chunk(folder, key, monkeypatch):
    folder.append(key, b"a ")
    really_write = module._write_all

    def write_a_part(out, chunk):
        really_write(out, chunk[:2])
        no_room()

    monkeypatch.setattr(module, "_write_all", write_a_part)
    with pytest.raises(StorageFull):
        folder.append(key, b"wall")
    assert folder.received(key) == 2
    monkeypatch.undo()
    assert folder.append(key, b"wall") == 6


def test_full_disk_while_keeping_leaves_the_upload(folder, key, monkeypatch):
    folder.append(key, b"a wall")
    monkeypatch.setattr(os, "fsync", no_room)
    with pytest.raises(StorageFull):
        folder.keep(key)
    monkeypatch.undo()
    assert folder.received(key) == 6
    folder.keep(key)
    with folder.open_original(key.site_id, SHA) as content:
        assert content.read() == b"a wall"


@pytest.mark.parametrize("nth", [1, 3])
def test_full_disk_while_keeping_copies_leaves_no_half_file(folder, key, monkeypatch, tmp_path, nth):
    calls = []
    really_sync = os.fsync

    def sync(handle):
        calls.append(handle)
        if len(calls) == nth:
            no_room()
        really_sync(handle)

    monkeypatch.setattr(os, "fsync", sync)
    with pytest.raises(StorageFull):
        folder.keep_copies(key.site_id, SHA, {1600: b"middle", 400: b"small"})
    monkeypatch.undo()
    assert not list((tmp_path / "photos").rglob("*.new"))
    folder.keep_copies(key.site_id, SHA, {1600: b"middle", 400: b"small"})
    with folder.open_copy(key.site_id, SHA, 400) as content:
        assert content.read() == b"small"


def test_idle_uploads_are_dropped_and_fresh_ones_stay(folder, key):
    other = UploadKey(key.site_id, SHA, make_id())
    folder.append(key, b"a ")
    now = datetime.now(UTC)
    assert folder.drop_idle(key.site_id, now - timedelta(days=7)) == 0
    folder.append(other, b"a ")
    assert folder.drop_idle(key.site_id, now + timedelta(minutes=1)) == 2
    assert folder.received(key) == folder.received(other) == 0
    assert folder.drop_idle(make_id(), now) == 0


@pytest.mark.parametrize("name", ["../../etc/passwd", "", "AB" * 32, "ab" * 31, SHA + "\n", SHA + "/.."])
def test_names_that_are_no_hash_touch_no_file(folder, key, name):
    for act in (
        lambda: folder.append(UploadKey(key.site_id, name, key.device_id), b"x"),
        lambda: folder.open_original(key.site_id, name),
        lambda: folder.open_copy(key.site_id, name, 400),
    ):
        with pytest.raises(ValueError, match="not a name"):
            act()


@pytest.mark.parametrize("name", ["..", "", "site", "../" + make_id()])
def test_ids_that_are_none_touch_no_file(folder, key, name):
    with pytest.raises(ValueError, match="not a name"):
        folder.append(UploadKey(name, SHA, key.device_id), b"x")
    with pytest.raises(ValueError, match="not a name"):
        folder.append(UploadKey(key.site_id, SHA, name), b"x")


def test_lock_lets_one_in_at_a_time(folder, key):
    inside, most = [], []

    def work():
        with folder.locked(key.site_id, SHA):
            inside.append(1)
            most.append(len(inside))
            time.sleep(0.005)
            inside.pop()

    threads = [threading.Thread(target=work) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert most == [1] * 8


def test_lock_is_let_go_after_an_error(folder, key):
    with pytest.raises(RuntimeError), folder.locked(key.site_id, SHA):
        raise RuntimeError
    got_in = False
    with folder.locked(key.site_id, SHA):
        got_in = True
    assert got_in


def test_hash_reads_from_the_start():
    content = io.BytesIO(b"a wall")
    content.read()
    assert sha256_of_bytes(content) == SHA
