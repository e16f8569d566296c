"""Where a figure comes from is said in every language: on screens and papers no source stays in English."""

import re
from collections.abc import Iterator
from typing import Any

import pytest

from makegood.domain.catalogue import build_catalogue
from makegood.domain.vocabulary import shared

LANGUAGES = ("es",)


def shown(catalogue: dict[str, Any]) -> Iterator[str]:
    """Yield every source that a screen or paper shows: of methods, mixes, materials, hazards and clocks."""
    for kind in ("methods", "mixes", "materials"):
        yield from (one["source"] for one in catalogue[kind].values())
    yield from (one["source"] for one in catalogue["hazards"]["hazards"].values())
    yield from (one["source"] for one in catalogue["lasting"]["clocks"])


def figures(text: str) -> list[str]:
    """Return its numbers in their order, whichever decimal mark they have."""
    return re.findall(r"\d+", text)


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_source_that_is_shown_is_said_and_no_other(language):
    assert set(shown(build_catalogue())) == set(build_catalogue()["sources"][language])


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_source_keeps_its_figures(language):
    changed = [english for english, other in shared("sources")[language].items() if figures(english) != figures(other)]
    assert changed == []


def test_other_languages_are_no_copy():
    same = [english for english, other in shared("sources")["es"].items() if english == other]
    assert same == []
