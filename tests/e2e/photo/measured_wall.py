"""A wall drawn at one pixel to the millimetre, with a sheet of paper and a loss of known area, and seen in perspective."""

from functools import cache
from io import BytesIO

import numpy as np
from PIL import Image, ImageDraw, ImageFilter

Spot = tuple[float, float]
WALL_MM, PHOTO_PX = (1800, 1300), (1600, 1200)
SHEET_MM = [(300.0, 300.0), (597.0, 300.0), (597.0, 510.0), (300.0, 510.0)]
LOSS_MM = [(760.0, 420.0), (1010.0, 330.0), (1290.0, 400.0), (1380.0, 620.0), (1180.0, 830.0), (900.0, 800.0), (790.0, 640.0)]
IN_LOSS_MM = (1080.0, 560.0)
# Where the corners of the drawn wall come to lie on the photo: from the right and a little below.
_CORNERS_PX = [(60.0, 190.0), (1545.0, 40.0), (1560.0, 1170.0), (40.0, 1010.0)]


def area_m2(ring_mm: list[Spot]) -> float:
    """Return the area of a polygon by the shoelace formula."""
    x, y = np.array(ring_mm).T / 1000
    return float(abs(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) / 2)


def _matrix(given: list[Spot], wanted: list[Spot]) -> np.ndarray:
    """Return the eight numbers that take four points to four others, as Pillow wants them."""
    rows, right = [], []
    for (x, y), (u, v) in zip(given, wanted, strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        right += [u, v]
    return np.linalg.solve(np.array(rows), np.array(right))


def on_photo(spots_mm: list[Spot]) -> list[Spot]:
    """Return where places on the wall (mm) lie on the photo (px)."""
    w, h = WALL_MM
    a, b, c, d, e, f, g, i = _matrix([(0, 0), (w, 0), (w, h), (0, h)], _CORNERS_PX)
    return [((a * x + b * y + c) / (g * x + i * y + 1), (d * x + e * y + f) / (g * x + i * y + 1)) for x, y in spots_mm]


@cache
def jpeg() -> bytes:
    """Return the photo."""
    wall = Image.new("RGB", WALL_MM, (214, 200, 176))
    grain = Image.effect_noise(WALL_MM, 18).convert("RGB")
    wall = Image.blend(wall, grain, 0.12)
    draw = ImageDraw.Draw(wall)
    draw.polygon(LOSS_MM, fill=(116, 84, 60))
    draw.polygon(SHEET_MM, fill=(250, 250, 250), outline=(170, 170, 170))
    w, h = WALL_MM
    back = _matrix(_CORNERS_PX, [(0, 0), (w, 0), (w, h), (0, h)])
    seen = wall.transform(PHOTO_PX, Image.Transform.PERSPECTIVE, tuple(back), Image.Resampling.BICUBIC, fillcolor=(168, 192, 214))
    out = BytesIO()
    seen.filter(ImageFilter.GaussianBlur(0.7)).save(out, "JPEG", quality=88)
    return out.getvalue()


def small_jpeg() -> bytes:
    """Return a picture too small to measure on."""
    out = BytesIO()
    Image.new("RGB", (200, 150), (214, 200, 176)).save(out, "JPEG")
    return out.getvalue()
