"""Laying a photo behind a wall's drawing: the homography from four photo points [px] to four wall points [m].

By way of the unit square, in closed form (projective geometry of the plane; own derivation, held by exact
fractions in tests/reference). Right for a plane wall and a lens without distortion; on a round wall only
near the points picked.
"""

from collections.abc import Sequence
from itertools import combinations
from math import hypot

from makegood.errors import BadInput
from makegood.science.surface import is_plain_number

Point = tuple[float, float]
Homography = tuple[float, ...]
_LEAST_SINE = 0.005
_HORIZON = 1e-12


def homography(photo: Sequence[Sequence[float]], wall: Sequence[Sequence[float]]) -> Homography:
    """Return the 3x3 matrix, 9 numbers row by row, from photo (4, 2) [px, y down] to wall (4, 2) [m, y up].

    Scaled so that the third row gives 1 at the mean of the four photo points: it is positive on their side
    of the horizon. Raises BadInput `points_refused`: not four pairs, three nearly on a line (within 0.3
    degrees), corners in an order that crosses, or the other way round on the wall than on the photo.
    """
    from_photo, to_wall = _four(photo, "photo"), _four(wall, "wall")
    flipped = [(x, -y) for x, y in from_photo]
    if _turns(flipped) != _turns(to_wall):
        raise _refuse("Tap the same four corners in the same order on the photo and on the wall.", "order")
    matrix = _product(_from_unit_square(to_wall), _adjugate(_from_unit_square(from_photo)))
    x, y = sum(p[0] for p in from_photo) / 4, sum(p[1] for p in from_photo) / 4
    scale = matrix[6] * x + matrix[7] * y + matrix[8]
    return tuple(h / scale for h in matrix)


def apply_homography(matrix: Sequence[float], point: Sequence[float]) -> Point:
    """Return where a point goes; raises BadInput `points_refused` on or beyond the horizon of the corners."""
    x, y = point[0], point[1]
    w = matrix[6] * x + matrix[7] * y + matrix[8]
    if w <= _HORIZON * (abs(matrix[6] * x) + abs(matrix[7] * y) + abs(matrix[8])):
        raise _refuse("That point lies beyond the horizon of the photo; pick one on the wall.", "horizon")
    return (matrix[0] * x + matrix[1] * y + matrix[2]) / w, (matrix[3] * x + matrix[4] * y + matrix[5]) / w


def invert_homography(matrix: Sequence[float]) -> Homography:
    """Return the matrix from wall [m] back to photo [px]; raises BadInput `points_refused` where none is."""
    adjugate = _adjugate(matrix)
    terms = [matrix[0] * adjugate[0], matrix[1] * adjugate[3], matrix[2] * adjugate[6]]
    if abs(sum(terms)) <= _HORIZON * sum(map(abs, terms)):
        raise _refuse("This placing of the photo cannot be turned back; tap the corners again.", "homography")
    return tuple(a / sum(terms) for a in adjugate)


def _refuse(message: str, what: str) -> BadInput:
    return BadInput("points_refused", message, {"points": what})


def _four(points: Sequence[Sequence[float]], which: str) -> list[Point]:
    if len(points) != 4 or not all(len(p) == 2 and all(map(is_plain_number, p)) for p in points):
        raise _refuse("Tap four corners, each as two numbers.", which)
    corners = [(float(x), float(y)) for x, y in points]
    for a, b, c in combinations(corners, 3):
        sides = (
            hypot(b[0] - a[0], b[1] - a[1]),
            hypot(c[0] - b[0], c[1] - b[1]),
            hypot(a[0] - c[0], a[1] - c[1]),
        )
        if abs(_turn(a, b, c)) <= _LEAST_SINE * max(sides) ** 2 or min(sides) == 0:
            raise _refuse("Three of the four corners lie on a line; pick corners further apart.", which)
    p, q, r, s = corners
    if _cross(p, q, r, s) or _cross(q, r, s, p):
        raise _refuse("Tap the corners one after the other round the wall.", which)
    return corners


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _turns(corners: Sequence[Point]) -> list[bool]:
    return [_turn(a, b, c) > 0 for a, b, c in combinations(corners, 3)]


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    return _turn(a, b, c) * _turn(a, b, d) < 0 and _turn(c, d, a) * _turn(c, d, b) < 0


def _from_unit_square(corners: Sequence[Point]) -> Homography:
    """Take (0,0), (1,0), (1,1), (0,1) to the four corners."""
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = corners
    ax, ay, bx, by = x1 - x2, y1 - y2, x3 - x2, y3 - y2
    sx, sy, area = x0 - x1 + x2 - x3, y0 - y1 + y2 - y3, ax * by - ay * bx
    g, h = (sx * by - sy * bx) / area, (ax * sy - ay * sx) / area
    return x1 - x0 + g * x1, x3 - x0 + h * x3, x0, y1 - y0 + g * y1, y3 - y0 + h * y3, y0, g, h, 1.0


def _adjugate(m: Sequence[float]) -> Homography:
    a, b, c, d, e, f, g, h, i = m
    return (
        e * i - f * h, c * h - b * i, b * f - c * e,
        f * g - d * i, a * i - c * g, c * d - a * f,
        d * h - e * g, b * g - a * h, a * e - b * d,
    )  # fmt: skip


def _product(m: Sequence[float], n: Sequence[float]) -> Homography:
    return tuple(sum(m[3 * r + k] * n[3 * k + c] for k in range(3)) for r in range(3) for c in range(3))
