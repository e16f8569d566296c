"""C9: free driving rain to what a wall takes, by Building Science Digest BSD-148, case 1 (read)."""

import pytest

from makegood.science.driving_rain import digest_wall_rain, driving_rain_factor, wind_at


@pytest.mark.parametrize(
    ("free_rain", "on_wall", "printed"),
    # Height factor 0.7, sheltered 0.5, peaked roof with overhang 0.5; inches a year, then L/m2 a year.
    # year.
    [(6.8, 1.19, 1.2), (170.0, 29.75, 30.0)],
)
def test_sheltered_wall_under_an_overhang_takes_what_the_digest_prints(free_rain, on_wall, printed):
    reckoned = digest_wall_rain(free_rain, deposition=0.5, height=0.7, shelter=0.5)
    assert reckoned == pytest.approx(on_wall, rel=1e-9)
    assert reckoned == pytest.approx(printed, rel=0.02)


@pytest.mark.parametrize(
    ("rain_mm_h", "factor"),
    # From memory (drop size and fall speed); both lie inside the range read in the digest: 0.15 to 0.25.
    [(1, 0.235), (10, 0.158)],
)
def test_driving_rain_factor_agrees_with_the_fall_speed_of_the_middling_drop(rain_mm_h, factor):
    assert driving_rain_factor(rain_mm_h) == pytest.approx(factor, abs=5e-4)


def test_wind_at_eaves_height_fits_the_height_factor_of_the_digest():
    # Calculated by hand: (2.7 / 10) ** 0.25 = 0.7208; the digest's factor is 0.7.
    assert wind_at(1, 2.7) == pytest.approx(0.7208, abs=1e-4)
