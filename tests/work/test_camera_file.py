"""What a camera file says: read where it can be right, left out or marked doubtful where it cannot."""

from datetime import date, timedelta

import pytest
from PIL import ExifTags, Image
from PIL.TiffImagePlugin import IFDRational

from makegood.work import camera_file
from makegood.work.camera_file import FileFacts, read_camera_file

TODAY = date(2026, 11, 25)
NORTH, EAST = (
    (IFDRational(51), IFDRational(30), IFDRational(36)),
    (IFDRational(0), IFDRational(7), IFDRational(39)),
)
GPS = ExifTags.GPS


def block(base: dict | None = None, exif: dict | None = None, gps: dict | None = None) -> bytes:
    """Return an EXIF block with these tags."""
    made = Image.Exif()
    made.update(base or {})
    made.get_ifd(ExifTags.IFD.Exif).update(exif or {})
    made.get_ifd(ExifTags.IFD.GPSInfo).update(gps or {})
    return made.tobytes()


def facts(
    base: dict | None = None, exif: dict | None = None, gps: dict | None = None, kind: str = "image/jpeg"
) -> FileFacts:
    """Return what a file with these tags says."""
    return read_camera_file(block(base, exif, gps), kind, TODAY)


def position(**changed: object) -> dict:
    """Return GPS tags of a sound position; a change to None leaves the tag out."""
    tags = {
        "GPSLatitudeRef": "N",
        "GPSLatitude": NORTH,
        "GPSLongitudeRef": "W",
        "GPSLongitude": EAST,
        **changed,
    }
    return {GPS[name]: value for name, value in tags.items() if value is not None}


def taken(when: str, offset: str | None = None) -> FileFacts:
    """Return what a file taken then says."""
    tags = {ExifTags.Base.DateTimeOriginal: when}
    if offset:
        tags[ExifTags.Base.OffsetTimeOriginal] = offset
    return facts(exif=tags)


@pytest.mark.parametrize("kind", ["image/jpeg", "image/png", "image/heic"])
def test_sound_file_is_read_whole(kind):
    direction = {GPS.GPSImgDirection: IFDRational(1715, 10), GPS.GPSImgDirectionRef: "T"}
    found = facts(
        {ExifTags.Base.Make: "Plainly", ExifTags.Base.Model: "Invented 3", ExifTags.Base.Orientation: 6},
        {ExifTags.Base.DateTimeOriginal: "2026:11:20 09:12:04", ExifTags.Base.OffsetTimeOriginal: "+01:00"},
        {**position(), **direction},
        kind,
    )
    assert found == FileFacts(
        51.51,
        -0.1275,
        171.5,
        "2026-11-20T09:12:04+01:00",
        "Plainly",
        "Invented 3",
        doubtful=(),
        orientation=6,
    )


def test_json_has_the_agreed_names():
    assert set(FileFacts().as_json()) == {
        "lat",
        "lon",
        "heading_deg",
        "taken_at",
        "make",
        "model",
        "doubtful",
    }


@pytest.mark.parametrize("exif", [b"", b"Exif\0\0", b"II*\0\x08\0\0\0\0\0\0\0\0\0"])
def test_file_that_says_nothing_gives_nothing(exif):
    assert read_camera_file(exif, "image/jpeg", TODAY) == FileFacts()


@pytest.mark.parametrize(
    "changed",
    [
        {"GPSLatitude": None},
        {"GPSLongitude": None},
        {"GPSLatitudeRef": None},
        {"GPSLongitudeRef": None},
        {"GPSLatitudeRef": "X"},
        {"GPSLatitudeRef": "E"},
        {"GPSLatitude": (IFDRational(51, 0), IFDRational(30), IFDRational(36))},
        {"GPSLatitude": (IFDRational(91), IFDRational(0), IFDRational(0))},
        {"GPSLatitude": (IFDRational(51), IFDRational(61), IFDRational(0))},
        {"GPSLongitude": (IFDRational(180), IFDRational(0), IFDRational(1))},
        {"GPSLongitude": (IFDRational(4294967295), IFDRational(0), IFDRational(0))},
        {"GPSLatitude": (IFDRational(0),) * 3, "GPSLongitude": (IFDRational(0),) * 3},
    ],
)
def test_position_that_cannot_be_right_is_left_out_and_doubtful(changed):
    found = facts(gps=position(**changed))
    assert (found.lat, found.lon) == (None, None)
    assert set(found.doubtful) == {"lat", "lon"}


def test_position_on_the_equator_is_taken():
    found = facts(gps=position(GPSLatitude=(IFDRational(0),) * 3))
    assert (found.lat, found.lon, found.doubtful) == (0.0, -0.1275, ())


def test_south_and_east_have_their_signs():
    found = facts(gps=position(GPSLatitudeRef="S", GPSLongitudeRef="E"))
    assert (found.lat, found.lon) == (-51.51, 0.1275)


