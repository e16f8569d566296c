"""Pictures: told by content, judged by their header, copied upright and without metadata."""

import io
import struct
import subprocess
import sys
import zlib
from pathlib import Path

import pytest
from PIL import Image, ImageChops, ImageCms, ImageStat

from makegood.errors import MakegoodError
from makegood.work.picture import COPY_SIZES_PX, MAX_PIXELS, make_copies, read_header, upright_size

RED, GREEN, BLUE, WHITE = (200, 30, 30), (30, 160, 40), (30, 40, 200), (250, 250, 250)
# The turn that makes the file of an upright picture, by EXIF orientation.
STORED_BY = {
    1: None,
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_90,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_270,
}


def corners(width_px: int = 80, height_px: int = 48) -> Image.Image:
    """Return a picture with red, green / blue, white in its corners."""
    image = Image.new("RGB", (width_px, height_px))
    for n, colour in enumerate((RED, GREEN, BLUE, WHITE)):
        at = (n % 2 * width_px // 2, n // 2 * height_px // 2)
        image.paste(colour, (*at, at[0] + width_px // 2, at[1] + height_px // 2))
    return image


def saved(image: Image.Image, kind: str = "JPEG", **options: object) -> bytes:
    """Return the picture as a file."""
    out = io.BytesIO()
    image.save(out, kind, **options)
    return out.getvalue()


def opened(content: bytes) -> Image.Image:
    """Return a decoded copy."""
    image = Image.open(io.BytesIO(content))
    image.load()
    return image


def copies_of(content: bytes, orientation: int = 1) -> dict[int, Image.Image]:
    """Return the copies the server would make, decoded."""
    stream = io.BytesIO(content)
    made = make_copies(stream, read_header(stream).media_type, orientation)
    return {size_px: opened(copy) for size_px, copy in made.items()}


def corner_colours(image: Image.Image) -> list[tuple[int, ...]]:
    """Return the colours in the middle of the four quarters."""
    width, height = image.size
    return [image.getpixel((int(width * x), int(height * y))) for y in (0.25, 0.75) for x in (0.25, 0.75)]


def close(one: tuple[int, ...], other: tuple[int, ...], by: int = 12) -> bool:
    """Tell whether two colours differ by no more than JPEG does."""
    return all(abs(a - b) <= by for a, b in zip(one, other, strict=True))


def png_chunk(name: bytes, body: bytes) -> bytes:
    """Return one chunk of a PNG file."""
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))


def png_of_size(width_px: int, height_px: int) -> bytes:
    """Return a small PNG whose header announces a picture of this size."""
    header = struct.pack(">IIBBBBB", width_px, height_px, 8, 2, 0, 0, 0)
    parts = (
        png_chunk(b"IHDR", header),
        png_chunk(b"IDAT", zlib.compress(bytes(1000))),
        png_chunk(b"IEND", b""),
    )
    return b"\x89PNG\r\n\x1a\n" + b"".join(parts)


def refused(content: bytes) -> MakegoodError:
    """Return the refusal these bytes meet."""
    with pytest.raises(MakegoodError) as caught:
        copies_of(content)
    return caught.value


def jpeg_markers(content: bytes) -> list[int]:
    """Return the markers of a JPEG file up to the picture itself."""
    markers, at = [], 2
    while content[at + 1] != 0xDA:
        markers.append(content[at + 1])
        at += 2 + int.from_bytes(content[at + 2 : at + 4], "big")
    return markers


@pytest.mark.parametrize(
    ("kind", "media_type"), [("JPEG", "image/jpeg"), ("PNG", "image/png"), ("HEIF", "image/heic")]
)
def test_kind_and_size_come_from_the_content(kind, media_type):
    header = read_header(io.BytesIO(saved(corners(), kind)))
    assert (header.media_type, header.width_px, header.height_px) == (media_type, 80, 48)


@pytest.mark.parametrize("kind", ["GIF", "TIFF", "BMP", "WEBP", "PPM"])
def test_other_kinds_of_picture_are_refused(kind):
    assert refused(saved(corners(), kind)).code == "not_a_picture"


@pytest.mark.parametrize(
    "content", [b"", b"x", b"Fell off in the storm.\n" * 40, b"%!PS-Adobe-3.0 EPSF-3.0\n"]
)
def test_text_named_as_a_photo_is_refused_with_a_sentence(content):
    error = refused(content)
    assert (error.code, error.status) == ("not_a_picture", 415)
    assert error.message.startswith("This file is not a JPEG, PNG or HEIC photo.")


def test_avif_is_refused_though_it_shares_its_box_with_heic():
    head = struct.pack(">I4s4sI4s4s", 24, b"ftyp", b"avif", 0, b"mif1", b"avif") + bytes(200)
    assert refused(head).code == "not_a_picture"


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "HEIF"])
@pytest.mark.parametrize("part", [0.3, 0.6, 0.9])
def test_photo_cut_short_is_refused_as_damaged(kind, part):
    noise = Image.effect_noise((160, 120), 80).convert("RGB")
    content = saved(noise, kind)
    error = refused(content[: int(len(content) * part)])
    assert (error.code, error.status) == ("picture_damaged", 422)


