"""Photo routes: chunks, sizes, who may have what, and a sentence for everything that cannot be taken."""

import hashlib
import io
import struct
import zlib
from datetime import UTC, datetime, timedelta

import pytest
from PIL import ExifTags, Image

from tests.make import make_grounds, make_guest, make_id

CHUNK = "application/offset+octet-stream"
MIB = 1024 * 1024


def picture(kind: str = "JPEG", size: tuple[int, int] = (640, 480)) -> bytes:
    """Return a photo that says where it was taken."""
    exif = Image.Exif()
    exif[ExifTags.Base.Make] = make_id()
    exif.get_ifd(ExifTags.IFD.GPSInfo).update({1: "N", 2: (51.0, 30.0, 36.0), 3: "W", 4: (0.0, 7.0, 39.0)})
    out = io.BytesIO()
    Image.effect_noise(size, 50).convert("RGB").save(out, kind, exif=exif.tobytes())
    return out.getvalue()


def sha(content: bytes) -> str:
    """Return the name of these bytes."""
    return hashlib.sha256(content).hexdigest()


class Sending:
    """One photo as a phone sends it."""

    def __init__(self, phone, site, content):
        self.phone, self.content = phone, content
        self.path = f"/api/blobs/{site}/{sha(content)}"
        self.headers = {"X-CSRF": phone.csrf}

    def ask(self):
        return self.phone.client.head(self.path)

    def begin(self, length=None):
        length = len(self.content) if length is None else length
        return self.phone.client.put(f"{self.path}?length={length}", headers=self.headers)

    def chunk(self, offset, content=None, **headers):
        headers = {**self.headers, "Upload-Offset": str(offset), "Content-Type": CHUNK, **headers}
        body = self.content[offset:] if content is None else content
        return self.phone.client.patch(self.path, data=body, headers=headers)

    def send(self):
        answer = self.begin()
        for offset in range(0, len(self.content), MIB):
            if answer.status_code in (201, 204):
                answer = self.chunk(offset, self.content[offset : offset + MIB])
        return answer


@pytest.fixture
def sending(grounds):
    return Sending(grounds.keeper, grounds.site, picture())


def add_photo(grounds, content, **fields):
    """Push a photo row for these bytes; return its id."""
    where = {"of_type": "elevation", "of_id": grounds.elevation, **fields}
    return grounds.add("photo", sha256=sha(content), bytes=len(content), **where)


def fetch(phone, grounds, photo, size, **headers):
    """Ask for a photo."""
    return phone.client.get(f"/api/photos/{grounds.site}/{photo}/{size}", headers=headers)


def test_photo_goes_up_in_chunks(sending):
    assert sending.ask().status_code == 404
    begun = sending.begin()
    assert begun.status_code == 201
    assert begun.headers["Upload-Offset"] == "0"
    half = len(sending.content) // 2
    first = sending.chunk(0, sending.content[:half])
    assert (first.status_code, first.headers["Upload-Offset"]) == (204, str(half))
    asked = sending.ask()
    assert asked.headers["Upload-Offset"] == str(half)
    assert asked.headers["Upload-Length"] == str(len(sending.content))
    assert asked.headers["Upload-Complete"] == "?0"
    assert asked.headers["Cache-Control"] == "no-store"
    last = sending.chunk(half)
    assert (last.status_code, last.headers["Upload-Complete"]) == (204, "?1")
    assert sending.ask().headers["Upload-Complete"] == "?1"
    assert sending.begin().status_code == 200


def test_photo_of_one_chunk_goes_up_in_one_request(sending):
    def put(content):
        path = f"{sending.path}?length={len(sending.content)}"
        return sending.phone.client.put(path, data=content, headers={**sending.headers, "Content-Type": CHUNK})

    damaged = put(sending.content[:-1] + bytes([sending.content[-1] ^ 1]))
    assert (damaged.status_code, damaged.json["code"]) == (460, "hash_mismatch")
    assert put(sending.content + b"x").status_code == 413
    whole = put(sending.content)
    assert (whole.status_code, whole.headers["Upload-Complete"]) == (201, "?1")
    assert sending.ask().headers["Upload-Complete"] == "?1"
    assert put(sending.content).status_code == 200


def test_wrong_offset_answers_409_with_the_right_one(sending):
    sending.begin()
    sending.chunk(0, sending.content[:10])
    answer = sending.chunk(0, sending.content[:10])
    assert (answer.status_code, answer.json["code"]) == (409, "wrong_offset")
    assert answer.headers["Upload-Offset"] == "10"


def test_damage_on_the_way_answers_460(sending):
    sending.begin()
    answer = sending.chunk(0, bytes(len(sending.content)))
    assert (answer.status_code, answer.json["code"]) == (460, "hash_mismatch")
    assert sending.chunk(0).status_code == 204