@pytest.mark.parametrize(
    ("degrees", "letter", "heading_deg", "doubtful"),
    [
        (IFDRational(90), "T", 90.0, ()),
        (IFDRational(360), "T", 0.0, ()),
        (IFDRational(90), "M", 90.0, ("heading_deg",)),
        (IFDRational(90), None, 90.0, ("heading_deg",)),
        (IFDRational(361), "T", None, ("heading_deg",)),
        (IFDRational(90, 0), "T", None, ("heading_deg",)),
    ],
)
def test_heading_is_true_north_or_doubtful(degrees, letter, heading_deg, doubtful):
    tags = {GPS.GPSImgDirection: degrees, **({GPS.GPSImgDirectionRef: letter} if letter else {})}
    found = facts(gps=tags)
    assert (found.heading_deg, found.doubtful) == (heading_deg, doubtful)


def test_time_without_offset_stays_the_cameras_own():
    assert taken("2026:11:20 09:12:04").taken_at == "2026-11-20T09:12:04"
    assert taken("2026:11:20 09:12:04", "+1h").taken_at == "2026-11-20T09:12:04"
    assert taken("2026:11:20 09:12:04", "-05:30").taken_at == "2026-11-20T09:12:04-05:30"


@pytest.mark.parametrize(
    "when", ["0000:00:00 00:00:00", "2026:02:30 10:00:00", "1999:99:99 99:99:99", "last Tuesday"]
)
def test_time_that_is_none_is_left_out_and_doubtful(when):
    found = taken(when)
    assert (found.taken_at, found.doubtful) == (None, ("taken_at",))


@pytest.mark.parametrize("when", ["", "    :  :     :  :  "])
def test_blank_time_is_simply_unknown(when):
    found = taken(when)
    assert (found.taken_at, found.doubtful) == (None, ())


@pytest.mark.parametrize(
    ("days", "doubtful"), [(0, ()), (1, ()), (2, ("taken_at",)), (26_000, ("taken_at",))]
)
def test_time_beyond_tomorrow_is_kept_but_doubtful(days, doubtful):
    day = TODAY + timedelta(days=days)
    found = taken(f"{day:%Y:%m:%d} 12:00:00")
    assert found.taken_at == f"{day.isoformat()}T12:00:00"
    assert found.doubtful == doubtful


def test_time_before_there_was_exif_is_doubtful():
    assert taken("1980:01:01 00:00:00").doubtful == ("taken_at",)


def test_time_of_a_scan_serves_where_the_shutter_gave_none():
    assert (
        facts(exif={ExifTags.Base.DateTimeDigitized: "2026:11:20 09:12:04"}).taken_at == "2026-11-20T09:12:04"
    )


@pytest.mark.parametrize("orientation", [0, 9, 65535])
def test_orientation_outside_1_to_8_means_upright(orientation):
    assert facts({ExifTags.Base.Orientation: orientation}).orientation == 1


def test_camera_names_are_cut_and_cleaned():
    found = facts({ExifTags.Base.Make: "  Plainly\x07 \0rubbish", ExifTags.Base.Model: "m" * 500})
    assert found.make == "Plainly"
    assert found.model == "m" * 80


@pytest.mark.parametrize("broken", ["_exifread_tags", "_pillow_tags"])
@pytest.mark.parametrize("kind", ["image/jpeg", "image/heic"])
def test_one_reader_raising_leaves_the_other(monkeypatch, broken, kind):
    def fall_over(*_: object, **__: object) -> None:
        raise KeyError("what real files made it raise")

    monkeypatch.setattr(camera_file, broken, fall_over)
    found = facts({ExifTags.Base.Make: "Plainly"}, gps=position(), kind=kind)
    assert (found.lat, found.lon, found.make) == (51.51, -0.1275, "Plainly")
    asked_first = "_exifread_tags" if kind == "image/jpeg" else "_pillow_tags"
    assert found.doubtful == (("lat", "lon") if broken == asked_first else ())


def test_both_readers_raising_loses_no_photo(monkeypatch):
    def fall_over(*_: object, **__: object) -> None:
        raise TypeError("what real files made them raise")

    monkeypatch.setattr(camera_file, "_exifread_tags", fall_over)
    monkeypatch.setattr(camera_file, "_pillow_tags", fall_over)
    assert facts(gps=position()) == FileFacts()


def test_readers_that_disagree_on_the_place_make_it_doubtful(monkeypatch):
    elsewhere = {"lat": [52, 0, 0], "lat_ref": "N", "lon": [0, 7, 39], "lon_ref": "W"}
    monkeypatch.setattr(camera_file, "_pillow_tags", lambda block: elsewhere)
    found = facts(gps=position())
    assert found.lat == 51.51
    assert found.doubtful == ("lat",)


@pytest.mark.filterwarnings("ignore::UserWarning")  # Pillow remarks on each
def test_every_cut_and_every_flipped_byte_is_survived():
    sound = block(
        {ExifTags.Base.Make: "Plainly"}, {ExifTags.Base.DateTimeOriginal: "2026:11:20 09:12:04"}, position()
    )
    for at in range(len(sound)):
        flipped = bytearray(sound)
        flipped[at] ^= 0xFF
        for damaged in (bytes(flipped), sound[:at]):
            found = read_camera_file(damaged, "image/jpeg", TODAY)
            assert found.lat is None or (-90 <= found.lat <= 90 and -180 <= found.lon <= 180)
