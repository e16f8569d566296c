"""Small pictures of walls with one patch of damage each, drawn by OpenCV; written to shared/vectors/colour_region.json.

Each picture carries the mask it was drawn with, which is the truth. Colours carry noise, a slope of light across the wall,
grains and straw. `python -m tests.reference.photo.patches` writes the file.
"""

import base64
import json
import zlib
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from makegood.paths import shared_dir

WIDTH, HEIGHT = 160, 120
Picture = NDArray[np.uint8]
Drawn = tuple[Picture, Picture]
LIME, CLAY, EARTH, SKY = (224, 214, 196), (176, 128, 96), (122, 88, 62), (168, 198, 232)
COLOURS = [(0, 0, 0), (255, 255, 255), (128, 128, 128), (255, 0, 0), (0, 255, 0), (0, 0, 255), LIME, CLAY, EARTH, SKY, (12, 7, 3)]


def _wall(colour: tuple[int, int, int]) -> Picture:
    return np.full((HEIGHT, WIDTH, 3), colour, np.uint8)


def _mask() -> Picture:
    return np.zeros((HEIGHT, WIDTH), np.uint8)


def _shaded(picture: Picture, noise: float, light: float, seed: int) -> Picture:
    """Lay noise (standard deviation) and a slope of light (share from left to right) over a picture."""
    grain = np.random.default_rng(seed).normal(0, noise, (HEIGHT, WIDTH, 1))
    slope = np.linspace(1 - light / 2, 1 + light / 2, WIDTH)[None, :, None]
    shaded = np.clip(picture * slope + grain, 0, 255)
    # Four levels to a step keep the file small without making a flat picture of it.
    return (shaded // 4 * 4).astype(np.uint8)


def washout() -> Drawn:
    """Dark earth where lime plaster has gone, straw across it."""
    picture, mask = _wall(LIME), _mask()
    cv2.ellipse(mask, (84, 62), (42, 26), 15, 0, 360, 1, -1)
    picture[mask == 1] = EARTH
    for x in range(52, 116, 16):
        cv2.line(picture, (x, 50), (x + 7, 74), (206, 178, 96), 1)
    return _shaded(picture, 5, 0.1, 1), mask


def gable() -> Drawn:
    """Sky above, grass below, a ragged loss of plaster on the wall between."""
    picture, mask = _wall(CLAY), _mask()
    picture[:30], picture[104:] = SKY, (84, 120, 60)
    ring = np.array([[40, 52], [66, 44], [92, 58], [118, 50], [112, 80], [86, 90], [60, 78], [46, 84]], np.int32)
    cv2.fillPoly(mask, [ring], 1)
    picture[mask == 1] = (104, 70, 48)
    return _shaded(picture, 4, 0.08, 2), mask


def island() -> Drawn:
    """Sound plaster left standing within the loss: it counts as damage."""
    picture, mask = _wall(LIME), _mask()
    cv2.circle(mask, (70, 60), 40, 1, -1)
    picture[mask == 1] = CLAY
    cv2.circle(picture, (60, 52), 11, LIME, -1)
    return _shaded(picture, 5, 0.06, 3), mask


def bloom() -> Drawn:
    """Pale salts on a darker wall."""
    picture, mask = _wall((150, 118, 92)), _mask()
    ring = np.array([[30, 100], [44, 70], [90, 60], [130, 74], [138, 100], [90, 108]], np.int32)
    cv2.fillPoly(mask, [ring], 1)
    picture[mask == 1] = (206, 196, 180)
    return _shaded(picture, 5, 0.1, 4), mask


def two_patches() -> Drawn:
    """Two losses side by side; only the one under the tap is meant."""
    picture, mask, other = _wall(LIME), _mask(), _mask()
    cv2.ellipse(mask, (45, 60), (24, 34), 0, 0, 360, 1, -1)
    cv2.ellipse(other, (118, 60), (26, 30), 0, 0, 360, 1, -1)
    picture[(mask == 1) | (other == 1)] = EARTH
    return _shaded(picture, 5, 0.1, 5), mask


SCENES = {
    "washout with straw": (washout, [84, 62]),
    "gable with sky": (gable, [80, 68]),
    "island of plaster": (island, [90, 70]),
    "pale bloom": (bloom, [90, 84]),
    "two patches": (two_patches, [45, 60]),
}


def packed(values: Picture) -> str:
    """Return bytes as text: deflated, base 64."""
    return base64.b64encode(zlib.compress(values.tobytes(), 9)).decode("ascii")


def lab_by_opencv(colours: list[tuple[int, int, int]]) -> list[list[float]]:
    """Return L*, a*, b* of colours as OpenCV reckons them from floats."""
    row = (np.array([colours], np.float32)) / 255
    return [[round(float(v), 3) for v in one] for one in cv2.cvtColor(row, cv2.COLOR_RGB2LAB)[0]]


def region_by_opencv(picture: Picture, tap: list[int]) -> Picture:
    """Return the region that OpenCV's own blur, Lab, Otsu, components and contours find under the tap."""
    lab = cv2.cvtColor(cv2.medianBlur(picture, 3).astype(np.float32) / 255, cv2.COLOR_RGB2LAB)
    x, y = tap
    inside = np.median(lab[y - 2 : y + 3, x - 2 : x + 3].reshape(-1, 3), axis=0)
    far = np.clip(np.linalg.norm(lab - inside, axis=2) * 2, 0, 255).astype(np.uint8)
    pieces = far
    limit = 256
    for _ in range(4):
        chosen = far[far < limit].reshape(-1, 1)
        limit, _ = cv2.threshold(chosen, 0, 255, cv2.THRESH_BINARY + cv2.THRESH_OTSU)
        _, pieces = cv2.connectedComponents((far <= limit).astype(np.uint8), connectivity=4)
        piece = pieces == pieces[y, x]
        if sum(bool(edge.any()) for edge in (piece[0], piece[-1], piece[:, 0], piece[:, -1])) < 3:
            break
    rings, _ = cv2.findContours((pieces == pieces[y, x]).astype(np.uint8), cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    found = _mask()
    cv2.drawContours(found, rings, -1, 1, -1)
    return found


def overlap(one: Picture, other: Picture) -> float:
    """Return what two masks share over what they cover together."""
    return float(np.logical_and(one, other).sum() / np.logical_or(one, other).sum())


def make() -> dict[str, Any]:
    """Return the whole file."""
    cases = []
    for name, (draw, tap) in SCENES.items():
        picture, mask = draw()
        cases.append({"name": name, "tap": tap, "rgb": packed(picture), "truth": packed(mask)})
    lab = [{"rgb": list(rgb), "lab": found} for rgb, found in zip(COLOURS, lab_by_opencv(COLOURS), strict=True)]
    note = "Pictures with one patch under the tap, and colours as L*a*b*. Written by tests/reference/photo/patches.py."
    return {"note": note, "width": WIDTH, "height": HEIGHT, "least_overlap": 0.9, "lab_within": 0.3, "lab": lab, "cases": cases}


if __name__ == "__main__":
    text = json.dumps(make(), indent=1)
    (shared_dir() / "vectors" / "colour_region.json").write_text(text + "\n", encoding="utf-8")
