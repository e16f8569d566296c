"""Walls, cards and damage of known size as a pinhole camera sees them; written to shared/vectors/measuring.json.

The camera is OpenCV's projectPoints; true sizes are school geometry: shoelace on the flat, radius times angle
on a round wall, 2 pi R^2 (1 - cos a) for a round patch of a sphere. `python -m tests.reference.photo.scenes` writes the file.
"""

import json
import math
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from makegood.paths import shared_dir

WIDTH_PX, HEIGHT_PX = 2000, 1500
Points = NDArray[np.float64]
A4 = (0.297, 0.21)
BANK = (0.0856, 0.05398)


def seen_from(camera_m: list[float], looks_at_m: list[float], focal_share: float, space_m: Points) -> Points:
    """Return the pixels (n, 2) of points (n, 3) in m (right, away, up) from a camera held level."""
    forward = np.subtract(looks_at_m, camera_m)
    forward = forward / np.linalg.norm(forward)
    right = np.cross(forward, [0.0, 0.0, 1.0])
    right = right / np.linalg.norm(right)
    turn = np.array([right, np.cross(forward, right), forward])
    focal = focal_share * WIDTH_PX
    lens = np.array([[focal, 0, WIDTH_PX / 2], [0, focal, HEIGHT_PX / 2], [0, 0, 1.0]])
    shift = -turn @ np.array(camera_m)
    pixels, _ = cv2.projectPoints(np.asarray(space_m, float), cv2.Rodrigues(turn)[0], shift, lens, None)
    return pixels.reshape(-1, 2)


def shoelace(points_m: Points) -> float:
    """Return the area of a polygon."""
    x, y = points_m[:, 0], points_m[:, 1]
    return float(abs(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) / 2)


def edge(points_m: Points) -> float:
    """Return the length of a polygon's edge."""
    return float(np.linalg.norm(points_m - np.roll(points_m, -1, axis=0), axis=1).sum())


def card(width_m: float, height_m: float) -> Points:
    """Return a card's corners from its middle: upper left, upper right, lower right, lower left."""
    x, y = width_m / 2, height_m / 2
    return np.array([[-x, y], [x, y], [x, -y], [-x, -y]])


BLOB = np.array([[-0.31, -0.12], [-0.05, -0.22], [0.2, -0.15], [0.3, 0.05], [0.12, 0.21], [-0.02, 0.1], [-0.24, 0.18]])


def middle_of(points: Points) -> list[float]:
    """Return the middle of the box round points."""
    return [float(v) for v in (points.min(axis=0) + points.max(axis=0)) / 2]


def _case(name: str, asked: dict[str, Any], true: dict[str, float], within: float) -> dict[str, Any]:
    return {"name": name, "in": asked, "out": {**true, "within": within}}


def _asked(surface: dict[str, Any], view: str, photo: Points, plane_m: Points, outline: Points, **more: Any) -> dict[str, Any]:
    size = {"width_px": WIDTH_PX, "height_px": HEIGHT_PX}
    return {
        "surface": surface, "view": view, "photo": photo.tolist(), "plane_m": plane_m.tolist(), "outline": outline.tolist(),
        "size": size, "error_px": [2, 2, 2, 2], "known": False, "middle": None, **more,
    }  # fmt: skip


def flat_with_card(batter_deg: float, camera: list[float], card_m: tuple[float, float]) -> dict[str, Any]:
    """A card on a flat face that leans by `batter_deg`, damage beside it; `camera` is in face metres (right, out, up)."""
    surface = {"kind": "flat", "width_m": 6.0, "height_m": 3.0, "batter_deg": batter_deg}
    paper, damage = card(*card_m) + np.array([0.1, 0.35]), BLOB
    space = [np.column_stack([p[:, 0], np.zeros(len(p)), p[:, 1]]) for p in (paper, damage)]
    photo, outline = (seen_from([camera[0], -camera[1], camera[2]], [0, 0, 0.1], 0.72, p) for p in space)
    asked = _asked(surface, "seen", photo, card(*card_m), outline, middle=[2.0, 1.4])
    lean = math.cos(math.radians(batter_deg))
    on_view = damage * [1, lean] - middle_of(damage * [1, lean]) + [2.0, 1.4]
    asked_out = {"area_m2": shoelace(damage), "perimeter_m": edge(damage)}
    name = f"flat, batter {batter_deg:g}, card of {card_m[0] * 1000:g} mm, from {camera}"
    return {**_case(name, asked, asked_out, 1e-3), "points_m": np.round(on_view, 6).tolist()}


