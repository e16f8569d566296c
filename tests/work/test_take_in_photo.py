"""Taking in a photo: every order and interruption ends in the same kept bytes, or in a sentence."""

import hashlib
import io
import random
import threading
from datetime import UTC, datetime, timedelta

import pytest
from PIL import ExifTags, Image

from makegood.errors import Conflict, Gone, HashMismatch, MakegoodError, NotFound
from makegood.store.photo_bytes import FolderPhotoBytes
from makegood.store.photo_uploads import UploadKey
from makegood.work import take_in_photo as module
from makegood.work.take_in_photo import begin_upload, look_up_upload, settle_photos, take_chunk
from tests.make import make_guest, make_id

NOW = datetime.now(UTC)


def jpeg(orientation: int = 1, size: tuple[int, int] = (64, 40)) -> bytes:
    """Return a photo with a place, different each time."""
    exif = Image.Exif()
    exif[ExifTags.Base.Orientation] = orientation
    exif[ExifTags.Base.Make] = make_id()
    exif.get_ifd(ExifTags.IFD.Exif)[ExifTags.Base.DateTimeOriginal] = "2026:11:20 09:30:00"
    degrees = {1: "N", 2: (51.0, 30.0, 36.0), 3: "W", 4: (0.0, 7.0, 39.0)}
    exif.get_ifd(ExifTags.IFD.GPSInfo).update(degrees)
    out = io.BytesIO()
    Image.effect_noise(size, 50).save(out, "JPEG", exif=exif.tobytes())
    return out.getvalue()


class Sender:
    """One device sending one photo; each call has an app context of its own, as a request has."""

    def __init__(self, app, grounds, content, device_id=None):
        self.app = app
        self.grounds = grounds
        self.content = content
        self.photo_bytes = FolderPhotoBytes(app.config["SETTINGS"].photo_folder)
        sha256 = hashlib.sha256(content).hexdigest()
        self.key = UploadKey(grounds.site, sha256, device_id or grounds.keeper.device_id)

    def begin(self, now=NOW, length=None):
        with self.app.app_context():
            return begin_upload(self.key, length or len(self.content), self.photo_bytes, now)

    def chunk(self, start, end=None, now=NOW):
        return self.bytes_at(start, self.content[start:end], now)

    def bytes_at(self, start, content, now=NOW):
        with self.app.app_context():
            return take_chunk(self.key, start, content, self.photo_bytes, now)

    def look_up(self, now=NOW):
        with self.app.app_context():
            return look_up_upload(self.key, self.photo_bytes, now)

    def send(self):
        self.begin()
        return self.chunk(0)

    def add_row(self):
        """Push the photo row; return its id."""
        where = {"of_type": "elevation", "of_id": self.grounds.elevation}
        return self.grounds.add("photo", sha256=self.key.sha256, bytes=len(self.content), **where)

    def row(self, photo):
        return self.grounds.keeper.pull().row("photo", photo)


@pytest.fixture
def make_sender(app, grounds):
    return lambda content=None, **how: Sender(app, grounds, content or jpeg(), **how)


@pytest.mark.parametrize("row_first", [True, False])
def test_row_and_bytes_meet_in_either_order(make_sender, row_first):
    sender = make_sender(jpeg(orientation=6))
    photo = sender.add_row() if row_first else None
    sender.send()
    photo = photo or sender.add_row()
    row = sender.row(photo)
    assert row["stored"] is True
    assert (row["width_px"], row["height_px"]) == (40, 64)
    assert (row["file_facts"]["lat"], row["file_facts"]["lon"]) == (51.51, -0.1275)
    assert (row["lat"], row["lon"]) == (None, None)  # the phone's own place is never written over


def test_phones_learn_of_the_bytes_by_a_new_revision(make_sender, app, grounds):
    sender = make_sender()
    photo = sender.add_row()
    before = sender.row(photo)
    assert not before["stored"]
    sender.send()
    assert sender.row(photo)["rev"] > before["rev"]
    with app.app_context():
        assert settle_photos(grounds.site) == 0


def test_every_row_of_the_same_bytes_learns_it(make_sender):
    sender = make_sender()
    photos = [sender.add_row() for _ in range(3)]
    sender.send()
    assert all(sender.row(photo)["stored"] for photo in photos)
    assert len({sender.row(photo)["rev"] for photo in photos}) == 3


