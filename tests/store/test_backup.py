"""Backup files: one moment of the database, whole or absent; photos carried only if they are what they are named."""

import hashlib
import sqlite3
from contextlib import closing

import pytest
from sqlalchemy import select, text

from makegood.app import bring_up_to_date, create_app
from makegood.settings import Settings
from makegood.store import backup
from makegood.store.backup import (
    KeptPhoto,
    backup_faults,
    carry_photos,
    copy_rows,
    kept_photos,
    save_database,
)
from makegood.store.database import WRITES, db
from makegood.store.photo_bytes import FolderPhotoBytes
from makegood.store.photo_uploads import UploadKey
from tests.make import make_grounds, make_id


def sha(content):
    """Return the name of these bytes."""
    return hashlib.sha256(content).hexdigest()


@pytest.fixture
def served(sqlite_settings):
    """A site in SQLite, with its server still holding the database open."""
    app = create_app(sqlite_settings)
    return app, make_grounds(app), sqlite_settings.database_file


@pytest.fixture
def folders(tmp_path):
    return FolderPhotoBytes(tmp_path / "from"), FolderPhotoBytes(tmp_path / "to")


def keep(folder, content, site=None):
    """Keep a photo; return it."""
    photo = KeptPhoto(site or make_id(), sha(content), len(content))
    key = UploadKey(photo.site_id, photo.sha256, make_id())
    folder.append(key, content)
    folder.keep(key)
    return photo


def rows_in(file, table):
    """Count rows with another program than ours."""
    with closing(sqlite3.connect(file)) as connection:
        return connection.execute(f"SELECT count(*) FROM {table}").fetchone()[0]


def test_file_holds_what_was_committed_and_not_what_was_not(served, tmp_path):
    _, grounds, database = served
    grounds.add("defect")
    with closing(sqlite3.connect(database)) as other:
        other.execute("BEGIN IMMEDIATE")
        other.execute("DELETE FROM defect")
        save_database(database, tmp_path / "site.backup")
    assert rows_in(tmp_path / "site.backup", "defect") == 1
    assert backup_faults(tmp_path / "site.backup") == []
    assert sorted(path.name for path in tmp_path.glob("site.backup*")) == ["site.backup"]


def test_backup_that_fails_half_way_leaves_the_old_one(served, tmp_path, monkeypatch):
    _, grounds, database = served
    file = tmp_path / "site.backup"
    save_database(database, file)
    grounds.add("defect")

    def fail(*_paths):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(backup.os, "replace", fail)
    with pytest.raises(OSError, match="No space"):
        save_database(database, file)
    assert rows_in(file, "defect") == 0
    assert sorted(path.name for path in tmp_path.glob("site.backup*")) == ["site.backup"]


def test_faults_of_a_file_are_told(served, tmp_path):
    assert backup_faults(tmp_path / "none") == ["there is no such file"]
    (tmp_path / "text").write_text("Dear keeper, " * 100)
    assert backup_faults(tmp_path / "text") == ["file is not a database"]
    with closing(sqlite3.connect(tmp_path / "other")) as connection:
        connection.execute("CREATE TABLE birds (name)")
    assert backup_faults(tmp_path / "other") == ["it is another kind of file"]
    _, _, database = served
    save_database(database, tmp_path / "whole")
    content = (tmp_path / "whole").read_bytes()
    (tmp_path / "torn").write_bytes(content[:40_960] + b"\x55" * 8192 + content[49_152:])
    assert backup_faults(tmp_path / "torn")


def test_row_whose_parent_is_missing_is_told(served, tmp_path):
    _, _, database = served
    save_database(database, tmp_path / "site.backup")
    with closing(sqlite3.connect(tmp_path / "site.backup")) as connection:
        connection.execute("DELETE FROM structure")
        connection.commit()
    assert backup_faults(tmp_path / "site.backup") == [
        "a row of elevation refers to a missing row of structure"
    ]


def test_only_photos_that_were_kept_are_listed(served, tmp_path):
    _, grounds, database = served
    with closing(sqlite3.connect(database)) as connection:
        columns = "site_id, sha256, length, refusal, file_facts, decided_at"
        insert = f"INSERT INTO photo_blob ({columns}) VALUES (?, ?, ?, ?, '{{}}', 'x')"
        connection.execute(insert, (grounds.site, "a" * 64, 3, None))
        connection.execute(insert, (grounds.site, "b" * 64, 4, "not_a_picture"))
        connection.commit()
    assert kept_photos(database) == [KeptPhoto(grounds.site, "a" * 64, 3)]


def test_photo_is_carried_once(folders):
    source, target = folders
    photo = keep(source, b"a wall")
    assert carry_photos([photo], source, target) == backup.Carried(1, 0, ())
    assert carry_photos([photo], source, target) == backup.Carried(0, 1, ())
    with target.open_original(photo.site_id, photo.sha256) as content:
        assert content.read() == b"a wall"


def test_lost_and_damaged_photos_are_told_and_the_rest_is_carried(folders, tmp_path):
    source, target = folders
    damaged, whole = keep(source, b"one"), keep(source, b"three")
    lost = KeptPhoto(make_id(), sha(b"four"), 4)
    (at,) = (path for path in (tmp_path / "from").rglob(damaged.sha256))
    at.write_bytes(b"One")
    done = carry_photos([damaged, lost, whole], source, target)
    assert (done.copied, len(done.troubles)) == (1, 2)
    assert "damaged" in done.troubles[0]
    assert "missing" in done.troubles[1]
    with pytest.raises(FileNotFoundError):
        target.open_original(damaged.site_id, damaged.sha256)


def test_photo_cut_short_in_the_backup_is_carried_again(folders, tmp_path):
    source, target = folders
    photo = keep(source, b"a wall")
    carry_photos([photo], source, target)
    (at,) = (path for path in (tmp_path / "to").rglob(photo.sha256))
    at.write_bytes(b"a w")
    assert carry_photos([photo], source, target).copied == 1
    assert at.read_bytes() == b"a wall"


def test_every_row_is_copied_into_another_database(app, grounds, tmp_path):
    grounds.add("defect", note="Hollow – behind")
    with app.app_context():
        source = db.engine
        tables = db.metadata.sorted_tables
    copy = create_app(Settings(data=tmp_path / "copy"))
    bring_up_to_date(copy)
    with copy.app_context():
        target = db.engine.connect().execution_options(**{WRITES: True})
        with source.connect() as old, target, target.begin():
            copy_rows(old, target)
        with source.connect() as old, db.engine.connect() as new:
            for table in tables:
                assert sorted(map(str, old.execute(select(table)))) == sorted(
                    map(str, new.execute(select(table)))
                ), table
            assert new.execute(text("SELECT count(*) FROM defect")).scalar() == 1
