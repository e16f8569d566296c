"""Copies of photos: made when first asked for, kept, and never in the way of a phone that sends."""

import io

import pytest
from PIL import Image

from makegood.errors import MakegoodError, StorageFull
from makegood.store.photo_bytes import FolderPhotoBytes
from makegood.work import photo_copies as module
from makegood.work.photo_copies import open_copy
from tests.make import make_id
from tests.work.test_take_in_photo import Sender, jpeg


@pytest.fixture
def sent(app, grounds):
    """A photo that is kept: 64 x 40 pixels, on its side."""
    sender = Sender(app, grounds, jpeg(orientation=6))
    sender.send()
    return sender


def copy_of(sent, size_px=400):
    with open_copy(sent.key.site_id, sent.key.sha256, size_px, sent.photo_bytes) as content:
        return content.read()


def copies_on_disk(sent):
    return sorted(path.name[65:] for path in (sent.app.config["SETTINGS"].photo_folder / sent.key.site_id).rglob("*.jpg"))


def test_sending_makes_none_and_the_first_to_ask_both(sent, monkeypatch):
    assert copies_on_disk(sent) == []
    first = copy_of(sent)
    assert Image.open(io.BytesIO(first)).size == (40, 64)  # upright, as its EXIF says
    assert copies_on_disk(sent) == ["1600.jpg", "400.jpg"]
    monkeypatch.setattr(module, "make_copies", None)  # nobody makes them again
    assert copy_of(sent) == first


def test_full_disk_shows_the_photo_all_the_same(sent, monkeypatch):
    def full(*_given):
        raise StorageFull("server_full", "full")

    monkeypatch.setattr(FolderPhotoBytes, "keep_copies", full)
    assert Image.open(io.BytesIO(copy_of(sent))).format == "JPEG"
    assert copies_on_disk(sent) == []


def test_photo_that_is_not_kept_has_none(sent):
    with pytest.raises(FileNotFoundError):
        open_copy(make_id(), sent.key.sha256, 400, sent.photo_bytes)


def test_original_that_was_damaged_since_is_refused_with_a_sentence(sent):
    (original,) = sent.app.config["SETTINGS"].photo_folder.rglob(sent.key.sha256)
    original.write_bytes(sent.content[: len(sent.content) // 2])
    with pytest.raises(MakegoodError, match="damaged or cut short"):
        copy_of(sent)
