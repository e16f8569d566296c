"""C3. Lime paste fills the voids of the sand: 27 ft3 of sand and about 9 ft3 of paste make about 27 ft3 of
1:3 mortar.

Cyclopedia of Carpentry and Building, vol. 4, par. 93: read. Also: mortar is less than its dry parts, but more
than paste and sand solids (Treatise on Masonry Construction, 1909: read).
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from makegood.science.mix import reckon_yield

L_PER_FT3 = 28.316846592


def test_nine_of_paste_vanish_in_twenty_seven_of_sand() -> None:
    sand = {"loose_volume_l": 27 * L_PER_FT3, "voids": 1 / 3}
    paste = {"loose_volume_l": 9 * L_PER_FT3, "voids": 0}
    reckoned = reckon_yield([sand, paste], water_l=0, air=0)
    assert reckoned["volume_l"] == pytest.approx(27 * L_PER_FT3, rel=0.01)
    assert reckoned["voids_filled"] == pytest.approx(1, rel=0.01)
    assert reckoned["warnings"] == []


@given(st.floats(0.1, 1000), st.floats(0.3, 0.48), st.floats(0.2, 1.0))
def test_mortar_is_less_than_its_parts_and_more_than_what_is_solid_in_them(
    sand_l: float, voids: float, paste: float
) -> None:
    paste_l = paste * sand_l
    reckoned = reckon_yield(
        [{"loose_volume_l": sand_l, "voids": voids}, {"loose_volume_l": paste_l, "voids": 0}], 0, 0
    )
    assert reckoned["volume_l"] < sand_l + paste_l
    assert reckoned["volume_l"] >= sand_l * (1 - voids) + paste_l * (1 - 1e-12)
