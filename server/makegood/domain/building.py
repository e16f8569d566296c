"""What a wall, a mark on it, its openings, its backdrop and its coats may be, before they are kept."""

from collections.abc import Mapping
from math import cos, pi, sin

from makegood.errors import BadInput, OutlineRefused
from makegood.science.outline import check_ring, read_points, reckon_area, reckon_length, without_repeats
from makegood.science.rectify import invert_homography
from makegood.science.surface import (
    Point,
    Surface,
    check_view,
    is_plain_number,
    settle,
    silhouette_points,
    surface_from,
)

MOST_MARK_POINTS = 500
MOST_OPENINGS = 100
MOST_COATS = 12
THICKEST_COAT_MM = 500.0
LARGEST_OPENING_M = 100.0
MOST_ID_LETTERS = 80
OPENING_KINDS = ("door", "window", "niche", "ledge", "gutter")
HEADS = ("flat", "arched")
SHAPES = {"pin": 1, "line": 2, "outline": 3}
_ARCH_CHORDS = 24


def check_surface(value: object) -> dict[str, object]:
    """Return the surface as it is kept; raises BadInput `surface_refused`."""
    surface_from(value)
    assert isinstance(value, Mapping), "surface_from comes first"
    sizes = {name: size for name, size in value.items() if name in ("kind", "shape") or name.endswith("_m")}
    return sizes | ({"batter_deg": value.get("batter_deg", 0.0)} if value["kind"] == "flat" else {})


def check_mark(value: object, surface: object) -> dict[str, object]:
    """Return the mark, its points to the millimetre, none further off the wall than that.

    Raises BadInput `bad_value` or `surface_refused`, OutlineRefused `outline_empty`, `outline_leaves_wall` or
    `outline_crosses_itself`.
    """
    if not isinstance(value, Mapping):
        raise _bad("Draw a pin, a line or an outline.", "mark", "not a drawing")
    shape, view = value.get("shape"), value.get("view")
    if not isinstance(shape, str) or shape not in SHAPES:
        raise _bad("Draw a pin, a line or an outline.", "shape", "pin, line or outline")
    on = surface_from(surface)
    if not isinstance(view, str):
        raise _bad("Say which view was drawn on: seen, unrolled or above.", "view", "missing")
    check_view(on, view)
    points = read_points(value.get("points_m"))
    if len(points) > MOST_MARK_POINTS:
        raise _bad("Draw with fewer points; 500 are the most.", "points_m", "over 500 points")
    settled = settle(on, view, points)
    kept = without_repeats(
        [_rounded(on, view, point, back) for point, back in zip(points, settled, strict=True)]
    )
    if shape == "outline":
        kept = check_ring(kept)
        reckon_area(on, view, kept)
    elif shape == "line":
        reckon_length(on, view, kept)
    elif len(points) != 1:
        raise OutlineRefused("outline_empty", "Set the pin on one point.", {"points_m": "one point"})
    return {"view": view, "shape": shape, "points_m": [list(point) for point in kept]}


def _rounded(on: Surface, view: str, point: Point, settled: Point) -> Point:
    """Round a point as given, so that a kept mark stays as it is; as settled if that leaves the wall."""
    rounded = _to_mm(point[0]), _to_mm(point[1])
    try:
        settle(on, view, [rounded])
    except OutlineRefused:
        return _to_mm(settled[0]), _to_mm(settled[1])
    return rounded


def check_openings(value: object, surface: object) -> list[dict[str, object]]:
    """Return the openings of an elevation; raises `bad_value` or `outline_leaves_wall`."""
    if not isinstance(value, list) or len(value) > MOST_OPENINGS:
        raise _bad("Give the openings as a list of at most 100.", "openings", "a list")
    edge = silhouette_points(surface_from(surface), "seen")
    left, right, top = min(x for x, _ in edge), max(x for x, _ in edge), max(y for _, y in edge)
    return [_check_opening(opening, (left, right, top), f"openings.{k}") for k, opening in enumerate(value)]


