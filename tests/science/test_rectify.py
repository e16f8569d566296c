"""Photos laid behind drawings: what is refused, and the horizon."""

import math

import pytest

from makegood.errors import BadInput
from makegood.science.rectify import apply_homography, homography, invert_homography

PHOTO = [(300, 2800), (3700, 2800), (2900, 500), (1100, 500)]
WALL = [(0.0, 0.0), (4.0, 0.0), (4.0, 2.5), (0.0, 2.5)]


def _refused(photo, wall):
    with pytest.raises(BadInput) as refusal:
        homography(photo, wall)
    return refusal.value.code


def test_corners_go_where_they_were_picked():
    matrix = homography(PHOTO, WALL)
    for pixel, metre in zip(PHOTO, WALL, strict=True):
        assert apply_homography(matrix, pixel) == pytest.approx(metre, abs=1e-9)
        assert apply_homography(invert_homography(matrix), metre) == pytest.approx(pixel, abs=1e-6)


@pytest.mark.parametrize(
    "photo",
    [
        PHOTO[:3],
        [*PHOTO, (1, 1)],
        [(0, 0), (100, 100), (200, 200), (0, 200)],
        [PHOTO[0], PHOTO[0], *PHOTO[2:]],
        [PHOTO[0], PHOTO[2], PHOTO[1], PHOTO[3]],
        PHOTO[::-1],
        [(300, 2800), (3700, 2800), (1200, 2300), (1100, 500)],
        [(math.nan, 2800), *PHOTO[1:]],
        [("300", 2800), *PHOTO[1:]],
        [(1, 2, 3), *PHOTO[1:]],
    ],
)
def test_corners_that_place_no_photo_are_refused(photo):
    assert _refused(photo, WALL) == "points_refused"


def test_wall_corners_on_a_line_are_refused():
    assert _refused(PHOTO, [(0, 0), (1, 0.001), (2, 0), (0, 2)]) == "points_refused"


def test_beyond_the_horizon_there_is_no_wall():
    matrix = homography(PHOTO, WALL)
    # The two upright sides of the photo's trapezium meet at (2000, -2087.5): level with it lies the horizon.
    apply_homography(matrix, (2000, -2050))
    for y in (-2100, -20000):
        with pytest.raises(BadInput):
            apply_homography(matrix, (2000, y))


def test_what_flattens_the_wall_cannot_be_turned_back():
    with pytest.raises(BadInput):
        invert_homography([1, 1, 0, 1, 1, 0, 0, 0, 1])
