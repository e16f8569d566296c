"""Tables of photo bytes: a line per device and photo, one outcome per photo, news for rows that lack it."""

import pytest

from makegood.store.database import writing
from makegood.store.photo_uploads import (
    RECEIVING,
    REFUSED,
    Blob,
    Upload,
    UploadKey,
    bytes_of_photo,
    find_blob,
    find_upload,
    news_for_photos,
    photos_naming,
    set_blob,
    set_upload,
)
from tests.make import NOW, make_id

SHA = "cd" * 32


@pytest.fixture
def key(grounds, app):
    with app.app_context():
        yield UploadKey(grounds.site, SHA, grounds.keeper.device_id)


def test_upload_is_noted_and_noted_again(key):
    assert find_upload(key) is None
    for upload in (Upload(10, RECEIVING, NOW), Upload(10, REFUSED, NOW, "not_a_picture")):
        with writing():
            set_upload(key, upload)
        assert find_upload(key) == upload
    assert find_upload(UploadKey(key.site_id, SHA, make_id())) is None


def test_outcome_is_noted_per_site(key):
    blob = Blob(10, NOW, {"lat": 1.5, "doubtful": []}, "image/png", 4, 3)
    with writing():
        set_blob(key.site_id, SHA, blob)
    assert find_blob(key.site_id, SHA) == blob
    assert find_blob(make_id(), SHA) is None


def test_photo_row_shows_its_bytes_only_on_its_site(key, grounds):
    photo = grounds.add("photo", of_type="elevation", of_id=grounds.elevation, sha256=SHA)
    assert len(photos_naming(key.site_id, SHA)) == 1
    assert not photos_naming(make_id(), SHA)
    assert not photos_naming(key.site_id, "ef" * 32)
    assert bytes_of_photo(key.site_id, photo) == (SHA, None)
    assert bytes_of_photo(make_id(), photo) is None


@pytest.mark.parametrize("refusal", [None, "picture_damaged"])
def test_rows_without_the_outcome_are_the_news(key, grounds, refusal):
    photo = grounds.add("photo", of_type="elevation", of_id=grounds.elevation, sha256=SHA)
    assert news_for_photos(key.site_id) == []
    blob = Blob(10, NOW, {"doubtful": []}, refusal=refusal)
    with writing():
        set_blob(key.site_id, SHA, blob)
    assert news_for_photos(key.site_id) == [(photo, blob)]
    assert news_for_photos(make_id()) == []
