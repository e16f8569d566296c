"""C7. Three coats of 3/8, 3/8 and 1/8 inch on 100 ft2. Thicknesses of ASTM C926: read at second hand (a
contractor's page); volume by definition of the inch.
"""

import pytest

from makegood.science.materials.coat import wet_volume_l

M2_PER_FT2 = 0.3048**2
L_PER_FT3 = 28.316846592


def test_three_coats_on_a_hundred_square_feet() -> None:
    litres = wet_volume_l(100 * M2_PER_FT2, [inches * 25.4 for inches in (3 / 8, 3 / 8, 1 / 8)])
    assert litres / L_PER_FT3 == pytest.approx(7.2917, rel=1e-4)
    assert litres == pytest.approx(206.48, rel=1e-4)


def test_ten_square_metres_at_seven_eighths_of_an_inch() -> None:
    assert wet_volume_l(10, [22.225]) == pytest.approx(222.25, rel=1e-12)
