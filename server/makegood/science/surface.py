"""A wall's surface as rows and requests describe it, read into a shape or refused; and places on it.

Hemisphere and cap are read as Cap; round wall, cone and measured profile as Profile. Lengths 1 mm to 500 m.
Bearings and places: own derivation from DEVELOPERS.md 3.1, held by tests/science/test_surface.py.
"""

from collections.abc import Callable, Mapping, Sequence
from itertools import pairwise
from math import asin, atan2, copysign, cos, degrees, hypot, pi, sin
from typing import TypeGuard

from makegood.errors import BadInput, OutlineRefused
from makegood.science.dome import Cap, Flat, Lancet, Profile

LARGEST_M = 500.0
SMALLEST_M = 0.001
MOST_PROFILE_POINTS = 200
STEEPEST_BATTER_DEG = 60.0
LARGEST_NUMBER = 1e12

Round = Cap | Lancet | Profile
Surface = Flat | Round


def _refuse(message: str, **fields: str) -> BadInput:
    return BadInput("surface_refused", message, fields)


def is_plain_number(value: object) -> TypeGuard[float]:
    """Whether a value is a number a wall can have: no text, no truth value, finite."""
    return isinstance(value, int | float) and not isinstance(value, bool) and abs(value) <= LARGEST_NUMBER


def _number(value: object, name: str) -> float:
    if not is_plain_number(value):
        raise _refuse("Give each size of the wall as a plain number.", **{name: "not a number"})
    return value


def _length(given: Mapping[str, object], name: str) -> float:
    words = name.removesuffix("_m").replace("_", " ")
    if name not in given:
        raise _refuse(f"Give the {words} in metres.", **{name: "missing"})
    length = _number(given[name], name)
    if not SMALLEST_M <= length <= LARGEST_M:
        raise _refuse(f"Give a {words} from 1 mm to 500 m.", **{name: "from 0.001 to 500 m"})
    return length


def _flat(given: Mapping[str, object]) -> Surface:
    batter = _number(given.get("batter_deg", 0.0), "batter_deg")
    if abs(batter) > STEEPEST_BATTER_DEG:
        raise _refuse("A flat wall leans at most 60 degrees from upright.", batter_deg="from -60 to 60")
    return Flat(_length(given, "width_m"), _length(given, "height_m"), batter)


def _round_wall(given: Mapping[str, object]) -> Surface:
    r = _length(given, "radius_m")
    return Profile(((r, 0.0), (r, _length(given, "height_m"))))


def _hemisphere(given: Mapping[str, object]) -> Surface:
    r = _length(given, "radius_m")
    return Cap(r, r)


def _cap(given: Mapping[str, object]) -> Surface:
    return Cap(_length(given, "base_radius_m"), _length(given, "height_m"))


def _lancet(given: Mapping[str, object]) -> Surface:
    a, h = _length(given, "base_radius_m"), _length(given, "height_m")
    if h < a:
        say = "A pointed dome is at least as high as half its width; take the shape cap."
        raise _refuse(say, height_m=f"at least {a}")
    return Lancet(a, h)


def _cone(given: Mapping[str, object]) -> Surface:
    foot, h = _length(given, "base_radius_m"), _length(given, "height_m")
    top = _number(given.get("top_radius_m", 0.0), "top_radius_m") and _length(given, "top_radius_m")
    return Profile(((foot, 0.0), (top, h)))


def _ring(value: object, last: bool) -> tuple[float, float]:
    if not isinstance(value, list | tuple) or len(value) != 2:
        raise _refuse("Give each profile point as [radius, height].", points_m="pairs of radius and height")
    r, z = _number(value[0], "points_m"), _number(value[1], "points_m")
    if not ((0 if last else SMALLEST_M) <= r <= LARGEST_M and 0 <= z <= LARGEST_M):
        say = "Give profile radii above 0 (the top may be 0) and no size over 500 m."
        raise _refuse(say, points_m="out of range")
    return r, z


def _profile(given: Mapping[str, object]) -> Surface:
    value = given.get("points_m")
    if not isinstance(value, list | tuple) or not 2 <= len(value) <= MOST_PROFILE_POINTS:
        raise _refuse("Give 2 to 200 profile points, from the foot up.", points_m="2 to 200 points")
    points = tuple(_ring(point, k == len(value) - 1) for k, point in enumerate(value))
    if points[0][1] != 0:
        raise _refuse("Start the profile at the foot, at height 0.", points_m="first height is not 0")
    if any(upper[1] - lower[1] < SMALLEST_M for lower, upper in pairwise(points)):
        say = "List the profile points from the foot up, each higher than the one before."
        raise _refuse(say, points_m="not rising")
    return Profile(points)


_KINDS: dict[str, Callable[[Mapping[str, object]], Surface]] = {"flat": _flat, "round_wall": _round_wall}
_DOMES: dict[str, Callable[[Mapping[str, object]], Surface]] = {
    "hemisphere": _hemisphere, "cap": _cap, "lancet": _lancet, "cone": _cone, "profile": _profile,
}  # fmt: skip


def surface_from(value: object) -> Surface:
    """Read a surface as it stands in a row or a request (DEVELOPERS.md 3.1; lengths [m], batter [deg]).

    Raises BadInput `surface_refused`, naming the fields to mend, for what is no wall: unknown kind, no
    number, zero, negative, over 500 m, a pointed dome lower than half its width, a profile that does not
    rise.
    """
    if not isinstance(value, Mapping):
        raise _refuse("Describe the wall by its kind and sizes.", surface="not a description")
    kind, shape = value.get("kind"), value.get("shape")
    if kind == "dome":
        if not isinstance(shape, str) or shape not in _DOMES:
            raise _refuse(f"Say which shape the dome has: {', '.join(_DOMES)}.", shape="unknown")
        return _DOMES[shape](value)
    if not isinstance(kind, str) or kind not in _KINDS:
        raise _refuse("Say which kind of wall it is: flat, round_wall or dome.", kind="unknown")
    return _KINDS[kind](value)


