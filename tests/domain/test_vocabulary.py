"""Shared data is read once, by this module alone."""

import pytest

from makegood.domain.vocabulary import choices, shared, structural_signs


def test_a_file_is_read_once() -> None:
    assert shared("materials") is shared("materials")


@pytest.mark.parametrize(
    ("of", "one"),
    [
        ("kinds", "washout"),
        ("signs", "bulging"),
        ("wall_materials", "cob"),
        ("methods", "limewash"),
        ("mixes", "cob"),
        ("materials", "hair"),
    ],
)
def test_choices_are_ids(of: str, one: str) -> None:
    assert one in choices(of)


def test_a_list_that_does_not_exist_is_said_to() -> None:
    with pytest.raises(KeyError, match="moods"):
        choices("moods")


def test_structural_signs_are_signs() -> None:
    assert {"bulging", "leaning"} <= structural_signs() < choices("signs")
