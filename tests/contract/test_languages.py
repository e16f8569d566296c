"""What both sides read is said in every language: no word of the trade missing, none left in English."""

import json
from collections.abc import Iterator
from typing import Any

import pytest

from makegood.paths import shared_dir

LANGUAGES = ("es",)
# Written alike in both languages; every other word that is the same was forgotten.
ALIKE = {("es", "vocabulary.json/wall_materials/1/words")}


def worded(of: Any, path: str) -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield every place that speaks, with its words by language."""
    if isinstance(of, dict):
        if "en" in of:
            yield path, of
        else:
            for key, inner in of.items():
                yield from worded(inner, f"{path}/{key}")
    elif isinstance(of, list):
        for n, inner in enumerate(of):
            yield from worded(inner, f"{path}/{n}")


def beside(english: Any, other: Any, path: str) -> Iterator[tuple[str, str, Any]]:
    """Yield each English text with what stands in its place in the other language."""
    if isinstance(english, str):
        yield path, english, other
        return
    assert type(english) is type(other), path
    # Plain words people search by: each language has as many as it has.
    if path.endswith("/also"):
        yield path, " ".join(english), " ".join(other)
        return
    assert len(english) == len(other), path
    for key in english if isinstance(english, dict) else range(len(english)):
        yield from beside(english[key], other[key], f"{path}/{key}")


PLACES = [
    place for file in sorted(shared_dir().glob("*.json")) for place in worded(json.loads(file.read_text("utf-8")), file.name)
]


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_word_of_the_trade_is_said(language):
    texts = [text for path, words in PLACES for text in beside(words["en"], words.get(language), path)]
    assert len(texts) > 500
    missing = [path for path, english, other in texts if not (other and other.strip())]
    assert not missing
    alike = {(language, path) for path, english, other in texts if english == other and english.strip()}
    assert alike == {one for one in ALIKE if one[0] == language}
