"""One photo as a picture: is it one, how large is it, and its upright copies without metadata.

The kind is told by content, never by name. Size is judged from the header, before anything is decoded.
"""

import threading
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from io import BytesIO
from typing import BinaryIO

import pillow_heif
from PIL import Image, ImageCms

from makegood.errors import BadInput, MakegoodError, TooLarge, WrongKind

COPY_SIZES_PX = (1600, 400)
# A preview travels before its original, over the weakest line.
PREVIEW_PX = 320
PREVIEW_BYTES = 64 * 1024
MAX_BYTES = 25 * 1024 * 1024
# 8192 x 6144, the largest picture of a phone sensor sold as 50 megapixels.
MAX_PIXELS = 8192 * 6144
_QUALITY = 80
# Lets libjpeg decode at half size: 0.7 of the time of a full decode, measured on 12 megapixels.
_REDUCING_GAP = 1.1
_HEAD_BYTES = 256
_HEIC_BRANDS = {b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx"}
_FORMATS = {"image/jpeg": ["JPEG"], "image/png": ["PNG"], "image/heic": ["HEIF"]}
_SRGB = ImageCms.createProfile("sRGB")
# One at a time: the largest picture taken needs up to 500 MB while it is made small (measured, palette PNG).
_DECODING = threading.Lock()
# How to turn a picture upright, by EXIF orientation.
_TURNS = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}
_REFUSALS: dict[str, tuple[type[MakegoodError], str]] = {
    "not_a_picture": (
        WrongKind,
        "This file is not a JPEG, PNG or HEIC photo. Choose a photo taken with the camera.",
    ),
    "picture_damaged": (
        BadInput,
        "This photo is damaged or cut short. Take it again, or choose another copy of it.",
    ),
    "picture_too_many_pixels": (
        TooLarge,
        "This picture has more than 50 million pixels. Set the camera to a smaller picture size.",
    ),
    "photo_too_large": (
        TooLarge,
        "This photo is larger than 25 MB. Set the camera to a smaller picture size.",
    ),
    "preview_refused": (
        WrongKind,
        "A preview is a JPEG of at most 320 px and 64 KB, without metadata. Send the photo itself.",
    ),
}

Image.MAX_IMAGE_PIXELS = MAX_PIXELS
warnings.simplefilter("error", Image.DecompressionBombWarning)
# Without thumbnails: Pillow would otherwise hand out the small embedded picture in place of the photo.
pillow_heif.register_heif_opener(thumbnails=False)


@dataclass(frozen=True)
class Header:
    """What the head of a picture tells without decoding it; width and height before it is turned upright.

    `has_more`: besides EXIF it carries other text, an XMP or IPTC block, a comment.
    """

    media_type: str
    width_px: int
    height_px: int
    exif: bytes
    has_more: bool = False


def refusal(code: str) -> MakegoodError:
    """Return the refusal of a picture for a code given before."""
    kind, sentence = _REFUSALS[code]
    return kind(code, sentence)


def read_header(content: BinaryIO) -> Header:
    """Return kind and size of a picture; raise if it is none, is damaged or has too many pixels."""
    media_type = _media_type(content)
    with _opened(content, media_type) as image:
        exif = image.info.get("exif")
        has_more = any(image.info.get(name) for name in ("xmp", "comment", "photoshop"))
        return Header(media_type, *image.size, exif if isinstance(exif, bytes) else b"", has_more)


def check_preview(header: Header, length: int) -> None:
    """Raise unless this is a small JPEG that says nothing about place, time or camera."""
    if length > PREVIEW_BYTES or not is_small_jpeg(header.media_type, header.width_px, header.height_px):
        raise refusal("preview_refused")
    if header.exif or header.has_more:
        raise refusal("preview_refused")


def is_small_jpeg(media_type: str | None, width_px: int | None, height_px: int | None) -> bool:
    """Tell whether a picture of this kind and size can be a preview."""
    return media_type == "image/jpeg" and max(width_px or 0, height_px or 0) <= PREVIEW_PX


def decoding() -> threading.Lock:
    """Return what to hold while a picture is decoded, by whomever."""
    return _DECODING


def check_whole(content: BinaryIO, media_type: str) -> None:
    """Raise unless the picture can be decoded to its last byte; a JPEG is, at the smallest scale, in a fraction of the time."""
    with _opened(content, media_type) as image:
        image.draft(None, (1, 1))
        image.load()