Point = tuple[float, float]


def check_view(surface: Surface, view: str) -> None:
    """Refuse a view that does not exist, or from above where the wall does not show once and only once."""
    if view not in ("seen", "unrolled", "above"):
        say = "Say which view was drawn on: seen, unrolled or above."
        raise BadInput("bad_value", say, {"view": "unknown"})
    if view == "above" and (isinstance(surface, Flat) or not surface.shows_above):
        say = "This wall does not show from above ring by ring; draw on the view from the front or unrolled."
        raise BadInput("bad_value", say, {"view": "not above"})


def settle(surface: Surface, view: str, points: Sequence[Point]) -> list[Point]:
    """Return view points (n, 2) [m], each off the wall by no more than a millimetre set back onto it.

    Raises OutlineRefused `outline_leaves_wall` naming the first point that lies further out.
    """
    settled = []
    for k, point in enumerate(points):
        on_wall = _settle_above(surface, point) if view == "above" else _settle_upright(surface, view, point)
        if on_wall is None:
            raise leaves_wall(k)
        settled.append(on_wall)
    return settled


def leaves_wall(point: int) -> OutlineRefused:
    """Return the refusal for a point off the wall; `point` counts from 0, people count from 1."""
    say = f"Keep the drawing on the wall: point {point + 1} lies beside it."
    return OutlineRefused("outline_leaves_wall", say, {"points_m": f"point {point + 1}"})


def _into(value: float, low: float, high: float) -> float | None:
    if not low - SMALLEST_M <= value <= high + SMALLEST_M:
        return None
    return min(max(value, low), high)


def _settle_upright(surface: Surface, view: str, point: Point) -> Point | None:
    x, z = point[0], _into(point[1], 0.0, surface.height)
    if z is None:
        return None
    if isinstance(surface, Flat) or view == "unrolled":
        width = surface.width if isinstance(surface, Flat) else 2 * pi * surface.foot_radius
        settled = _into(x, 0.0, width)
        return None if settled is None else (settled, z)
    r = surface.radius(z)
    if abs(x) <= r + SMALLEST_M:
        return min(max(x, -r), r), z
    # Near a round crown a millimetre down is centimetres across.
    wider = max(max(0.0, z - SMALLEST_M), min(surface.height, z + SMALLEST_M), key=surface.radius)
    reach = surface.radius(wider)
    if abs(x) > reach:
        return (copysign(reach, x), wider) if abs(x) <= reach + SMALLEST_M else None
    for _ in range(50):
        middle = (wider + z) / 2
        wider, z = (middle, z) if surface.radius(middle) >= abs(x) else (wider, middle)
    return x, wider


def _settle_above(surface: Surface, point: Point) -> Point | None:
    assert not isinstance(surface, Flat), "check_view comes first"
    rho = hypot(*point)
    settled = _into(rho, surface.top_radius, surface.shown_radius)
    if settled is None:
        return None
    return point if settled == rho or rho == 0 else (point[0] * settled / rho, point[1] * settled / rho)


def angle_of(surface: Round, view: str, point: Point) -> tuple[float, float]:
    """Return angle [rad, positive to the viewer's right] and height [m] of a view point [m]."""
    x, y = point
    if view == "above":
        return atan2(x, -y), surface.height_at(hypot(x, y))
    if view == "unrolled":
        return x / surface.foot_radius - pi, y
    r = surface.radius(y)
    return (asin(min(max(x / r, -1.0), 1.0)) if r > 0 else 0.0), y


def point_of(surface: Round, view: str, angle: float, z: float) -> Point | None:
    """Return the view point [m] at an angle [-pi to pi] and height [m]; None where this view hides it."""
    if view == "unrolled":
        return (angle + pi) * surface.foot_radius, z
    r = surface.radius(z)
    if view == "above":
        hidden = z < surface.height_at(surface.shown_radius) - SMALLEST_M
        return None if hidden else (r * sin(angle), -r * cos(angle))
    return None if abs(angle) > pi / 2 else (r * sin(angle), z)


def bearing_at(surface: Surface, view: str, point: Point, bearing_deg: float) -> float:
    """Return the bearing [deg, 0 to 360) a view point [m] faces, from that of the drawn middle line.

    Who faces a wall that looks north has west on the right hand, so bearings fall towards the right.
    """
    turn = 0.0 if isinstance(surface, Flat) else degrees(angle_of(surface, view, point)[0])
    return (bearing_deg - turn) % 360.0


def silhouette_points(surface: Surface, view: str, n: int = 48) -> list[Point]:
    """Return the wall's edge in a view as points [m], not closed; n to each curved side, or round the rim."""
    if view == "above" and not isinstance(surface, Flat):
        rim = surface.shown_radius
        return [(rim * cos(2 * pi * k / n), rim * sin(2 * pi * k / n)) for k in range(n)]
    if isinstance(surface, Flat) or view == "unrolled":
        width = surface.width if isinstance(surface, Flat) else 2 * pi * surface.foot_radius
        return [(0.0, 0.0), (width, 0.0), (width, surface.height), (0.0, surface.height)]
    if isinstance(surface, Profile):
        right = list(surface.points)
    else:
        right = [(surface.radius(z), z) for z in (surface.height * sin(pi / 2 * k / n) for k in range(n + 1))]
    left = [(-r, z) for r, z in reversed(right) if r > 0]
    return right + left
