"""From a lit wall to a camera file: scale stick, camera facts (EXIF), JPEG bytes."""

from dataclasses import dataclass
from datetime import datetime
from io import BytesIO
from random import Random

from PIL import Image, ImageDraw, ImageFilter

MAKE, MODEL = "Makegood drawn picture", "Invented 1"
QUALITY = 61
STICK_BAND_MM, STICK_WIDE_MM = 50, 30


@dataclass(frozen=True)
class CameraFacts:
    """What the camera file says of itself: position in degrees, heading in degrees from north, local time."""

    lat: float
    lon: float
    heading_deg: float
    taken_at: datetime


def add_stick(picture: Image.Image, rng: Random, at: tuple[int, int] = (60, 820), long_mm: int = 500) -> None:
    """Lay a scale stick on the wall: 50 mm bands, a tick each 10 mm, one pixel being one millimetre."""
    stick = Image.new("RGBA", (long_mm, STICK_WIDE_MM), (246, 244, 236, 255))
    pen = ImageDraw.Draw(stick)
    for n, left in enumerate(range(0, long_mm, STICK_BAND_MM)):
        if n % 2:
            pen.rectangle([left, 0, left + STICK_BAND_MM, STICK_WIDE_MM], fill=(186, 44, 36, 255))
        for tick in range(left, left + STICK_BAND_MM, 10):
            pen.line([(tick, 0), (tick, 8)], fill=(30, 30, 30, 255))
    pen.rectangle([0, 0, long_mm - 1, STICK_WIDE_MM - 1], outline=(60, 56, 50, 255))
    turned = stick.rotate(rng.uniform(-2.5, 2.5), Image.Resampling.BICUBIC, expand=True)
    shape = turned.getchannel("A")
    shadow = Image.new("L", picture.size, 0)
    shadow.paste(shape, (at[0] + 6, at[1] + 7))
    shade = shadow.filter(ImageFilter.GaussianBlur(3)).point([int(v * 0.55) for v in range(256)])
    picture.paste((52, 48, 56), (0, 0, *picture.size), shade)
    picture.paste(turned.convert("RGB"), at, shape)


def _degrees(value: float) -> tuple[float, float, float]:
    whole = abs(value)
    minutes = whole % 1 * 60
    return float(int(whole)), float(int(minutes)), round(minutes % 1 * 60, 3)


def exif_of(facts: CameraFacts, orientation: int = 1) -> Image.Exif:
    """Return the EXIF block of one picture."""
    exif = Image.Exif()
    local = facts.taken_at.strftime("%Y:%m:%d %H:%M:%S")
    exif[0x010F], exif[0x0110], exif[0x0112], exif[0x0132] = MAKE, MODEL, orientation, local
    exif[0x8769] = {0x9003: local, 0x9011: facts.taken_at.strftime("%z")[:3] + ":00"}
    exif[0x8825] = {
        1: "N" if facts.lat >= 0 else "S",
        2: _degrees(facts.lat),
        3: "E" if facts.lon >= 0 else "W",
        4: _degrees(facts.lon),
        16: "T",
        17: round(facts.heading_deg % 360, 1),
    }
    return exif


def jpeg_bytes(picture: Image.Image, facts: CameraFacts | None, portrait: bool = False) -> bytes:
    """Encode a picture; a portrait one is stored lying down with the turn named in its EXIF, as phones do."""
    out = BytesIO()
    if facts is None:
        picture.save(out, "JPEG", quality=QUALITY)
    elif portrait:
        lying = picture.transpose(Image.Transpose.ROTATE_90)
        lying.save(out, "JPEG", quality=QUALITY, exif=exif_of(facts, 6))
    else:
        picture.save(out, "JPEG", quality=QUALITY, exif=exif_of(facts))
    return out.getvalue()
