"""Restoring: photos back in their place, a new epoch for phones to notice."""

from makegood.store import clock
from makegood.store.backup import save_database
from makegood.store.photo_bytes import FolderPhotoBytes
from makegood.work.keeping.back_up import back_up_photos, photos_beside
from makegood.work.keeping.restore import begin_anew, restore_photos
from tests.work.test_take_in_photo import Sender, jpeg


def test_photos_come_back_and_a_lost_one_is_told(sqlite_settings, tmp_path):
    from makegood.app import create_app
    from tests.make import make_grounds

    app = create_app(sqlite_settings)
    grounds = make_grounds(app)
    senders = [Sender(app, grounds, jpeg()) for _ in range(2)]
    for one in senders:
        one.send()
    file = tmp_path / "site.backup"
    save_database(sqlite_settings.database_file, file)
    back_up_photos(file, FolderPhotoBytes(sqlite_settings.photo_folder))
    (gone,) = photos_beside(file).rglob(senders[0].key.sha256)
    gone.unlink()
    target = FolderPhotoBytes(tmp_path / "again")
    done = restore_photos(file, photos_beside(file), target)
    assert (done.copied, len(done.troubles)) == (1, 1)
    assert senders[0].key.sha256 in done.troubles[0]
    with target.open_original(grounds.site, senders[1].key.sha256) as content:
        assert content.read() == senders[1].content


def test_restored_database_gets_another_epoch(app):
    with app.app_context():
        before = clock.epoch()
        assert begin_anew() != before