def test_upload_cut_anywhere_goes_on_where_it_stopped(make_sender):
    chance = random.Random(7)
    for _ in range(20):
        sender = make_sender()
        progress, wanted = sender.begin()
        while wanted and not progress.complete:
            at = sender.look_up().offset
            assert at == progress.offset
            progress = sender.chunk(at, at + chance.randint(1, 900))
        with sender.photo_bytes.open_original(sender.key.site_id, sender.key.sha256) as kept:
            assert kept.read() == sender.content


def test_wrong_offset_names_the_right_one_and_adds_nothing(make_sender):
    sender = make_sender()
    sender.begin()
    sender.chunk(0, 100)
    for wrong in (0, 99, 101, 5000):
        with pytest.raises(Conflict) as caught:
            sender.bytes_at(wrong, b"x")
        assert (caught.value.code, caught.value.fields) == ("wrong_offset", {"offset": "100"})
    assert sender.chunk(100).complete


def test_last_chunk_sent_again_after_a_lost_answer_is_complete(make_sender):
    sender = make_sender()
    sender.send()
    assert sender.bytes_at(len(sender.content), b"").complete
    assert sender.look_up().complete
    assert sender.begin() == (sender.look_up(), False)


def test_server_that_died_after_the_last_byte_is_finished_by_an_empty_chunk(make_sender, monkeypatch):
    sender = make_sender()
    sender.begin()
    with monkeypatch.context() as broken:
        broken.setattr(module, "_finish", lambda *_: (_ for _ in ()).throw(KeyboardInterrupt))
        with pytest.raises(KeyboardInterrupt):
            sender.chunk(0)
    at = sender.look_up()
    assert (at.offset, at.complete) == (len(sender.content), False)
    assert sender.chunk(at.offset).complete


def test_server_that_died_between_bytes_and_tables_takes_them_again(make_sender, monkeypatch):
    sender = make_sender()
    photo = sender.add_row()
    sender.begin()
    with monkeypatch.context() as broken:
        broken.setattr(module, "_note", lambda *_: (_ for _ in ()).throw(KeyboardInterrupt))
        with pytest.raises(KeyboardInterrupt):
            sender.chunk(0)
    assert not sender.row(photo)["stored"]
    assert sender.look_up().offset == 0
    assert sender.chunk(0).complete
    assert sender.row(photo)["stored"]


def test_flipped_bit_is_found_and_the_upload_starts_over(make_sender):
    sender = make_sender()
    right = sender.content
    sender.content = right[:500] + bytes([right[500] ^ 1]) + right[501:]
    sender.begin()
    with pytest.raises(HashMismatch) as caught:
        sender.chunk(0)
    assert (caught.value.code, caught.value.status) == ("hash_mismatch", 460)
    assert sender.look_up().offset == 0
    sender.content = right
    assert sender.chunk(0).complete


def test_photo_of_one_chunk_is_kept_as_it_begins(app, make_sender):
    sender = make_sender()
    photo = sender.add_row()
    with app.app_context():
        progress, wanted = begin_upload(sender.key, len(sender.content), sender.photo_bytes, NOW, sender.content)
    assert (progress.complete, wanted) == (True, True)
    assert sender.row(photo)["stored"]
    with app.app_context():
        progress, wanted = begin_upload(sender.key, len(sender.content), sender.photo_bytes, NOW, sender.content)
    assert (progress.complete, wanted) == (True, False)


def test_first_chunk_is_left_aside_where_others_arrived_before(app, make_sender):
    sender = make_sender()
    sender.begin()
    sender.chunk(0, 300)
    with app.app_context():
        progress, wanted = begin_upload(sender.key, len(sender.content), sender.photo_bytes, NOW, sender.content[:200])
    assert (progress.offset, progress.complete, wanted) == (300, False, True)
    assert sender.chunk(300).complete


def test_first_chunk_longer_than_was_announced_is_refused(app, make_sender):
    sender = make_sender()
    with app.app_context(), pytest.raises(MakegoodError) as caught:
        begin_upload(sender.key, 10, sender.photo_bytes, NOW, sender.content)
    assert caught.value.code == "chunk_past_end"
    assert sender.send().complete


