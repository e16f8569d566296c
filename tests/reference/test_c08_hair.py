"""C8. Hair: 1 lb to 3 ft3 of plaster for walls, half as much in the second coat. A district council's lime
guide (South Somerset), as quoted in a public list archive: read. Also 1.5 to 3.5 g per kg (three sources:
read).
"""

import pytest

from makegood.domain.catalogue import build_catalogue

KG_PER_LB, L_PER_FT3, L_PER_YD3 = 0.45359237, 28.316846592, 764.554857984
FIRST, SECOND = 5.339, 2.670


def hair_kg_m3(mix: str) -> float:
    return float(1000 * build_catalogue()["mixes"][mix]["per_l"]["hair"]["kg"]["likely"])


def test_the_rule_in_other_units() -> None:
    assert pytest.approx(FIRST, rel=1e-3) == KG_PER_LB / (3 * L_PER_FT3) * 1000
    assert pytest.approx(9.00, rel=1e-3) == FIRST * L_PER_YD3 / 1000 / KG_PER_LB


def test_first_coat_is_haired_by_the_rule_and_second_by_half() -> None:
    assert hair_kg_m3("lime_base_coat") == pytest.approx(FIRST, rel=1e-3)
    assert hair_kg_m3("lime_coat") == pytest.approx(SECOND, rel=1e-3)


def test_first_coat_lies_in_the_range_by_mass() -> None:
    fresh = build_catalogue()["mixes"]["lime_base_coat"]["yield"]["fresh_kg_l"]["likely"]
    assert 1.5 <= hair_kg_m3("lime_base_coat") / fresh <= 3.5
