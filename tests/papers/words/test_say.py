"""Both languages say the same things; numbers and measures as people write them."""

import re

import pytest

from makegood.papers.words.say import BOOKS, Say

# Written alike in both languages; every other sentence that is the same was forgotten.
ALIKE = {"es": {"lasted_l_m2", "material", "no"}}


@pytest.mark.parametrize("language", sorted(set(BOOKS) - {"en"}))
def test_every_book_holds_the_same_sentences_with_the_same_parts(language):
    english, other = BOOKS["en"], BOOKS[language]
    assert set(english) == set(other)
    for key in english:
        assert set(re.findall(r"{(\w+)}", english[key])) == set(re.findall(r"{(\w+)}", other[key])), key
    said = {key: re.sub(r"{\w+}", "", sentence) for key, sentence in english.items()}
    alike = {key for key in said if english[key] == other[key] and re.search(r"[^\W\d_]{2}", said[key])}
    assert alike == ALIKE[language]


@pytest.mark.parametrize(
    ("say", "value", "wanted"),
    [
        (Say(), 1234.5, "1,234.5"), (Say("es"), 1234.5, "1.234,5"), (Say(), 0.0, "0"), (Say(), -0.01, "0"),
    ],
)  # fmt: skip
def test_numbers(say, value, wanted):
    assert say.number(value) == wanted


def test_measures():
    us, metric, es = Say(measures="us"), Say(), Say("es")
    assert metric.area(12.34) == "12.3 m²"
    assert us.area(1) == "10.8 ft²"
    assert us.mm(25.4) == "1 in"
    assert metric.mass(0.035) == "35 g"
    assert us.mass(0.45359237) == "1 lb"
    assert metric.measured(25, 10) == "2½ buckets"
    assert metric.measured(0.6, 10) == "2½ cups"
    assert metric.measured(0.03, 10) == "2 tbsp"
    assert es.measured(10, 10) == "1 cubo"
    assert es.bearing(270) == "O (270°)"
    assert us.day("2026-03-01") == "Mar 1, 2026"
    assert metric.day("2026-03-01") == "1 Mar 2026"


def test_a_source_is_said_in_the_language_of_the_paper_and_a_title_stands():
    assert Say("es").source("usual repair practice, no source") == "práctica habitual de reparación, sin fuente"
    assert Say("en").source("usual repair practice, no source") == "usual repair practice, no source"
    assert Say("es").source("EN 459-1") == "EN 459-1"