def _check_opening(value: object, wall: tuple[float, float, float], field: str) -> dict[str, object]:
    known = isinstance(value, Mapping) and value.get("kind") in OPENING_KINDS and value.get("head") in HEADS
    if not known or not isinstance(value, Mapping):
        say = "Say which kind of opening it is and whether its head is flat or arched."
        raise _bad(say, field, "kind or head")
    names = ("x_m", "y_m", "width_m", "height_m")
    x, y, width, height = (_to_mm(_number(value.get(name), field)) for name in names)
    if not (0 < width <= LARGEST_OPENING_M and 0 < height <= LARGEST_OPENING_M):
        raise _bad("Give the opening a width and a height above 0.", field, "size")
    if value["head"] == "arched" and height < width / 2:
        raise _bad("A round arch is at least half as high as it is wide.", field, "arch")
    left, right, top = wall
    if x < left - 0.001 or x + width > right + 0.001 or y < -0.001 or y + height > top + 0.001:
        say = "Keep the opening on the wall as it is drawn."
        raise OutlineRefused("outline_leaves_wall", say, {field: "beside the wall"})
    sizes = dict(zip(names, (x, y, width, height), strict=True))
    return {"kind": value["kind"], **sizes, "head": value["head"]}


def opening_ring(opening: Mapping[str, object]) -> list[Point]:
    """Return a checked opening as a convex ring of points [m] of the front view; an arch as 24 chords."""
    x, y, width, height = (_number(opening[name], name) for name in ("x_m", "y_m", "width_m", "height_m"))
    if opening["head"] == "flat":
        return [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]
    r = width / 2
    turns = [pi * k / _ARCH_CHORDS for k in range(_ARCH_CHORDS + 1)]
    return [(x, y), (x + width, y), *((x + r + r * cos(a), y + height - r + r * sin(a)) for a in turns)]


def check_backdrop(value: object) -> dict[str, object]:
    """Return the picture behind a drawing; raises BadInput `bad_value`."""
    if not isinstance(value, Mapping):
        raise _bad("Pick a photo and tap its four corners again.", "backdrop", "not a backdrop")
    photo, matrix, opacity = value.get("photo_id"), value.get("homography"), value.get("opacity", 1.0)
    if not isinstance(photo, str) or not 0 < len(photo) <= MOST_ID_LETTERS:
        raise _bad("Pick the photo to lay behind the drawing.", "photo_id", "missing")
    if not isinstance(matrix, list) or len(matrix) != 9 or not all(map(is_plain_number, matrix)):
        raise _bad("Tap the four corners of the photo again.", "homography", "9 numbers")
    try:
        invert_homography(matrix)
    except BadInput as refusal:
        raise _bad("Tap the four corners of the photo again.", "homography", "no way back") from refusal
    if not 0 <= _number(opacity, "opacity") <= 1:
        raise _bad("Give the opacity from 0 to 1.", "opacity", "from 0 to 1")
    return {"photo_id": photo, "homography": matrix, "opacity": opacity}


def check_coats(value: object) -> list[dict[str, object]]:
    """Return the coats from the wall outwards; raises BadInput `bad_value`."""
    if not isinstance(value, list) or len(value) > MOST_COATS:
        raise _bad("Give the coats as a list of at most 12.", "coats", "a list")
    return [_check_coat(coat, f"coats.{k}") for k, coat in enumerate(value)]


def _check_coat(value: object, field: str) -> dict[str, object]:
    mix = value.get("mix") if isinstance(value, Mapping) else None
    if not isinstance(value, Mapping) or not isinstance(mix, str) or not 0 < len(mix) <= MOST_ID_LETTERS:
        raise _bad("Pick a mix for each coat.", field, "mix")
    thickness = _number(value.get("thickness_mm"), field)
    if not 0 < thickness <= THICKEST_COAT_MM:
        raise _bad("Give each coat a thickness above 0 and up to 500 mm.", field, "thickness_mm")
    return {"mix": mix, "thickness_mm": thickness}


def _bad(message: str, field: str, what: str) -> BadInput:
    return BadInput("bad_value", message, {field: what})


def _number(value: object, field: str) -> float:
    if not is_plain_number(value):
        raise _bad("Give a plain number.", field, "not a number")
    return float(value)


def _to_mm(value_m: float) -> float:
    return round(value_m, 3) + 0.0