def test_chunk_larger_than_1_mib_or_of_another_type_is_refused(sending):
    sending.begin()
    large = sending.chunk(0, bytes(MIB + 1))
    assert (large.status_code, large.json["code"]) == (413, "chunk_too_large")
    typed = sending.chunk(0, **{"Content-Type": "application/json"})
    assert (typed.status_code, typed.json["code"]) == (415, "offset_type_expected")


def test_chunk_of_1_mib_is_taken_though_json_may_not_be_so_long(grounds):
    noise = picture("PNG", (900, 700))
    assert len(noise) > MIB
    sending = Sending(grounds.keeper, grounds.site, noise)
    sending.begin()
    assert sending.chunk(0, noise[:MIB]).status_code == 204


@pytest.mark.parametrize("length", ["", "0", "-1", "many", "1.5"])
def test_length_that_is_none_is_refused(sending, length):
    answer = sending.begin(length)
    assert (answer.status_code, answer.json["code"]) == (422, "bad_input")


@pytest.mark.parametrize("offset", ["", "-1", "x", "1e3"])
def test_offset_that_is_none_is_refused(sending, offset):
    sending.begin()
    answer = sending.chunk(0, **{"Upload-Offset": offset})
    assert (answer.status_code, answer.json["code"]) == (422, "bad_input")


@pytest.mark.parametrize("length", [25 * 1024 * 1024 + 1, 10**30])
def test_photo_over_25_mib_is_refused(sending, length):
    answer = sending.begin(length)
    assert (answer.status_code, answer.json["code"]) == (413, "photo_too_large")


def huge_png() -> bytes:
    """Return a PNG of 50,000 by 50,000 pixels that takes a kilobyte."""
    parts = [
        (b"IHDR", struct.pack(">IIBBBBB", 50_000, 50_000, 8, 2, 0, 0, 0)),
        (b"IDAT", zlib.compress(bytes(99))),
    ]
    chunks = [struct.pack(">I", len(b)) + n + b + struct.pack(">I", zlib.crc32(n + b)) for n, b in parts]
    return b"\x89PNG\r\n\x1a\n" + b"".join(chunks)


@pytest.mark.parametrize(
    ("content", "status", "code"),
    [
        (b"Fell off in the storm.\n" * 20, 415, "not_a_picture"),
        (picture()[:4000], 422, "picture_damaged"),
        (huge_png(), 413, "picture_too_many_pixels"),
    ],
)
def test_what_is_no_sound_picture_is_refused_with_a_sentence(grounds, content, status, code):
    photo = add_photo(grounds, content)
    answer = Sending(grounds.keeper, grounds.site, content).send()
    assert (answer.status_code, answer.json["code"]) == (status, code)
    assert answer.json["message"].endswith(".")
    row = grounds.keeper.pull().row("photo", photo)
    assert (row["stored"], row["file_facts"]["doubtful"]) == (False, ["picture"])
    assert fetch(grounds.keeper, grounds, photo, "400").json["code"] == "photo_not_stored"


def test_upload_left_for_a_week_answers_410(app, sending):
    sending.begin()
    app.config["CLOCK"] = lambda: datetime.now(UTC) + timedelta(days=8)
    answer = sending.chunk(0)
    assert (answer.status_code, answer.json["code"]) == (410, "upload_expired")
    assert sending.begin().status_code == 201


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "HEIF"])
def test_photo_comes_back_in_three_sizes(grounds, kind):
    content = picture(kind, (900, 600))
    photo = add_photo(grounds, content)
    assert Sending(grounds.keeper, grounds.site, content).send().status_code == 204
    for size in ("400", "1600"):
        answer = fetch(grounds.keeper, grounds, photo, size)
        assert (answer.status_code, answer.mimetype) == (200, "image/jpeg")
        assert answer.content_length == len(answer.data)
        copy = Image.open(io.BytesIO(answer.data))
        assert max(copy.size) == min(int(size), 900)
        assert "exif" not in copy.info
    original = fetch(grounds.keeper, grounds, photo, "original")
    assert original.data == content
    assert original.mimetype == {"JPEG": "image/jpeg", "PNG": "image/png", "HEIF": "image/heic"}[kind]


def test_photo_is_sent_so_that_no_browser_runs_it(grounds):
    content = picture()
    photo = add_photo(grounds, content, media_type="image/png")  # the row may be wrong about the kind
    Sending(grounds.keeper, grounds.site, content).send()
    for size in ("400", "original"):
        headers = fetch(grounds.keeper, grounds, photo, size).headers
        assert headers["Content-Type"] == "image/jpeg"
        assert headers["X-Content-Type-Options"] == "nosniff"
        assert headers["Content-Security-Policy"] == "sandbox"
        assert headers["Cache-Control"] == "private, max-age=31536000, immutable"
        assert headers["Content-Disposition"] == f'inline; filename="photo-{photo}-{size}.jpg"'