def refused_with(sender):
    with pytest.raises(MakegoodError) as caught:
        sender.send()
    return caught.value.code


@pytest.mark.parametrize(
    ("content", "code"),
    [(b"Fell off in the storm.\n" * 9, "not_a_picture"), (jpeg()[:900], "picture_damaged")],
)
def test_refused_bytes_are_told_to_all_and_cost_nothing_else(make_sender, content, code):
    sender, sound = make_sender(content), make_sender()
    photo, other = sender.add_row(), sound.add_row()
    assert refused_with(sender) == code
    row = sender.row(photo)
    assert row["stored"] is False
    assert row["file_facts"]["doubtful"] == ["picture"]
    with pytest.raises(MakegoodError, match=r"\w") as again:
        sender.begin()
    assert again.value.code == code
    sound.send()
    assert sound.row(other)["stored"] is True
    assert sender.row(sender.add_row())["file_facts"]["doubtful"] == ["picture"]


def test_refused_bytes_may_be_tried_again_after_a_week(make_sender):
    sender = make_sender(jpeg()[:900])
    assert refused_with(sender) == "picture_damaged"
    assert sender.begin(NOW + timedelta(days=8))[1] is True


def test_more_bytes_than_announced_are_refused(make_sender):
    sender = make_sender()
    sender.begin()
    with pytest.raises(MakegoodError) as caught:
        sender.bytes_at(0, sender.content + b"x")
    assert caught.value.code == "chunk_past_end"
    assert sender.look_up().offset == 0


def test_photo_over_25_mib_is_refused_before_any_byte(make_sender):
    sender = make_sender()
    with pytest.raises(MakegoodError) as caught:
        sender.begin(length=25 * 1024 * 1024 + 1)
    assert (caught.value.code, caught.value.status) == ("photo_too_large", 413)


def test_upload_left_for_a_week_is_gone_and_can_be_begun_again(make_sender):
    sender = make_sender()
    sender.begin()
    sender.chunk(0, 100)
    assert sender.look_up(NOW + timedelta(days=6)).offset == 100
    later = NOW + timedelta(days=7, minutes=5)
    with pytest.raises(NotFound):
        sender.look_up(later)
    with pytest.raises(Gone) as caught:
        sender.chunk(100, now=later)
    assert caught.value.code == "upload_expired"
    progress, wanted = sender.begin(later)
    assert (progress.offset, wanted) == (0, True)


def test_another_length_for_the_same_photo_starts_over(make_sender):
    sender = make_sender()
    sender.begin(length=5)
    sender.bytes_at(0, b"abc")
    progress, _ = sender.begin()
    assert (progress.offset, progress.length) == (0, len(sender.content))
    assert sender.chunk(0).complete


def test_chunk_before_its_beginning_is_unknown(make_sender):
    sender = make_sender()
    with pytest.raises(NotFound):
        sender.chunk(0)


def test_hash_tells_another_device_nothing_until_a_row_shows_the_photo(make_sender, app, grounds):
    sender = make_sender()
    sender.send()
    guest = make_guest(app, grounds.keeper, grounds.site, "helper", "Volunteer Vic")
    other = make_sender(sender.content, device_id=guest.device_id)
    with pytest.raises(NotFound):
        other.look_up()
    progress, wanted = other.begin()
    assert (progress.offset, progress.complete, wanted) == (0, False, True)
    assert other.chunk(0).complete
    assert other.photo_bytes.received(other.key) == 0
    third = make_sender(sender.content, device_id=make_id())
    sender.add_row()
    assert third.look_up().complete
    assert third.begin()[1] is False


def test_two_devices_finishing_the_same_photo_at_once_keep_it_once(make_sender, app, grounds):
    content = jpeg(size=(600, 400))
    guest = make_guest(app, grounds.keeper, grounds.site, "helper", "Volunteer Vic")
    senders = [make_sender(content), make_sender(content, device_id=guest.device_id)]
    photo = senders[0].add_row()
    done = []

    def send(sender):
        _, wanted = sender.begin()
        done.append(sender.chunk(0).complete if wanted else True)

    threads = [threading.Thread(target=send, args=(sender,)) for sender in senders]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert done == [True, True]
    assert senders[0].row(photo)["stored"] is True
