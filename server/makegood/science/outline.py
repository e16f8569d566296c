"""The true size of what was drawn on a wall: area and edge of an outline, length of a line.

Green's theorem turns the area into an integral along the drawn edges (own derivation, held against scipy in
tests/reference/test_outline_against_shapely_and_scipy.py):
seen      closed integral of m(z) asin(x/r(z)) dz        unrolled  closed integral of m(z) x/r(0) dz
above     closed integral of crown(rho) (x dy - y dx)    flat      shoelace / cos(batter)
Edges are cut where the profile bends, stretched at both ends (t = 3s^2 - 2s^3) so that the square roots at
the silhouette and the crown turn smooth, and integrated by 12-point Gauss-Legendre, halved until it stands
still. Straight edges of the drawing are what is mapped: chords drawn close along a round silhouette zigzag
on the wall, and their perimeter reads long (`steep_view` says so). Range: up to 2,000 points, relative error
under 1e-9.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import asin, copysign, cos, hypot, inf, pi, radians, sqrt, tan

from makegood.errors import BadInput, OutlineRefused
from makegood.science.dome import Flat
from makegood.science.surface import (
    SMALLEST_M,
    Point,
    Round,
    Surface,
    angle_of,
    check_view,
    is_plain_number,
    settle,
    surface_from,
)

MOST_POINTS = 2000
STEEPEST_VIEW_DEG = 75.0
_LEAST_COS = cos(radians(STEEPEST_VIEW_DEG))
_MOST_FALL = tan(radians(STEEPEST_VIEW_DEG))
_SAME_POINT_M = 1e-9
_RELATIVE = 1e-12
_ROUNDING = 1e-15
_ON_SILHOUETTE = 1e-13
# Chords along a rim end where rounding outgrows any halving: a length is good to this share of itself, and no
# piece is halved more often than this.
_LENGTH_ROUNDING = 1e-11
_DEEPEST = 12
_HALF_GAUSS = (
    (0.1252334085114689, 0.2491470458134027),
    (0.3678314989981802, 0.2334925365383546),
    (0.5873179542866175, 0.20316742672306573),
    (0.7699026741943047, 0.16007832854334642),
    (0.9041172563704748, 0.10693932599531907),
    (0.9815606342467192, 0.04717533638651141),
)
_GAUSS = [((1 + x) / 2, w / 2) for x, w in _HALF_GAUSS] + [((1 - x) / 2, w / 2) for x, w in _HALF_GAUSS]

Pair = tuple[float, float]


@dataclass(frozen=True)
class AreaReckoned:
    """True area [m2] and edge [m] on the wall; the area as the drawing measures it [m2]; warning codes."""

    area_m2: float
    as_drawn_m2: float
    perimeter_m: float
    warnings: list[str]


@dataclass(frozen=True)
class LengthReckoned:
    """True length on the wall and as drawn [m]; warning codes."""

    length_m: float
    as_drawn_m: float
    warnings: list[str]


@dataclass(frozen=True)
class _Edge:
    """One drawn edge: where to cut it, and (area, length) per unit of t at t in 0 to 1."""

    cuts: list[float]
    at: Callable[[float], Pair]


def reckon_area(surface: object, view: str, outline: object = None) -> AreaReckoned:
    """Return true area and edge of an outline, (n, 2) view points [m], n >= 3; None is the whole surface.

    The surface is a shape of dome.py or a description for `surface_from`. Raises BadInput `surface_refused`
    or `bad_value`; OutlineRefused `outline_empty`, `outline_leaves_wall` or `outline_crosses_itself`.
    Warnings: `steep_view`, parts are seen at more than 75 degrees; `far_side_counted`, the whole was asked
    for and the front view shows half of it. From above, an opening at the top counts for nothing.
    """
    shape = surface if isinstance(surface, Surface) else surface_from(surface)
    check_view(shape, view)
    if outline is None:
        return _whole(shape, view)
    return _measure(shape, view, check_ring(settle(shape, view, read_points(outline))))


def _measure(shape: Surface, view: str, points: Sequence[Point]) -> AreaReckoned:
    drawn, edges = signed_area(points), _round_trip(points)
    if isinstance(shape, Flat):
        return AreaReckoned(abs(drawn) * shape.stretch, abs(drawn), _on_flat(shape, edges), [])
    area, length, steep = _along(shape, view, edges, abs(drawn))
    if view == "above":
        area += 2 * drawn * shape.crown(hypot(*points[0]))
    return AreaReckoned(abs(area), abs(drawn), length, ["steep_view"] if steep else [])


def reckon_length(surface: object, view: str, line: object) -> LengthReckoned:
    """Return the true length of a line, (n, 2) view points [m], n >= 2, free to cross itself.

    Raises as `reckon_area`.
    """
    shape = surface if isinstance(surface, Surface) else surface_from(surface)
    check_view(shape, view)
    points = without_repeats(settle(shape, view, read_points(line)))
    if len(points) < 2:
        say = "Draw the line through at least two points."
        raise OutlineRefused("outline_empty", say, {"points_m": "fewer than 2 points"})
    edges = list(pairwise(points))
    drawn = _drawn_length(edges)
    if isinstance(shape, Flat):
        return LengthReckoned(_on_flat(shape, edges), drawn, [])
    _, length, steep = _along(shape, view, edges, inf)
    return LengthReckoned(length, drawn, ["steep_view"] if steep else [])


def read_points(value: object) -> list[Point]:
    """Return view points as pairs of floats; raises BadInput `bad_value` for else or more than 2,000."""
    if not isinstance(value, list | tuple) or len(value) > MOST_POINTS:
        say = "Give the points as a list of at most 2,000."
        raise BadInput("bad_value", say, {"points_m": "a list of [x, y]"})
    return [_point(point) for point in value]


def _point(value: object) -> Point:
    if isinstance(value, list | tuple) and len(value) == 2 and all(map(is_plain_number, value)):
        return float(value[0]), float(value[1])
    raise BadInput("bad_value", "Give each point as two numbers in metres.", {"points_m": "pairs of numbers"})


def without_repeats(points: Sequence[Point]) -> list[Point]:
    """Return the points without those that repeat the one before."""
    kept: list[Point] = []
    for x, y in points:
        if not kept or hypot(x - kept[-1][0], y - kept[-1][1]) > _SAME_POINT_M:
            kept.append((x, y))
    return kept


def check_ring(points: Sequence[Point]) -> list[Point]:
    """Return the outline without repeats; raises OutlineRefused where it has no area or crosses itself."""
    ring = without_repeats(points)
    while len(ring) > 1 and hypot(ring[0][0] - ring[-1][0], ring[0][1] - ring[-1][1]) <= _SAME_POINT_M:
        ring.pop()
    say = "Draw round an area with at least three points."
    empty = OutlineRefused("outline_empty", say, {"points_m": "no area"})
    if len(ring) < 3:
        raise empty
    (x0, y0), far = ring[0], max(ring, key=lambda p: hypot(p[0] - ring[0][0], p[1] - ring[0][1]))
    reach = hypot(far[0] - x0, far[1] - y0)
    if all(abs(_turn(ring[0], far, p)) <= _SAME_POINT_M * reach for p in ring):
        raise empty
    if crosses_itself(ring):
        say = "The outline crosses or touches itself; draw it again round one area."
        raise OutlineRefused("outline_crosses_itself", say, {"points_m": "crosses itself"})
    return ring


def signed_area(points: Sequence[Point]) -> float:
    """Return the shoelace area [m2] of (n, 2) points, positive anticlockwise."""
    x0, y0 = points[0]
    moved = [(x - x0, y - y0) for x, y in points]
    return sum(xa * yb - xb * ya for (xa, ya), (xb, yb) in _round_trip(moved)) / 2


def _round_trip(points: Sequence[Point]) -> list[tuple[Point, Point]]:
    return list(zip(points, [*points[1:], points[0]], strict=True))


def _turn(a: Point, b: Point, c: Point) -> float:
    """Twice the area of triangle abc, with what is only rounding set to 0."""
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], c[0] - a[0], c[1] - a[1]
    turn = ux * vy - uy * vx
    return 0.0 if abs(turn) <= 1e-13 * (abs(ux * vy) + abs(uy * vx)) else turn


def crosses_itself(ring: Sequence[Point]) -> bool:
    """Whether edges of a closed ring share more than the corner between neighbours; sweeps by x."""
    n = len(ring)
    edges = sorted((min(p[0], q[0]), max(p[0], q[0]), k, p, q) for k, (p, q) in enumerate(_round_trip(ring)))
    for at, (_, right, k, p, q) in enumerate(edges):
        for left, _, j, a, b in edges[at + 1 :]:
            if left > right:
                break
            if (k + 1) % n == j:
                clash = _doubles_back(p, q, b)
            elif (j + 1) % n == k:
                clash = _doubles_back(a, b, q)
            else:
                clash = _meet(p, q, a, b)
            if clash:
                return True
    return False


def _doubles_back(a: Point, b: Point, c: Point) -> bool:
    return _turn(a, b, c) == 0 and (a[0] - b[0]) * (c[0] - b[0]) + (a[1] - b[1]) * (c[1] - b[1]) > 0


def _meet(p: Point, q: Point, a: Point, b: Point) -> bool:
    if max(p[1], q[1]) < min(a[1], b[1]) or max(a[1], b[1]) < min(p[1], q[1]):
        return False
    return _turn(p, q, a) * _turn(p, q, b) <= 0 and _turn(a, b, p) * _turn(a, b, q) <= 0


def _on_flat(shape: Flat, edges: Sequence[tuple[Point, Point]]) -> float:
    return sum(hypot(x1 - x0, (y1 - y0) * shape.stretch) for (x0, y0), (x1, y1) in edges)


def _drawn_length(edges: Sequence[tuple[Point, Point]]) -> float:
    return sum(hypot(x1 - x0, y1 - y0) for (x0, y0), (x1, y1) in edges)


def _whole(shape: Surface, view: str) -> AreaReckoned:
    if isinstance(shape, Flat):
        edge = 2 * (shape.width + shape.height * shape.stretch)
        return AreaReckoned(shape.area, shape.width * shape.height, edge, [])
    edge = 2 * pi * (shape.foot_radius + shape.top_radius)
    if view == "unrolled":
        return AreaReckoned(shape.area, 2 * pi * shape.foot_radius * shape.height, edge, [])
    if view == "above":
        return AreaReckoned(shape.area, pi * (shape.shown_radius**2 - shape.top_radius**2), edge, [])
    return AreaReckoned(shape.area, shape.silhouette, edge, ["far_side_counted"])


def _along(
    shape: Round, view: str, edges: Sequence[tuple[Point, Point]], drawn_m2: float
) -> tuple[float, float, bool]:
    """Sum (area, length) along edges, and whether any part is seen too steeply."""
    area, length, steep = 0.0, 0.0, [False]
    start, enough = edges[0][0], (_RELATIVE * drawn_m2, _RELATIVE * _drawn_length(edges))
    edge_of = {"seen": _seen_edge, "unrolled": _unrolled_edge, "above": _above_edge}[view]
    for p, q in edges:
        edge = edge_of(shape, p, q, start, steep)
        for low, high in pairwise([0.0, *edge.cuts, 1.0]):
            a, d = _integrate(edge.at, low, high, enough)
            area, length = area + a, length + d
    return area, length, steep[0]


def _integrate(at: Callable[[float], Pair], low: float, high: float, enough: Pair) -> Pair:
    """Integrate a pair over t from low to high; halves s until both halves agree with the whole."""

    def gauss(s0: float, s1: float) -> Pair:
        a = d = 0.0
        for x, w in _GAUSS:
            s = s0 + (s1 - s0) * x
            fa, fd = at(low + (high - low) * s * s * (3 - 2 * s))
            w *= 6 * s * (1 - s) * (s1 - s0) * (high - low)
            a, d = a + w * fa, d + w * fd
        return a, d

    area = length = 0.0
    waiting = [(0.0, 1.0, gauss(0.0, 1.0), 0)]
    while waiting:
        s0, s1, (a, d), depth = waiting.pop()
        middle = (s0 + s1) / 2
        (a0, d0), (a1, d1) = gauss(s0, middle), gauss(middle, s1)
        floor = _ROUNDING * (abs(a0) + abs(a1)), _LENGTH_ROUNDING * (d0 + d1)
        still = abs(a0 + a1 - a) <= enough[0] + floor[0] and abs(d0 + d1 - d) <= enough[1] + floor[1]
        if still or depth >= _DEEPEST:
            area, length = area + a0 + a1, length + d0 + d1
        else:
            waiting += [(s0, middle, (a0, d0), depth + 1), (middle, s1, (a1, d1), depth + 1)]
    return area, length


def _height_cuts(shape: Round, p: Point, q: Point) -> list[float]:
    cuts = [(z - p[1]) / (q[1] - p[1]) for z in shape.breaks if min(p[1], q[1]) < z < max(p[1], q[1])]
    return sorted(cuts)


def _seen_edge(shape: Round, p: Point, q: Point, start: Point, steep: list[bool]) -> _Edge:
    (x0, z0), dx, dz = p, q[0] - p[0], q[1] - p[1]
    first = angle_of(shape, "seen", start)[0]
    cuts = _height_cuts(shape, p, q)
    if any(abs(x0 + t * dx) > shape.radius(z0 + t * dz) + SMALLEST_M for t in cuts):
        say = "Keep the drawing on the wall: an edge cuts across a hollow of it; add a point there."
        raise OutlineRefused("outline_leaves_wall", say, {"points_m": "an edge beside the wall"})

    def at(t: float) -> Pair:
        x, z = x0 + t * dx, z0 + t * dz
        r = shape.radius(z)
        if r <= 0:
            return -shape.weight(z) * first * dz, hypot(dx, dz)
        u, slope = min(max(x / r, -1.0), 1.0), shape.slope(z)
        if 1 - abs(u) < _ON_SILHOUETTE:
            u = copysign(1.0, u)
        lean, side = sqrt(1 + slope * slope), sqrt((1 - u) * (1 + u))
        steep[0] = steep[0] or side < _LEAST_COS * lean
        across = (dx - u * slope * dz) / side if side > 0 else 0.0
        return shape.weight(z) * (asin(u) - first) * dz, hypot(lean * dz, across)

    return _Edge(cuts, at)


def _unrolled_edge(shape: Round, p: Point, q: Point, start: Point, steep: list[bool]) -> _Edge:
    (x0, z0), dx, dz, foot = p, q[0] - p[0], q[1] - p[1], shape.foot_radius

    def at(t: float) -> Pair:
        z = z0 + t * dz
        r = shape.radius(z)
        lean = sqrt(1 + shape.slope(z) ** 2) if dz and r > 0 else 1.0
        return shape.weight(z) * (x0 - start[0] + t * dx) / foot * dz, hypot(lean * dz, r * dx / foot)

    return _Edge(_height_cuts(shape, p, q), at)


def _above_edge(shape: Round, p: Point, q: Point, start: Point, steep: list[bool]) -> _Edge:
    (x0, y0), dx, dy = p, q[0] - p[0], q[1] - p[1]
    long2, cross, first = dx * dx + dy * dy, x0 * q[1] - y0 * q[0], shape.crown(hypot(*start))
    near = -(x0 * dx + y0 * dy) / long2
    cuts = [near]
    for rho in shape.above_breaks:
        half = rho * rho / long2 - (cross / long2) ** 2
        if half > 0:
            cuts += [near - sqrt(half), near + sqrt(half)]

    def at(t: float) -> Pair:
        x, y = x0 + t * dx, y0 + t * dy
        rho = hypot(x, y)
        inward = (x * dx + y * dy) / rho if rho > 0 else sqrt(long2)
        fall = shape.fall(rho)
        steep[0] = steep[0] or fall > _MOST_FALL
        return cross * (shape.crown(rho) - first), hypot(dx, dy, fall * inward)

    return _Edge(sorted(t for t in cuts if 0 < t < 1), at)


def openings_overlap_m2(
    surface: object, view: str, outline: object, openings: Sequence[Sequence[Point]]
) -> float | None:
    """Return the true area [m2] of an outline that lies over openings, which need no plaster.

    Each opening is a convex ring of points [m] of the front view. None where the outline was drawn on another
    view of a round surface, for which this is not reckoned. Openings that overlap each other count twice.
    """
    shape = surface if isinstance(surface, Surface) else surface_from(surface)
    check_view(shape, view)
    ring = check_ring(settle(shape, view, read_points(outline)))
    if view != "seen" and not isinstance(shape, Flat):
        return None
    pieces = [_clip(ring, opening) for opening in openings]
    return sum(_measure(shape, view, piece).area_m2 for piece in pieces if len(piece) > 2)


def _clip(ring: Sequence[Point], convex: Sequence[Point]) -> list[Point]:
    """Cut a ring down to a convex one, side by side; parts that fall apart stay joined by empty edges."""
    sides = _round_trip(convex if signed_area(convex) > 0 else list(reversed(convex)))
    kept = list(ring)
    for a, b in sides:
        cut: list[Point] = []
        for p, q in _round_trip(kept) if kept else []:
            inside, outside = _turn(a, b, p), _turn(a, b, q)
            if inside >= 0:
                cut.append(p)
            if inside * outside < 0:
                t = inside / (inside - outside)
                cut.append((p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])))
        kept = without_repeats(cut)
    return kept