def flat_with_window() -> dict[str, Any]:
    """Corners of a window whose place on the wall is known, seen from the side and below."""
    surface = {"kind": "flat", "width_m": 6.0, "height_m": 3.0, "batter_deg": 0.0}
    window = np.array([[2.0, 2.1], [3.2, 2.1], [3.2, 1.0], [2.0, 1.0]])
    damage = BLOB + np.array([4.0, 1.2])
    space = [np.column_stack([p[:, 0], np.zeros(len(p)), p[:, 1]]) for p in (window, damage)]
    photo, outline = (seen_from([1.6, -3.0, 0.6], [3.0, 0, 1.4], 0.72, p) for p in space)
    asked = _asked(surface, "seen", photo, window, outline, known=True)
    true = {"area_m2": shoelace(damage), "perimeter_m": edge(damage)}
    return {**_case("flat, four corners of a window", asked, true, 1e-3), "points_m": np.round(damage, 6).tolist()}


def on_cylinder(radius_m: float, arc_m: Points, z_m: Points) -> Points:
    """Return places (n, 3) from arcs off the middle line and heights."""
    angle = arc_m / radius_m
    return np.column_stack([radius_m * np.sin(angle), -radius_m * np.cos(angle), z_m])


def densely(points: Points, pieces: int = 8) -> Points:
    """Return a polygon with each edge cut into pieces."""
    share = np.arange(pieces)[:, None] / pieces
    return np.concatenate([p + (q - p) * share for p, q in zip(points, np.roll(points, -1, axis=0), strict=True)])


def cylinder_with_card(focal_share: float, aside_m: float, within: float) -> dict[str, Any]:
    """A sheet held against a round wall of 2.2 m radius, the damage below it; true area: the unrolled shoelace."""
    radius, height, at_z = 2.2, 2.6, 1.3
    surface = {"kind": "round_wall", "radius_m": radius, "height_m": height}
    flat = card(*A4) + np.array([0, 0.32])
    sheet = np.column_stack([flat[:, 0], np.full(4, -radius), flat[:, 1] + at_z])
    damage = densely(BLOB)
    camera = [aside_m, -radius - 1.5, 1.5]
    photo = seen_from(camera, [0, -radius, 1.35], focal_share, sheet)
    outline = seen_from(camera, [0, -radius, 1.35], focal_share, on_cylinder(radius, damage[:, 0], damage[:, 1] + at_z))
    middle = [math.pi * radius + middle_of(damage)[0], at_z + middle_of(damage)[1]]
    asked = _asked(surface, "unrolled", photo, card(*A4), outline, middle=middle)
    true = {"area_m2": shoelace(damage), "perimeter_m": edge(damage)}
    return _case(f"round wall, sheet, lens {focal_share:g}, {aside_m:g} m aside", asked, true, within)


def cylinder_with_window() -> dict[str, Any]:
    """Four corners of an opening in a round wall by their places in the front view, damage beside it."""
    radius, height = 3.0, 2.8
    surface = {"kind": "round_wall", "radius_m": radius, "height_m": height}
    half = math.asin(0.5 / radius) * radius
    arcs, heights = np.array([-half, half, half, -half]), np.array([2.0, 2.0, 1.0, 1.0])
    seen = np.column_stack([[-0.5, 0.5, 0.5, -0.5], heights])
    damage = densely(BLOB * 0.8 + [0.0, 0.55])
    camera = [0.3, -radius - 2.4, 1.5]
    photo = seen_from(camera, [0, -radius, 1.2], 26 / 36, on_cylinder(radius, arcs, heights))
    outline = seen_from(camera, [0, -radius, 1.2], 26 / 36, on_cylinder(radius, damage[:, 0], damage[:, 1]))
    asked = _asked(surface, "seen", photo, seen, outline, known=True)
    true = {"area_m2": shoelace(damage), "perimeter_m": edge(damage)}
    return _case("round wall, four corners of an opening", asked, true, 0.005)


