"""What a camera file says about itself: place, heading, time, camera. Nothing here is trusted.

No EXIF reader is safe alone and none may be trusted not to raise: exifread is asked first for JPEG, Pillow
for PNG and HEIC, and the other one fills what the first did not find. What cannot be right is left out, what
is unlikely is kept; the names of both stand in `doubtful`. None of it replaces what the phone itself said.
"""

import math
import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from io import BytesIO
from typing import Any

import exifread
from PIL import ExifTags, Image

# The first edition of EXIF is of October 1995 (from memory): an earlier date is a clock that was reset.
_FIRST_YEAR = 1995
# How a picture is turned hangs on no day.
_ANY_DAY = date(2000, 1, 1)
_TEXT_LENGTH = 80
_AGREE_DEG = 1e-5  # about one metre
_UPRIGHT = 1
_WHEN = re.compile(r"(\d{4})[:/-](\d\d)[:/-](\d\d)[ T](\d\d):(\d\d):(\d\d)")
_OFFSET = re.compile(r"[+-](0\d|1[0-4]):[0-5]\d")
_GROUPS = (("lat", "lon"), ("heading_deg",), ("taken_at",), ("make",), ("model",))
_DOUBTED_WHEN_DAMAGED = _GROUPS[:3]
# A camera writes some 10 KB; a longer block would only make the readers work for nothing.
_LONGEST_BLOCK = 256 * 1024

Tags = dict[str, Any]

_EXIFREAD_NAMES = {
    "lat": "GPS GPSLatitude",
    "lat_ref": "GPS GPSLatitudeRef",
    "lon": "GPS GPSLongitude",
    "lon_ref": "GPS GPSLongitudeRef",
    "heading": "GPS GPSImgDirection",
    "heading_ref": "GPS GPSImgDirectionRef",
    "taken": "EXIF DateTimeOriginal",
    "taken_offset": "EXIF OffsetTimeOriginal",
    "digitized": "EXIF DateTimeDigitized",
    "digitized_offset": "EXIF OffsetTimeDigitized",
    "make": "Image Make",
    "model": "Image Model",
    "orientation": "Image Orientation",
}
_PILLOW_BASE = {
    "make": ExifTags.Base.Make,
    "model": ExifTags.Base.Model,
    "orientation": ExifTags.Base.Orientation,
}
_PILLOW_EXIF = {
    "taken": ExifTags.Base.DateTimeOriginal,
    "taken_offset": ExifTags.Base.OffsetTimeOriginal,
    "digitized": ExifTags.Base.DateTimeDigitized,
    "digitized_offset": ExifTags.Base.OffsetTimeDigitized,
}
_PILLOW_GPS = {
    "lat": ExifTags.GPS.GPSLatitude,
    "lat_ref": ExifTags.GPS.GPSLatitudeRef,
    "lon": ExifTags.GPS.GPSLongitude,
    "lon_ref": ExifTags.GPS.GPSLongitudeRef,
    "heading": ExifTags.GPS.GPSImgDirection,
    "heading_ref": ExifTags.GPS.GPSImgDirectionRef,
}


@dataclass(frozen=True)
class FileFacts:
    """What one file says. None: it does not say, or nothing that can be read.

    `taken_at` has an offset from UTC only if the file gives one; otherwise it is the camera's own clock.
    `orientation` is the EXIF number 1 to 8.
    """

    lat: float | None = None
    lon: float | None = None
    heading_deg: float | None = None
    taken_at: str | None = None
    make: str | None = None
    model: str | None = None
    doubtful: tuple[str, ...] = ()
    orientation: int = _UPRIGHT

    def as_json(self) -> dict[str, object]:
        """Return the `file_facts` shape of a photo row."""
        named = {name: getattr(self, name) for group in _GROUPS for name in group}
        return {**named, "doubtful": list(self.doubtful)}


@dataclass(frozen=True)
class _Answer:
    """What one reader found, and whether it stumbled."""

    facts: FileFacts
    failed: bool