def test_only_the_first_bytes_of_a_photo_are_refused_as_damaged():
    for start in (b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n", saved(corners(), "HEIF")[:40]):
        assert refused(start).code == "picture_damaged"


@pytest.mark.filterwarnings("ignore::PIL.Image.DecompressionBombWarning")  # pytest resets what the module set
@pytest.mark.parametrize("size", [(50_000, 50_000), (8193, 6144), (2**31 - 1, 1)])
def test_picture_with_too_many_pixels_is_refused_from_its_header(size):
    error = refused(png_of_size(*size))
    assert (error.code, error.status) == ("picture_too_many_pixels", 413)


def test_largest_phone_picture_passes_the_header():
    header = read_header(io.BytesIO(png_of_size(8192, 6144)))
    assert header.width_px * header.height_px == MAX_PIXELS


def test_pixel_flood_costs_less_than_a_second_and_200_mb(tmp_path):
    flood = tmp_path / "flood.png"
    flood.write_bytes(png_of_size(50_000, 50_000))
    # The peak that getrusage tells is the parent's where that was larger; the kernel's own file starts at the exec.
    script = (
        "import re, sys, time\n"
        "from makegood.errors import TooLarge\n"
        "from makegood.work.picture import read_header\n"
        "start = time.perf_counter()\n"
        "try:\n    read_header(open(sys.argv[1], 'rb'))\n"
        "except TooLarge:\n"
        "    peak_kib = re.search(r'VmHWM:\\s+(\\d+)', open('/proc/self/status').read())[1]\n"
        "    print(time.perf_counter() - start, int(peak_kib) / 1024)\n"
    )
    if not Path("/proc/self/status").is_file():
        pytest.skip("peak memory is read from /proc")
    done = subprocess.run(
        [sys.executable, "-c", script, str(flood)], check=True, capture_output=True, text=True
    )
    seconds, peak_mib = map(float, done.stdout.split())
    assert seconds < 1
    assert peak_mib < 200


def test_copies_have_their_sizes_and_keep_the_shape():
    copies = copies_of(saved(corners(3000, 2000)))
    assert {size: copy.size for size, copy in copies.items()} == {1600: (1600, 1067), 400: (400, 267)}


def test_small_photo_is_not_enlarged():
    assert {copy.size for copy in copies_of(saved(corners())).values()} == {(80, 48)}


@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
@pytest.mark.parametrize("orientation", range(1, 9))
def test_copies_stand_upright_for_every_orientation(kind, orientation):
    turn = STORED_BY[orientation]
    stored = corners().transpose(turn) if turn is not None else corners()
    content = saved(stored, kind, quality=95)
    for copy in copies_of(content, orientation).values():
        assert copy.size == (80, 48)
        seen = corner_colours(copy)
        assert all(close(a, b) for a, b in zip(seen, (RED, GREEN, BLUE, WHITE), strict=True)), seen
    assert upright_size(read_header(io.BytesIO(content)), orientation) == (80, 48)


def test_heic_with_an_orientation_is_turned_once():
    exif = Image.Exif()
    exif[0x0112] = 6
    content = saved(corners().transpose(Image.Transpose.ROTATE_90), "HEIF", exif=exif.tobytes(), quality=95)
    header = read_header(io.BytesIO(content))
    assert upright_size(header, 6) == (80, 48)
    for copy in copies_of(content, 6).values():
        assert copy.size == (80, 48)
        assert close(corner_colours(copy)[0], RED, by=25)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "HEIF"])