def dome_with_card(focal_share: float, within: float) -> dict[str, Any]:
    """A sheet on a hemisphere of 2.5 m, the damage a round patch about it: 2 pi R^2 (1 - cos a)."""
    radius, lift, patch = 2.5, math.radians(35), 0.13
    surface = {"kind": "dome", "shape": "hemisphere", "radius_m": radius}
    out = np.array([0, -math.cos(lift), math.sin(lift)])
    right, up = np.array([1.0, 0, 0]), np.array([0, math.sin(lift), math.cos(lift)])
    turns = np.linspace(0, 2 * math.pi, 48, endpoint=False)
    rim = np.array([
        radius * (math.cos(patch) * out + math.sin(patch) * (math.cos(t) * right + math.sin(t) * up)) for t in turns
    ])  # fmt: skip
    sheet = np.array([radius * out + u * right + v * up for u, v in card(*A4)])
    camera = [float(v) for v in radius * out + 1.6 * out + 0.3 * right]
    looks_at = [float(v) for v in radius * out]
    photo, outline = (seen_from(camera, looks_at, focal_share, p) for p in (sheet, rim))
    asked = _asked(surface, "seen", photo, card(*A4), outline, middle=[0.0, radius * math.sin(lift)])
    true = {
        "area_m2": 2 * math.pi * radius**2 * (1 - math.cos(patch)),
        "perimeter_m": 2 * math.pi * radius * math.sin(patch),
    }
    return _case(f"dome, sheet, lens {focal_share:g}", asked, true, within)


def refused() -> list[dict[str, Any]]:
    """What cannot be measured, each with its code."""
    good = flat_with_window()["in"]
    photo, outline = good["photo"], good["outline"]
    on_card = flat_with_card(0, [0.4, 1.6, 0.2], A4)["in"]
    changes: list[tuple[str, str, dict[str, Any]]] = [
        ("corners that cross", "points_cross", {**good, "photo": [photo[0], photo[2], photo[1], photo[3]]}),
        ("corners on a line", "points_on_line", {**good, "photo": [[0, 0], [500, 500], [1000, 1000], [0, 900]]}),
        ("corners the other way round", "points_refused", {**good, "photo": photo[::-1]}),
        ("three corners", "points_refused", {**good, "photo": photo[:3]}),
        ("card of a few pixels", "reference_too_small",
         {**on_card, "photo": [[900, 700], [909, 700], [909, 706], [900, 706]]}),
        ("outline across the horizon", "beyond_horizon",
         {**good, "photo": [[600, 300], [1400, 300], [1900, 1400], [100, 1400]],
          "outline": [[900, 800], [1100, 800], [1000, -600]]}),
        ("outline that crosses itself", "outline_crosses_itself",
         {**good, "outline": [[100, 100], [300, 300], [300, 100], [100, 300]]}),
        ("outline of two points", "outline_empty", {**good, "outline": outline[:2]}),
        ("beside the wall", "outline_leaves_wall", {**on_card, "middle": [5.9, 1.4]}),
        ("card without a place", "middle_missing", {**on_card, "middle": None}),
    ]  # fmt: skip
    return [{"name": name, "in": asked, "error": code} for name, code, asked in changes]


def make() -> dict[str, Any]:
    """Return the whole file."""
    cases = [
        flat_with_card(0, [0.0, 1.4, 0.1], A4),
        flat_with_card(0, [0.9, 1.2, 0.5], A4),
        flat_with_card(12, [-0.7, 1.3, 0.3], A4),
        flat_with_card(0, [0.3, 1.1, 0.2], BANK),
        flat_with_window(),
        cylinder_with_card(26 / 36, 0.0, 0.005),
        cylinder_with_card(26 / 36, 0.5, 0.005),
        cylinder_with_card(0.62, 0.2, 0.03),
        cylinder_with_card(1.4, 0.2, 0.03),
        cylinder_with_window(),
        dome_with_card(26 / 36, 0.005),
        dome_with_card(1.1, 0.03),
        *refused(),
    ]
    return {"note": "Photos of known damage. Written by tests/reference/photo/scenes.py.", "tolerance": 1e-9, "cases": cases}


if __name__ == "__main__":
    text = json.dumps(make(), indent=1)
    (shared_dir() / "vectors" / "measuring.json").write_text(text + "\n", encoding="utf-8")
