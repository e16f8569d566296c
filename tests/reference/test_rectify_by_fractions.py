"""Homographies against the exact solution of their eight linear equations in fractions, without rounding."""

import json
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from makegood.errors import BadInput
from makegood.paths import shared_dir
from makegood.science.rectify import apply_homography, homography, invert_homography


def exact_homography(photo, wall):
    """Solve x = (ax + by + c)/(gx + hy + 1) for four pairs by elimination; third row 1 at the mean."""
    rows = []
    for (u, v), (x, y) in zip(photo, wall, strict=True):
        u, v, x, y = (Fraction(str(c)) for c in (u, v, x, y))
        rows.append([u, v, 1, 0, 0, 0, -u * x, -v * x, x])
        rows.append([0, 0, 0, u, v, 1, -u * y, -v * y, y])
    for k in range(8):
        pivot = next(r for r in range(k, 8) if rows[r][k] != 0)
        rows[k], rows[pivot] = rows[pivot], rows[k]
        rows[k] = [c / rows[k][k] for c in rows[k]]
        for r in range(8):
            if r != k:
                rows[r] = [c - rows[r][k] * d for c, d in zip(rows[r], rows[k], strict=True)]
    matrix = [row[8] for row in rows] + [Fraction(1)]
    u, v = (sum(Fraction(str(p[k])) for p in photo) / 4 for k in (0, 1))
    scale = matrix[6] * u + matrix[7] * v + 1
    return [float(c / scale) for c in matrix]


CASES = json.loads((shared_dir() / "vectors" / "rectify.json").read_text(encoding="utf-8"))["cases"]


@pytest.mark.parametrize("case", [pytest.param(c, id=c["name"]) for c in CASES if "out" in c])
def test_homography_vector_is_the_exact_solution(case):
    exact = exact_homography(case["in"]["photo"], case["in"]["wall"])
    assert case["out"]["homography"] == pytest.approx(exact, rel=1e-12, abs=1e-15)


def _near(corner_x, corner_y, spread):
    whole = st.integers(-spread, spread)
    return st.tuples(whole.map(lambda d: corner_x + d), whole.map(lambda d: corner_y + d))


PHOTO = st.tuples(*(_near(x, y, 700) for x, y in ((800, 2200), (3200, 2200), (3200, 800), (800, 800))))


@given(PHOTO)
def test_picked_points_land_on_the_wall_points_and_come_back(photo):
    wall = [(0.0, 0.0), (4.0, 0.0), (4.0, 2.5), (0.0, 2.5)]
    try:
        matrix = homography(photo, wall)
    except BadInput as refusal:
        assume(refusal.code != "points_refused")
        raise
    back = invert_homography(matrix)
    assert matrix == pytest.approx(exact_homography(photo, wall), rel=1e-9, abs=1e-12)
    for pixel, metre in zip(photo, wall, strict=True):
        assert apply_homography(matrix, pixel) == pytest.approx(metre, abs=1e-9)
        assert apply_homography(back, metre) == pytest.approx(pixel, abs=1e-6)