def test_copies_carry_no_metadata(kind):
    exif = Image.Exif()
    exif[0x010F] = "Plainly invented"
    exif.get_ifd(0x8825)[1] = "N"
    icc = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    options = {"exif": exif.tobytes(), "icc_profile": icc, "xmp": b"<x:xmpmeta/>"}
    if kind == "JPEG":
        options["comment"] = b"the east wall"
    content = saved(corners(900, 600), kind, **options)
    stream = io.BytesIO(content)
    for copy in make_copies(stream, read_header(stream).media_type, 1).values():
        application_and_comment = [m for m in jpeg_markers(copy) if 0xE0 <= m <= 0xEF or m == 0xFE]
        assert application_and_comment == [0xE0]  # JFIF itself
        assert b"invented" not in copy
        assert b"wall" not in copy
        assert 0xC2 not in jpeg_markers(copy)  # not progressive


def test_print_colours_become_screen_colours():
    copy = copies_of(saved(corners().convert("CMYK"), "JPEG", quality=95))[400]
    assert copy.mode == "RGB"
    assert close(corner_colours(copy)[0], RED, by=20)


def test_wide_gamut_photo_is_brought_to_srgb():
    plain = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    # Red and green primaries exchanged: a profile that turns red to green if it is honoured.
    swapped = plain.replace(b"rXYZ", b"????").replace(b"gXYZ", b"rXYZ").replace(b"????", b"gXYZ")
    copy = copies_of(saved(corners(), "JPEG", quality=95, icc_profile=swapped))[400]
    red, green, _ = corner_colours(copy)[0]
    assert green > 150 > 100 > red


def test_profile_that_does_not_fit_still_gives_a_copy():
    copy = copies_of(saved(corners(), "JPEG", quality=95, icc_profile=b"no profile at all"))[400]
    assert close(corner_colours(copy)[0], RED)


def test_sixteen_bit_grey_keeps_its_brightness():
    grey = Image.new("I;16", (60, 40), 30_000)
    copy = copies_of(saved(grey, "PNG"))[400]
    assert close(copy.getpixel((30, 20)), (117, 117, 117), by=3)  # 30,000 of 65,535 on a scale of 255


def test_palette_with_transparency_lies_on_white():
    palette = Image.new("P", (60, 40), 0)
    palette.putpalette([255, 0, 0, 0, 0, 255])
    palette.paste(1, (30, 0, 60, 40))
    copy = copies_of(saved(palette, "PNG", transparency=0))[400]
    assert close(copy.getpixel((10, 20)), (255, 255, 255))
    assert close(copy.getpixel((50, 20)), (0, 0, 255))


@pytest.mark.parametrize("mode", ["1", "L", "LA", "RGBA", "P"])
def test_every_mode_of_png_gives_copies(mode):
    copies = copies_of(saved(corners(900, 500).convert(mode), "PNG"))
    assert [copies[size].mode for size in COPY_SIZES_PX] == ["RGB", "RGB"]


def test_large_jpeg_is_decoded_at_half_size(monkeypatch):
    decoded = []
    really = Image.Image.resize
    monkeypatch.setattr(
        Image.Image, "resize", lambda image, *a, **k: (decoded.append(image.size), really(image, *a, **k))[1]
    )
    copies_of(saved(Image.new("RGB", (4032, 3024), RED)))
    assert decoded[0] == (2016, 1512)


def test_half_size_decoding_stays_close_to_a_full_decode():
    noise = Image.effect_noise((3200, 2400), 60).convert("RGB")
    content = saved(noise, "JPEG", quality=90)
    full = opened(content)
    full.thumbnail((1600, 1600), reducing_gap=None)
    off = ImageStat.Stat(ImageChops.difference(copies_of(content)[1600], full)).mean
    assert max(off) < 12  # mean difference per channel of 255, on noise, the worst case for it
