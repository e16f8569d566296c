"""C5. Laboratory batch of a 1 : 1.25 : 6.75 mortar (cement, lime, sand by volume) scaled to 1440 g of sand,
unit weights 94, 40 and 80 lb/ft3, as in ASTM C270: from memory of the standard, not read again.
"""

import pytest

from makegood.domain.vocabulary import shared
from makegood.science.mix import masses_by_parts

PARTS, LB_PER_FT3 = (1, 1.25, 6.75), (94, 40, 80)
KG_M3_PER_LB_FT3 = 16.018463374


def test_masses_for_1440_g_of_sand() -> None:
    cement, lime, sand = masses_by_parts(PARTS, LB_PER_FT3, 1440)
    assert sand / (6.75 * 80) == pytest.approx(2.667, abs=1e-3)
    assert (cement, lime, sand) == (pytest.approx(251, abs=1), pytest.approx(133, abs=1), pytest.approx(1440))


@pytest.mark.parametrize(("material", "lb_ft3"), [("hydrated_lime", 40), ("cement", 94)])
def test_unit_weights_of_the_standard_are_our_likely_densities(material: str, lb_ft3: float) -> None:
    bulk = shared("materials")["materials"][material]["bulk_kg_l"]["likely"]
    assert bulk == pytest.approx(lb_ft3 * KG_M3_PER_LB_FT3 / 1000, rel=2e-3)


def test_lime_putty_weighs_80_lb_per_cubic_foot_within_its_range() -> None:
    bulk = shared("materials")["materials"]["lime_putty"]["bulk_kg_l"]
    assert pytest.approx(bulk["low"], rel=0.02) == 80 * KG_M3_PER_LB_FT3 / 1000
