"""Photos beside a backup file: each once, those there before left alone."""

from makegood.store.backup import save_database
from makegood.store.photo_bytes import FolderPhotoBytes
from makegood.work.keeping.back_up import back_up_photos, photos_beside
from tests.work.test_take_in_photo import Sender, jpeg


def test_second_backup_copies_only_the_new_photo(sqlite_settings, tmp_path):
    from makegood.app import create_app
    from tests.make import make_grounds

    app = create_app(sqlite_settings)
    grounds = make_grounds(app)
    file, source = tmp_path / "out" / "site.backup", FolderPhotoBytes(sqlite_settings.photo_folder)
    file.parent.mkdir()
    Sender(app, grounds, jpeg()).send()
    save_database(sqlite_settings.database_file, file)
    first = back_up_photos(file, source)
    Sender(app, grounds, jpeg()).send()
    save_database(sqlite_settings.database_file, file)
    second = back_up_photos(file, source)
    assert ((first.copied, first.there), (second.copied, second.there)) == ((1, 0), (1, 1))
    assert first.troubles == second.troubles == ()
    assert photos_beside(file) == tmp_path / "out" / "site.backup.photos"
    assert len(list(photos_beside(file).glob("*/blobs/*/*/*"))) == 2
