"""C1. Yield formula and table of "Concrete Construction: Methods and Costs" (1908), p. 19 and 21, public
domain: read.

Barrels of cement per cubic yard of mortar for s = 3.5 ft3 of sand per barrel and part, p = 3.4 ft3 of paste
per barrel, voids 45 %. p and the voids stand in the worked text beside the table and fit this row; its own
heading was not seen.
"""

import pytest

from makegood.science.mix import handbook_volume, is_lean

PRINTED = [(1, 4.62), (1.5, 3.80), (2, 3.25), (2.5, 2.84), (3, 2.35), (4, 1.76)]


@pytest.mark.parametrize(("parts", "barrels"), PRINTED)
def test_barrels_per_cubic_yard_are_those_printed(parts: float, barrels: float) -> None:
    assert 27 / handbook_volume(paste=3.4, sand=3.5 * parts, voids=0.45) == pytest.approx(barrels, rel=0.015)


def test_the_paste_stops_filling_the_voids_between_one_to_two_and_one_to_two_and_a_half() -> None:
    assert not is_lean(3.4, 3.5 * 2 * 0.45)
    assert is_lean(3.4, 3.5 * 2.5 * 0.45)
