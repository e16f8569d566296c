"""Picture files as phones and people hand them over: sound, without a place, with one, damaged, false and huge."""

import struct
import zlib
from io import BytesIO

from PIL import Image, ImageDraw

_GPS_IFD = 0x8825
_MAKE = 0x010F


def _wall(seed: int) -> Image.Image:
    """Return a small picture of a plastered wall with a dark patch; another seed, other bytes."""
    picture = Image.new("RGB", (640, 480), (214 - seed % 20, 200, 176))
    draw = ImageDraw.Draw(picture)
    draw.ellipse((120 + seed, 90, 320 + seed, 300), fill=(120, 84, 60))
    draw.line((20, 400, 600, 380 - seed), fill=(60, 44, 32), width=5)
    return picture


def jpeg(seed: int) -> bytes:
    """Return a JPEG without any word about place or time, as most browsers hand it over."""
    out = BytesIO()
    _wall(seed).save(out, "JPEG", quality=88)
    return out.getvalue()


def jpeg_with_place(seed: int, *, latitude: bool = True) -> bytes:
    """Return a JPEG whose camera wrote its place (48.5 N, 9.25 W) into it; without `latitude` only half of it."""
    picture = _wall(seed)
    exif = picture.getexif()
    exif[_MAKE] = "Invented Camera"
    half = {3: "W", 4: (9.0, 15.0, 0.0)}
    exif.get_ifd(_GPS_IFD).update({1: "N", 2: (48.0, 30.0, 0.0), **half} if latitude else half)
    out = BytesIO()
    picture.save(out, "JPEG", quality=88, exif=exif)
    return out.getvalue()


def truncated_jpeg(seed: int) -> bytes:
    """Return a JPEG that stops half way, as a full card leaves it."""
    whole = jpeg(seed)
    return whole[: len(whole) // 2]


def _chunk(kind: bytes, content: bytes) -> bytes:
    return struct.pack(">I", len(content)) + kind + content + struct.pack(">I", zlib.crc32(kind + content))


def huge_png() -> bytes:
    """Return a PNG of a few hundred bytes that claims 50,000 by 50,000 pixels."""
    head = struct.pack(">IIBBBBB", 50_000, 50_000, 8, 2, 0, 0, 0)
    rows = zlib.compress(bytes(100_000))
    return b"\x89PNG\r\n\x1a\n" + _chunk(b"IHDR", head) + _chunk(b"IDAT", rows) + _chunk(b"IEND", b"")


def text_named_jpg() -> bytes:
    """Return what is no picture at all, whatever its name says."""
    return b"Gutter list: north side, west gable.\n" * 40
