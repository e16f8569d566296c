"""C4. Bulking of damp sand. Sand column 200 mm, flooded 160 mm: 25 % (theconstructioncivil.org: read). At 30
% two damp volumes hold 1.538 dry, and 2.60 damp place 2.0 dry (civinnovate.com 2026: read). Near 20 % at 2 %
moisture in fine sand, none when saturated (Treatise on Masonry Construction, 1909: read).
"""

import pytest

from makegood.domain.vocabulary import shared
from makegood.errors import RecipeRefused
from makegood.science.mix import bulking_at, bulking_from_settling, damp_from_dry_l, dry_from_damp_l

SANDS = {
    key: given for key, given in shared("materials")["materials"].items() if given["role"] == "aggregate"
}


def test_settling_in_a_jar() -> None:
    assert bulking_from_settling(200, 160) == 0.25


def test_flooded_sand_never_stands_higher() -> None:
    with pytest.raises(RecipeRefused):
        bulking_from_settling(160, 200)


def test_damp_and_dry_volumes() -> None:
    assert dry_from_damp_l(2.0, 0.30) == pytest.approx(1.538, abs=5e-4)
    assert damp_from_dry_l(2.0, 0.30) == pytest.approx(2.60, rel=1e-12)
    assert dry_from_damp_l(damp_from_dry_l(7.3, 0.22), 0.22) == pytest.approx(7.3, rel=1e-12)


def test_usual_moisture_of_a_heap() -> None:
    curve = SANDS["sharp_sand"]["bulking_curve"]
    assert 0.25 <= bulking_at(0.05, curve) <= 0.30
    assert bulking_at(0.10, curve) == pytest.approx(0.10)
    assert bulking_at(0.02, SANDS["fine_sand"]["bulking_curve"]) == pytest.approx(0.20)


@pytest.mark.parametrize("sand", SANDS)
def test_bulking_rises_then_falls_from_nothing_to_nothing(sand: str) -> None:
    curve = SANDS[sand]["bulking_curve"]
    heights = [bulking_at(curve[-1][0] * k / 200, curve) for k in range(201)]
    top = heights.index(max(heights))
    assert heights[0] == 0
    assert heights[-1] == pytest.approx(0, abs=1e-9)
    assert heights[: top + 1] == sorted(heights[: top + 1])
    assert heights[top:] == sorted(heights[top:], reverse=True)


def test_moisture_beyond_the_curve_is_refused() -> None:
    with pytest.raises(RecipeRefused):
        bulking_at(0.5, SANDS["sharp_sand"]["bulking_curve"])
