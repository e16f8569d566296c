"""Coats: volume and the rules of a stack."""

from typing import Any

import pytest

from makegood.science.materials.coat import stack_warnings, thickness_total_mm, wash_volume_l, wet_volume_l
from makegood.science.range import spread

PLAIN: dict[str, Any] = {
    "kind": "plaster",
    "rich": 0.4,
    "stipple": False,
    "coverage_m2_per_l": None,
    "coat_mm": spread(3, 8, 15),
}
MIXES: dict[str, Any] = {
    "rich": {**PLAIN, "rich": 0.5},
    "lean": PLAIN,
    "stipple": {**PLAIN, "rich": 0.67, "stipple": True},
    "earth": {**PLAIN, "kind": "earth", "rich": 0.2},
    "wash": {**PLAIN, "kind": "wash", "rich": 10, "coverage_m2_per_l": spread(3, 4, 5), "coat_mm": None},
}


def warnings(*coats: tuple[str, float], below: str | None = None) -> set[str]:
    return stack_warnings([{"mix": mix, "thickness_mm": mm} for mix, mm in coats], MIXES, below)


def test_one_square_metre_of_one_millimetre_is_one_litre() -> None:
    assert wet_volume_l(1, [1]) == 1
    assert wet_volume_l(2, []) == 0


def test_better_cover_takes_less_wash() -> None:
    assert wash_volume_l(60, spread(3, 4, 5)) == {"low": 12, "likely": 15, "high": 20}


def test_a_wash_fills_no_hole() -> None:
    assert (
        thickness_total_mm([{"mix": "rich", "thickness_mm": 9}, {"mix": "wash", "thickness_mm": 0.3}], MIXES)
        == 9
    )


def test_a_sound_stack_has_nothing_against_it() -> None:
    assert warnings(("stipple", 4), ("rich", 12), ("lean", 8), ("wash", 0.3)) == set()


@pytest.mark.parametrize(
    ("coats", "expected"),
    [
        ([("lean", 8), ("rich", 8)], {"richer_than_below"}),
        ([("rich", 8), ("lean", 9)], {"thicker_than_below"}),
        ([("rich", 16)], {"too_thick"}),
        ([("stipple", 3), ("lean", 10)], set()),
        ([("earth", 8), ("rich", 12)], set()),
        ([("lean", 8), ("wash", 0.2), ("rich", 8)], {"richer_than_below"}),
    ],
)
def test_rules_of_a_stack(coats: list[tuple[str, float]], expected: set[str]) -> None:
    assert warnings(*coats) == expected


def test_the_first_coat_is_held_to_what_fills_the_hole() -> None:
    assert warnings(("rich", 8), below="lean") == {"richer_than_below"}
    assert warnings(("rich", 8), below="earth") == set()