def test_photo_a_phone_has_is_not_sent_again(grounds):
    content = picture()
    photo = add_photo(grounds, content)
    Sending(grounds.keeper, grounds.site, content).send()
    tag = fetch(grounds.keeper, grounds, photo, "400").headers["ETag"]
    assert fetch(grounds.keeper, grounds, photo, "400", **{"If-None-Match": tag}).status_code == 304


@pytest.mark.parametrize(
    ("role", "status"), [("keeper", 200), ("surveyor", 200), ("helper", 403), ("reader", 403)]
)
def test_original_goes_only_to_roles_that_may_have_the_place(app, grounds, role, status):
    content = picture()
    photo = add_photo(grounds, content)
    Sending(grounds.keeper, grounds.site, content).send()
    guest = make_guest(app, grounds.keeper, grounds.site, role, "Guest Gale")
    assert fetch(guest, grounds, photo, "original").status_code == status
    assert fetch(guest, grounds, photo, "1600").status_code == 200


def test_reader_sends_no_photo(app, grounds):
    reader = make_guest(app, grounds.keeper, grounds.site, "reader", "Reader Rae")
    answer = Sending(reader, grounds.site, picture()).begin()
    assert (answer.status_code, answer.json["code"]) == (403, "not_allowed")


def test_other_sites_photo_is_as_if_it_were_not(app, grounds):
    content = picture()
    photo = add_photo(grounds, content)
    Sending(grounds.keeper, grounds.site, content).send()
    stranger = make_grounds(app).keeper
    assert fetch(stranger, grounds, photo, "400").status_code == 404
    outside = Sending(stranger, grounds.site, content)
    assert [outside.ask().status_code, outside.begin().status_code, outside.chunk(0).status_code] == [404] * 3


def test_same_bytes_on_another_site_are_wanted_there_too(app, grounds):
    content = picture()
    add_photo(grounds, content)
    Sending(grounds.keeper, grounds.site, content).send()
    elsewhere = make_grounds(app)
    other = Sending(elsewhere.keeper, elsewhere.site, content)
    assert other.ask().status_code == 404
    assert other.send().status_code == 204


@pytest.mark.parametrize("size", ["401", "0", "big", "original.jpg"])
def test_size_that_is_none_is_not_found(grounds, size):
    content = picture()
    photo = add_photo(grounds, content)
    Sending(grounds.keeper, grounds.site, content).send()
    assert fetch(grounds.keeper, grounds, photo, size).json["code"] == "photo_unknown"


def test_photo_that_has_not_arrived_says_so(grounds):
    photo = add_photo(grounds, picture())
    answer = fetch(grounds.keeper, grounds, photo, "400")
    assert (answer.status_code, answer.json["code"]) == (404, "photo_not_stored")


def test_photo_gone_from_its_folder_says_so(grounds, settings):
    content = picture()
    photo = add_photo(grounds, content)
    Sending(grounds.keeper, grounds.site, content).send()
    (original,) = settings.photo_folder.rglob(sha(content))
    original.unlink()
    for size in ("400", "original"):
        answer = fetch(grounds.keeper, grounds, photo, size)
        assert (answer.status_code, answer.json["code"]) == (404, "photo_lost")


@pytest.mark.parametrize("name", ["ab", "AB" * 32, "%2e%2e", "zz" * 32])
def test_name_that_is_no_hash_is_not_found(grounds, name):
    sending = Sending(grounds.keeper, grounds.site, b"x")
    sending.path = f"/api/blobs/{grounds.site}/{name}"
    assert sending.begin(1).status_code == 404


def test_stranger_and_page_without_its_token_send_nothing(app, grounds, sending):
    assert app.test_client().head(sending.path).status_code == 401
    sending.headers = {}
    answer = sending.begin()
    assert (answer.status_code, answer.json["code"]) == (403, "csrf_wrong")


def test_routes_are_documented_with_their_refusals(app):
    paths = app.test_client().get("/api/openapi.json").json["paths"]
    blob, photo = paths["/api/blobs/{site_id}/{sha256}"], paths["/api/photos/{site_id}/{photo_id}/{size}"]
    assert {"200", "401", "404"} <= set(blob["head"]["responses"])
    assert {"200", "201", "403", "413", "415", "422"} <= set(blob["put"]["responses"])
    assert {"204", "409", "410", "413", "415", "422", "460"} <= set(blob["patch"]["responses"])
    assert CHUNK in blob["patch"]["requestBody"]["content"]
    assert {"200", "401", "403", "404"} <= set(photo["get"]["responses"])
    assert "image/jpeg" in photo["get"]["responses"]["200"]["content"]