class _CannotBeRightError(Exception):
    """A tag is there, but its value cannot be what it claims."""


def read_camera_file(exif: bytes, media_type: str, today: date) -> FileFacts:
    """Return what the file says; `exif` is its EXIF block, with or without the mark before it, or empty."""
    block = exif[:_LONGEST_BLOCK].removeprefix(b"Exif\0\0")
    if not block:
        return FileFacts()
    by_exifread, by_pillow = _by_exifread(block, today), _by_pillow(block, today)
    first, second = (by_exifread, by_pillow) if media_type == "image/jpeg" else (by_pillow, by_exifread)
    return _joined(first, second)


def read_orientation(exif: bytes, media_type: str) -> int:
    """Return the EXIF number 1 to 8 of how the picture is turned."""
    return read_camera_file(exif, media_type, _ANY_DAY).orientation


def _by_exifread(block: bytes, today: date) -> _Answer:
    strictly = _ask(lambda: _exifread_tags(block, strict=True), today)
    if not strictly.failed:
        return strictly
    # What is still legible in a damaged block is worth having, as doubtful.
    return replace(_ask(lambda: _exifread_tags(block, strict=False), today), failed=True)


def _by_pillow(block: bytes, today: date) -> _Answer:
    return _ask(lambda: _pillow_tags(block), today)


def _ask(read: Callable[[], Tags], today: date) -> _Answer:
    try:
        tags = read()
    # Both libraries raise anything on a damaged block (struct.error, KeyError, TypeError, SyntaxError, ...),
    # and a photo must not be lost for its EXIF. What failed shows up in `doubtful`.
    except Exception:  # noqa: BLE001
        return _Answer(FileFacts(), failed=True)
    return _Answer(_facts(tags, today), failed=False)


def _exifread_tags(block: bytes, strict: bool) -> Tags:
    found = exifread.process_file(BytesIO(block), details=False, extract_thumbnail=False, strict=strict)
    return {ours: found[theirs].values for ours, theirs in _EXIFREAD_NAMES.items() if theirs in found}


def _pillow_tags(block: bytes) -> Tags:
    exif = Image.Exif()
    exif.load(block)
    parts = (
        (exif, _PILLOW_BASE),
        (exif.get_ifd(ExifTags.IFD.Exif), _PILLOW_EXIF),
        (exif.get_ifd(ExifTags.IFD.GPSInfo), _PILLOW_GPS),
    )
    return {ours: part[tag] for part, names in parts for ours, tag in names.items() if tag in part}


def _joined(first: _Answer, second: _Answer) -> FileFacts:
    values: dict[str, Any] = {}
    doubtful: list[str] = []
    for group in _GROUPS:
        chosen = first if _has(first, group) or not _has(second, group) else second
        values.update({name: getattr(chosen.facts, name) for name in group})
        damaged = (first.failed or chosen.failed) and group in _DOUBTED_WHEN_DAMAGED and _has(chosen, group)
        doubted = {*first.facts.doubtful, *chosen.facts.doubtful}
        doubtful += [name for name in group if damaged or name in doubted or _differ(first, second, name)]
    turned = first.facts.orientation
    values["orientation"] = second.facts.orientation if turned == _UPRIGHT else turned
    return FileFacts(**values, doubtful=tuple(doubtful))


def _has(answer: _Answer, group: tuple[str, ...]) -> bool:
    return all(getattr(answer.facts, name) is not None for name in group)


def _differ(first: _Answer, second: _Answer, name: str) -> bool:
    one, other = getattr(first.facts, name), getattr(second.facts, name)
    if not isinstance(one, float) or not isinstance(other, float):
        return False
    return abs(one - other) > _AGREE_DEG


def _facts(tags: Tags, today: date) -> FileFacts:
    doubtful: list[str] = []
    lat, lon = _position(tags, doubtful)
    heading_deg = _heading_deg(tags, doubtful)
    taken_at = _taken_at(tags, today, doubtful)
    make, model = _text(tags.get("make")), _text(tags.get("model"))
    return FileFacts(lat, lon, heading_deg, taken_at, make, model, tuple(doubtful), _orientation(tags))


