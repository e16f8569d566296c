"""Bundles: read with suspicion, taken in as the work of the phone that saved them."""

import json
import zipfile

import pytest

from makegood.errors import BadInput, MakegoodError, NotAllowed, NotFound
from makegood.store.device import device
from makegood.work.take_in_bundle import author_of, author_vouched_for, open_bundle, read_photo, upload_key
from tests.make import make_guest, make_id, make_op

SHA = "ab" * 32


def told(**changes):
    """Return what ops.json says."""
    return {"v": 1, "device": make_id(), "person": "Oona", "ops": [], "photos": [], **changes}


def write(folder, content, blobs=()):
    """Write a bundle; return it."""
    file = folder / "walk.zip"
    with zipfile.ZipFile(file, "w") as archive:
        archive.writestr("ops.json", content if isinstance(content, str | bytes) else json.dumps(content))
        for name, body in blobs:
            archive.writestr(name, body)
    return file


def test_bundle_gives_back_what_was_saved(tmp_path):
    site, ops = make_id(), [{"op": "anything"}]
    photos = [{"site": site, "sha256": SHA, "length": 3}, {"site": site, "sha256": "cd" * 32, "length": 9}]
    content = told(ops=ops, photos=photos)
    with open_bundle(write(tmp_path, content, [(f"blobs/{SHA}", b"abc")])) as (bundle, archive):
        assert (bundle.device_id, bundle.person, bundle.ops) == (content["device"], "Oona", ops)
        (photo,) = bundle.photos  # the other one's bytes are not in the file
        assert (photo.site_id, read_photo(archive, photo)) == (site, b"abc")


@pytest.mark.parametrize(
    "content",
    [
        "",
        "{",
        "[]",
        "null",
        '"text"',
        b"\xff\xfe",
        "[" * 100_000,
        {"v": 2},
        {},
        {"v": 1, "device": "me", "ops": []},
        {"v": 1, "ops": []},
    ],
)
def test_bundle_that_says_nothing_usable_is_refused(tmp_path, content):
    with pytest.raises(BadInput) as refused, open_bundle(write(tmp_path, content)):
        pass
    assert refused.value.code == "bundle_unreadable"


def test_file_that_is_no_zip_or_a_torn_one_is_refused(tmp_path):
    whole = write(tmp_path, told()).read_bytes()
    for content in (b"", b"PK", b"not a zip at all", whole[:-10], whole[: len(whole) // 2]):
        (tmp_path / "torn.zip").write_bytes(content)
        with pytest.raises(BadInput), open_bundle(tmp_path / "torn.zip"):
            pass
    with pytest.raises(BadInput), open_bundle(tmp_path / "none.zip"):
        pass


def test_photos_listed_with_nonsense_are_passed_over(tmp_path):
    nonsense = [None, 4, {}, {"site": "x", "sha256": SHA}, {"site": make_id(), "sha256": 5}]
    with open_bundle(write(tmp_path, told(photos=nonsense))) as (bundle, _):
        assert bundle.photos == []


def test_photo_that_unpacks_to_more_than_any_photo_is_refused(tmp_path):
    site = make_id()
    file = tmp_path / "bomb.zip"
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("ops.json", json.dumps(told(photos=[{"site": site, "sha256": SHA}])))
        archive.writestr(f"blobs/{SHA}", bytes(30 * 1024 * 1024))
    with open_bundle(file) as (bundle, archive), pytest.raises(MakegoodError) as refused:
        read_photo(archive, bundle.photos[0])
    assert refused.value.code == "photo_too_large"


def test_work_belongs_to_the_phone_that_did_it(app, grounds):
    surveyor = make_guest(app, grounds.keeper, grounds.site, "surveyor", "Oona")
    with app.app_context():
        author = author_of(surveyor.device_id)
        assert (author.person, author.may_found) == ("Oona", False)
        with pytest.raises(NotFound) as unknown:
            author_of(make_id())
    assert unknown.value.code == "author_unknown"


def test_only_a_keeper_of_all_its_sites_vouches_for_others(app, grounds):
    surveyor = make_guest(app, grounds.keeper, grounds.site, "surveyor", "Oona")
    here, elsewhere = make_op("storm", grounds.site), make_op("storm", make_id())
    with app.app_context():
        keeper, guest = device(grounds.keeper.device_id), device(surveyor.device_id)
        assert author_vouched_for(keeper, guest.id, [here]).person == "Oona"
        for voucher, ops in ((guest, [here]), (keeper, [here, elsewhere]), (keeper, [{}])):
            with pytest.raises(NotAllowed):
                author_vouched_for(voucher, guest.id, ops)


def test_phone_taken_out_of_the_site_is_like_a_strangers(app, grounds):
    surveyor = make_guest(app, grounds.keeper, grounds.site, "surveyor", "Oona")
    gone = grounds.keeper.client.delete(
        f"/api/devices/{grounds.site}/{surveyor.device_id}", headers={"X-CSRF": grounds.keeper.csrf}
    )
    assert gone.status_code == 204
    with app.app_context(), pytest.raises(NotFound) as refusal:
        author_vouched_for(device(grounds.keeper.device_id), surveyor.device_id, [make_op("storm", grounds.site)])
    assert refusal.value.code == "author_unknown"


def test_photos_are_taken_only_from_who_may_add_them(app, grounds, tmp_path):
    reader = make_guest(app, grounds.keeper, grounds.site, "reader", "Rae")
    content = told(photos=[{"site": grounds.site, "sha256": SHA}])
    with open_bundle(write(tmp_path, content, [(f"blobs/{SHA}", b"abc")])) as (bundle, _), app.app_context():
        assert upload_key(device(grounds.keeper.device_id), bundle.photos[0]).sha256 == SHA
        with pytest.raises(NotAllowed):
            upload_key(device(reader.device_id), bundle.photos[0])
