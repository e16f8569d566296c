"""EXIF of real cameras against an independent reader: the Go package of camera_files.py, 0.0~git20190401.

Tolerance: text and times equal; degrees to 1e-6, worked out here from the fractions it lists.
"""

import json
from datetime import date
from fractions import Fraction

import pytest

from makegood.work.camera_file import read_camera_file
from tests.reference.camera_files import MISSING, damaged_photos, exif_block, expected, photos

TODAY = date(2026, 11, 25)
EXPECTED = expected()
KNOWN = [photo for photo in photos() if photo.name in EXPECTED]
# Says its make and model in the wrong directory, and its position as text: read by itself below.
ODD = "geodegrees_as_string.jpg"

pytestmark = [
    pytest.mark.skipif(not KNOWN, reason=MISSING),
    pytest.mark.filterwarnings("ignore::UserWarning"),  # Pillow remarks on damaged blocks
]


def said(photo, tag):
    """Return one tag as the other reader has it, as text; None where it is blank or absent."""
    value = EXPECTED[photo.name].get(tag)
    return (json.loads(value).strip() or None) if value and value.startswith('"') else value


def degrees(photo, axis):
    """Return one half of the position worked out from the other reader's fractions; None if there is none."""
    written = EXPECTED[photo.name].get(f"GPS{axis}")
    if not written or not written.startswith("["):
        return None
    whole, minutes, seconds = (Fraction(part) for part in json.loads(written))
    sign = -1 if said(photo, f"GPS{axis}Ref") in ("S", "W") else 1
    return float(sign * (whole + minutes / 60 + seconds / 3600))


def read(photo):
    """Return what this project reads."""
    return read_camera_file(exif_block(photo), "image/jpeg", TODAY)


def test_the_set_is_the_one_described():
    assert len(KNOWN) >= 57
    assert len(damaged_photos()) == 3


@pytest.mark.parametrize("photo", [p for p in KNOWN if p.name != ODD], ids=lambda p: p.stem[:19])
def test_camera_and_orientation_agree(photo):
    found = read(photo)
    assert (found.make, found.model) == (said(photo, "Make"), said(photo, "Model"))
    assert found.orientation == int(said(photo, "Orientation") or 1)


@pytest.mark.parametrize("photo", KNOWN, ids=lambda p: p.stem[:19])
def test_time_agrees_and_the_future_is_doubtful(photo):
    found = read(photo)
    when = said(photo, "DateTimeOriginal") or said(photo, "DateTimeDigitized")
    day, _, clock = (when or "").partition(" ")
    assert found.taken_at == (f"{day.replace(':', '-')}T{clock}" if when else None)
    assert ("taken_at" in found.doubtful) == (when is not None and int(day[:4]) > 2026)


@pytest.mark.parametrize("photo", KNOWN, ids=lambda p: p.stem[:19])
def test_position_agrees_and_zero_zero_is_none(photo):
    found = read(photo)
    lat, lon = degrees(photo, "Latitude"), degrees(photo, "Longitude")
    if lat is None or (lat, lon) == (0, 0):
        assert (found.lat, found.lon) == (None, None)
        assert ("lat" in found.doubtful) == ("GPSLatitude" in EXPECTED[photo.name])
    else:
        assert (found.lat, found.lon) == (pytest.approx(lat, abs=1e-6), pytest.approx(lon, abs=1e-6))
        assert found.doubtful == ()


def test_some_photos_have_a_position_a_heading_and_a_date_in_the_future():
    found = [read(photo) for photo in KNOWN]
    assert sum(facts.lat is not None for facts in found) >= 2
    assert sum(facts.heading_deg is not None for facts in found) >= 1
    assert sum("taken_at" in facts.doubtful for facts in found) == 2


@pytest.mark.parametrize("photo", damaged_photos(), ids=lambda p: p.stem)
def test_position_out_of_a_damaged_block_is_doubtful(photo):
    found = read(photo)
    assert found.lat is None or {"lat", "lon"} <= set(found.doubtful)


def test_one_damaged_block_at_least_still_gives_its_position():
    assert any(read(photo).lat is not None for photo in damaged_photos())