def make_copies(content: BinaryIO, media_type: str, orientation: int) -> dict[int, bytes]:
    """Return a JPEG for each of COPY_SIZES_PX (longest side, never enlarged): upright, sRGB, no metadata."""
    copies: dict[int, bytes] = {}
    with _opened(content, media_type) as image:
        profile = image.info.get("icc_profile")
        small = _smooth(image)
        _shrink(small, COPY_SIZES_PX[0])
        small = _opaque_srgb(turned_upright(small, orientation, media_type), profile)
        for size_px in COPY_SIZES_PX:
            _shrink(small, size_px)
            copies[size_px] = _as_jpeg(small)
    return copies


def upright_size(header: Header, orientation: int) -> tuple[int, int]:
    """Return width and height as a person sees the picture."""
    on_its_side = orientation >= 5 and header.media_type != "image/heic"
    return (header.height_px, header.width_px) if on_its_side else (header.width_px, header.height_px)


def turned_upright(image: Image.Image, orientation: int, media_type: str) -> Image.Image:
    """Return the picture as seen. A HEIC is turned while it is decoded, whatever its EXIF says."""
    turn = None if media_type == "image/heic" else _TURNS.get(orientation)
    return image if turn is None else image.transpose(turn)


def _media_type(content: BinaryIO) -> str:
    content.seek(0)
    head = content.read(_HEAD_BYTES)
    if head.startswith(b"\xff\xd8\xff"):
        return "image/jpeg"
    if head.startswith(b"\x89PNG\r\n\x1a\n"):
        return "image/png"
    if head[4:8] == b"ftyp" and _brands(head) & _HEIC_BRANDS:
        return "image/heic"
    raise refusal("not_a_picture")


def _brands(head: bytes) -> set[bytes]:
    end = min(int.from_bytes(head[:4], "big"), len(head))
    return {head[8:12]} | {head[i : i + 4] for i in range(16, end - 3, 4)}


@contextmanager
def _opened(content: BinaryIO, media_type: str) -> Iterator[Image.Image]:
    content.seek(0)
    try:
        with Image.open(content, formats=_FORMATS[media_type]) as image:
            if image.width * image.height > MAX_PIXELS:
                raise refusal("picture_too_many_pixels")
            yield image
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        raise refusal("picture_too_many_pixels") from error
    except (MakegoodError, MemoryError):
        raise
    # Decoders raise anything on damaged bytes (OSError, SyntaxError, ValueError, RuntimeError, ...),
    # and everything inside this block is reading one picture.
    except Exception as error:
        raise refusal("picture_damaged") from error


def _smooth(image: Image.Image) -> Image.Image:
    """Return the picture in a mode Pillow scales smoothly; of palettes and bits it leaves pixels out."""
    if image.mode.startswith("I;16"):
        return image.point(lambda value: value / 256).convert("L")
    if image.mode in {"P", "PA", "LA"} or "transparency" in image.info:
        return image.convert("RGBA")
    return image.convert("L") if image.mode == "1" else image


def _shrink(image: Image.Image, size_px: int) -> None:
    """Scale the picture in place so that its longest side is at most size_px."""
    part = min(1.0, size_px / max(image.size))
    # The true shape, not a square: Pillow decodes at half size only if both sides ask for that little.
    width_px, height_px = (max(1, round(side * part)) for side in image.size)
    image.thumbnail((width_px, height_px), reducing_gap=_REDUCING_GAP)


def _opaque_srgb(image: Image.Image, profile: object) -> Image.Image:
    """Return the picture in sRGB, on white where it was see-through, with nothing attached to it."""
    alpha = image.getchannel("A") if image.mode == "RGBA" else None
    colours = _in_srgb(image.convert("RGB") if alpha else image, profile)
    sheet = Image.new("RGB", image.size, "white")
    sheet.paste(colours, mask=alpha)
    return sheet


def _in_srgb(image: Image.Image, profile: object) -> Image.Image:
    if isinstance(profile, bytes) and profile:
        try:
            converted = ImageCms.profileToProfile(image, BytesIO(profile), _SRGB, outputMode="RGB")
        except (ImageCms.PyCMSError, OSError, ValueError):
            # A profile that does not fit its picture: colours a little off are better than no copy.
            return image.convert("RGB")
        if converted is not None:
            return converted
    return image.convert("RGB")


def _as_jpeg(image: Image.Image) -> bytes:
    out = BytesIO()
    image.save(out, "JPEG", quality=_QUALITY, progressive=False)
    return out.getvalue()
