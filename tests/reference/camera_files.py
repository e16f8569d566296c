"""Finds the camera files of the Debian package golang-github-rwcarlsen-goexif-dev where it is installed.

The package (BSD-2-Clause) holds 58 photos of about 50 cameras, most with the picture cut away, three with a
damaged EXIF block, and what its own reader, written in another language by other people, finds in them.
"""

import re
from pathlib import Path

PACKAGE = "golang-github-rwcarlsen-goexif-dev"
FOLDER = Path("/usr/share/gocode/src/github.com/rwcarlsen/goexif/exif")
MISSING = f"camera files not installed: apt-get install {PACKAGE}"
_PHOTO = re.compile(r'^\t"([^"]+\.jpg)": map.*?\{\n(.*?)^\t\},', re.DOTALL | re.MULTILINE)
_TAG = re.compile(r"^\t\t(\w+):\s+`(.*)`,$", re.MULTILINE)


def photos() -> list[Path]:
    """Return the photos; empty where the package is not installed."""
    return sorted(FOLDER.glob("samples/*.jpg"))


def damaged_photos() -> list[Path]:
    """Return the photos with a damaged EXIF block."""
    return sorted(FOLDER.glob("corrupt/*.jpg"))


def expected() -> dict[str, dict[str, str]]:
    """Return what the package's own reader finds: file name -> tag -> value as it writes it."""
    source = FOLDER / "regress_expected_test.go"
    if not source.exists():
        return {}
    return {
        name: dict(_TAG.findall(tags)) for name, tags in _PHOTO.findall(source.read_text(encoding="utf-8"))
    }


def exif_block(photo: Path) -> bytes:
    """Return the EXIF block of a JPEG whose picture may be cut away, so that Pillow would not open it."""
    content = photo.read_bytes()
    at = 2
    while content[at : at + 1] == b"\xff" and content[at + 1] != 0xDA:
        length = int.from_bytes(content[at + 2 : at + 4], "big")
        body = content[at + 4 : at + 2 + length]
        if content[at + 1] == 0xE1 and body.startswith(b"Exif\0\0"):
            return body
        at += 2 + length
    return b""
