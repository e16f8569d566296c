"""Solids as people give them."""

import pytest

from makegood.errors import RecipeRefused
from makegood.science.materials.solids import Ingredient, read_solid, share, size
from makegood.science.range import exactly, spread


@pytest.mark.parametrize(
    ("given", "solid_l", "voids_l", "fine"),
    [
        ({"mass_kg": 5.3, "solid_density_kg_l": 2.65}, 2.0, 0.0, True),
        ({"mass_kg": 5.3, "solid_density_kg_l": 2.65, "bulk_density_kg_l": 1.59}, 2.0, 5.3 / 1.59 - 2, False),
        ({"mass_kg": 5.3, "solid_density_kg_l": 2.65, "bulk_density_kg_l": 0.7}, 2.0, 0.0, True),
        ({"loose_volume_l": 10, "voids": 0.4}, 6.0, 4.0, False),
        ({"loose_volume_l": 10, "voids": 0}, 10.0, 0.0, True),
        ({"loose_volume_l": 10, "voids": 0.7}, 3.0, 0.0, True),
    ],
)
def test_paste_and_sand_are_told_apart(
    given: dict[str, float], solid_l: float, voids_l: float, fine: bool
) -> None:
    solid = read_solid(given, 0)
    assert solid.solid_l == pytest.approx(solid_l)
    assert solid.voids_l == pytest.approx(voids_l)
    assert solid.fine is fine


def test_the_refusal_names_the_solid_it_means() -> None:
    with pytest.raises(RecipeRefused) as refusal:
        read_solid({"mass_kg": 2}, 3)
    assert list(refusal.value.fields) == ["solids[3]"]


def test_putty_is_solid_only_where_it_is_not_water() -> None:
    putty = Ingredient("putty", 2, "binder", exactly(1.35), exactly(2.24), exactly(0.2), holds_water_l_l=0.7)
    powder = Ingredient("lime", 2, "binder", spread(0.5, 0.6, 0.7), exactly(2.4), exactly(0.2))
    assert putty.solid_l("high") == pytest.approx(0.6)
    assert [powder.solid_l(state) for state in ("low", "likely", "high")] == pytest.approx(
        [1 / 2.4, 1.2 / 2.4, 1.4 / 2.4]
    )


@pytest.mark.parametrize("value", [-1, float("nan"), float("inf"), "3", None, True])
def test_what_is_no_size_is_refused(value: object) -> None:
    with pytest.raises(RecipeRefused):
        size(value, "water_l")
    with pytest.raises(RecipeRefused):
        share(value, "air", 0.5)
