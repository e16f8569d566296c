"""Previews: a small clean JPEG that stands in for a photo until its original arrives, for those who see the photo."""

import io

import pytest
from PIL import ExifTags, Image

from tests.api.test_photos import Sending, add_photo, fetch, picture, sha
from tests.make import make_grounds, make_guest, make_id


def small(size=(320, 240), kind="JPEG", **how) -> bytes:
    """Return a preview as a phone makes it, different each time."""
    out = io.BytesIO()
    Image.effect_noise(size, 60).convert("RGB").save(out, kind, quality=60, **how)
    return out.getvalue()


def exif() -> bytes:
    """Return an EXIF block that names a camera."""
    block = Image.Exif()
    block[ExifTags.Base.Make] = make_id()
    return block.tobytes()


def test_preview_answers_until_the_original_has_arrived(grounds):
    original, preview = picture(), small()
    photo = add_photo(grounds, original, preview=sha(preview))
    assert fetch(grounds.keeper, grounds, photo, "400").status_code == 404
    before = grounds.keeper.pull().row("photo", photo)["rev"]
    assert Sending(grounds.keeper, grounds.site, preview).send().status_code == 204
    row = grounds.keeper.pull().row("photo", photo)
    assert (row["stored"], row["rev"] > before) == (None, True)  # phones learn that there is something to show
    early = fetch(grounds.keeper, grounds, photo, "400")
    assert (early.status_code, early.mimetype) == (200, "image/jpeg")
    assert Image.open(io.BytesIO(early.data)).size == (320, 240)
    assert early.headers["Cache-Control"] == "private, no-cache"
    for size in ("1600", "original"):
        assert fetch(grounds.keeper, grounds, photo, size).json["code"] == "photo_not_stored"
    Sending(grounds.keeper, grounds.site, original).send()
    late = fetch(grounds.keeper, grounds, photo, "400", **{"If-None-Match": early.headers["ETag"]})
    assert (late.status_code, Image.open(io.BytesIO(late.data)).size) == (200, (400, 300))
    assert "immutable" in late.headers["Cache-Control"]


@pytest.mark.parametrize(
    "content",
    [
        small((321, 200)),
        small(kind="PNG"),
        small(exif=exif()),
        small(comment=b"gable end of the Larkfield barn"),
        small() + bytes(64 * 1024),
    ],
    ids=["321 px", "PNG", "EXIF", "comment", "over 64 KB"],
)
def test_what_is_no_small_clean_jpeg_is_refused_and_the_photo_goes_all_the_same(grounds, content):
    original = picture()
    photo = add_photo(grounds, original, preview=sha(content))
    answer = Sending(grounds.keeper, grounds.site, content).send()
    assert (answer.status_code, answer.json["code"]) == (415, "preview_refused")
    assert fetch(grounds.keeper, grounds, photo, "400").status_code == 404
    assert Sending(grounds.keeper, grounds.site, original).send().status_code == 204
    assert fetch(grounds.keeper, grounds, photo, "400").status_code == 200


def test_preview_is_for_those_who_see_the_photo(app, grounds):
    preview = small()
    photo = add_photo(grounds, picture(), preview=sha(preview))
    Sending(grounds.keeper, grounds.site, preview).send()
    reader = make_guest(app, grounds.keeper, grounds.site, "reader", "Guest Gale")
    assert fetch(reader, grounds, photo, "400").status_code == 200
    stranger = make_grounds(app).keeper
    assert fetch(stranger, grounds, photo, "400").status_code == 404


def test_naming_a_photo_as_preview_does_not_open_it(grounds):
    theirs = picture()
    add_photo(grounds, theirs)
    Sending(grounds.keeper, grounds.site, theirs).send()
    mine = add_photo(grounds, picture(), preview=sha(theirs))
    assert fetch(grounds.keeper, grounds, mine, "400").status_code == 404


def test_preview_that_came_before_its_row_is_shown_too(grounds):
    preview = small()
    Sending(grounds.keeper, grounds.site, preview).send()
    photo = add_photo(grounds, picture(), preview=sha(preview))
    assert fetch(grounds.keeper, grounds, photo, "400").status_code == 200