def _position(tags: Tags, doubtful: list[str]) -> tuple[float | None, float | None]:
    if "lat" not in tags and "lon" not in tags:
        return None, None
    try:
        lat = _degrees(tags.get("lat"), tags.get("lat_ref"), "NS", 90)
        lon = _degrees(tags.get("lon"), tags.get("lon_ref"), "EW", 180)
        if lat == 0 and lon == 0:
            raise _CannotBeRightError  # what cameras write while they have no position
    except _CannotBeRightError:
        doubtful += ["lat", "lon"]
        return None, None
    return lat, lon


def _degrees(parts: object, letter: object, letters: str, limit: float) -> float:
    if not isinstance(parts, list | tuple) or not 1 <= len(parts) <= 3:
        raise _CannotBeRightError
    sign = _text(letter)
    if sign is None or sign.upper() not in tuple(letters):
        raise _CannotBeRightError
    numbers = [_number(part) for part in parts] + [0.0] * (3 - len(parts))
    degrees = numbers[0] + numbers[1] / 60 + numbers[2] / 3600
    # Sixty itself comes from cameras that round the seconds up.
    if min(numbers) < 0 or max(numbers[1:]) > 60 or degrees > limit:
        raise _CannotBeRightError
    return round(-degrees if sign.upper() == letters[1] else degrees, 7)


def _heading_deg(tags: Tags, doubtful: list[str]) -> float | None:
    if "heading" not in tags:
        return None
    try:
        heading_deg = _number(_only(tags["heading"]))
        if not 0 <= heading_deg <= 360:
            raise _CannotBeRightError
    except _CannotBeRightError:
        doubtful.append("heading_deg")
        return None
    # T is true north; M is magnetic and off by the local declination, and no letter may mean either.
    if _text(tags.get("heading_ref")) != "T":
        doubtful.append("heading_deg")
    return round(heading_deg % 360, 2)


def _taken_at(tags: Tags, today: date, doubtful: list[str]) -> str | None:
    name = "taken" if _text(tags.get("taken")) else "digitized"
    written = _text(tags.get(name))
    if written is None or not written.strip(" :"):
        return None  # blanks are how EXIF writes "not known"
    found = _WHEN.match(written)
    try:
        taken = datetime(*(int(part) for part in found.groups())) if found else None  # type: ignore[arg-type]
    except ValueError:
        taken = None
    if taken is None:
        doubtful.append("taken_at")
        return None
    # A day's grace: the camera may stand in a time zone ahead of the server.
    if taken.year < _FIRST_YEAR or taken.date() > today + timedelta(days=1):
        doubtful.append("taken_at")
    offset = _text(tags.get(f"{name}_offset")) or ""
    return taken.isoformat() + (offset if _OFFSET.fullmatch(offset) else "")


def _orientation(tags: Tags) -> int:
    try:
        orientation = _number(_only(tags.get("orientation", _UPRIGHT)))
    except _CannotBeRightError:
        return _UPRIGHT
    return int(orientation) if orientation in range(1, 9) else _UPRIGHT


def _only(value: object) -> object:
    if isinstance(value, list | tuple):
        if len(value) != 1:
            raise _CannotBeRightError
        return value[0]
    return value


def _number(value: Any) -> float:
    """Return a rational or plain number as float; both libraries let a denominator of zero through."""
    try:
        number = value.numerator / value.denominator if hasattr(value, "denominator") else float(value)
    except (ArithmeticError, TypeError, ValueError) as error:
        raise _CannotBeRightError from error
    if not math.isfinite(number):
        raise _CannotBeRightError
    return float(number)


def _text(value: object) -> str | None:
    if not isinstance(value, str):
        return None
    return _printable(value.split("\0")[0]) or None


def _printable(letters: Iterable[str]) -> str:
    return "".join(letter for letter in letters if letter.isprintable()).strip()[:_TEXT_LENGTH]
