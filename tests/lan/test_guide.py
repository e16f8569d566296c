"""The guide: both languages whole, the right steps open, what it tells honest, and nothing in it that a browser would refuse."""

import re
from dataclasses import replace
from html.parser import HTMLParser
from http import HTTPStatus

import pytest

from makegood.lan.guide import BOOKS, Guide, in_lines
from makegood.lan.words import KINDS

FINGERPRINT = ":".join(f"{n:02X}" for n in range(32))
GUIDE = Guide(b"DER", FINGERPRINT, "makegood.local", 8377, "2036-11-25", ["192.168.4.7", "10.0.0.2"])


def page(path="/lan", agent="", query="", accepted="", method="GET"):
    environ = {"REQUEST_METHOD": method, "QUERY_STRING": query, "HTTP_ACCEPT_LANGUAGE": accepted, "HTTP_USER_AGENT": agent}
    return GUIDE.page(path, environ)


def text(**how):
    return page(**how).content.decode()


def test_both_languages_say_the_same_things():
    en, es = BOOKS["en"], BOOKS["es"]
    assert en.sentences.keys() == es.sentences.keys()
    assert set(en.steps) == set(es.steps) == set(en.removal) == set(es.removal) == set(KINDS)
    for kind in KINDS:
        assert [(one.tap, len(one.lines)) for one in en.steps[kind]] == [(one.tap, len(one.lines)) for one in es.steps[kind]]
        assert all(one.tap < len(one.lines) for one in en.steps[kind])
    same = [key for key in en.sentences if en.sentences[key] == es.sentences[key]]
    assert same == []
    holes = re.compile(r"\{\w+\}")
    assert all(holes.findall(en.sentences[key]) == holes.findall(es.sentences[key]) for key in en.sentences)


@pytest.mark.parametrize(
    ("query", "accepted", "language"),
    [
        ("", "", "en"),
        ("", "es-MX,es;q=0.9", "es"),
        ("language=en", "es", "en"),
        ("language=es", "en", "es"),
        ("language=x", "", "en"),
    ],
)
def test_language_is_the_phones_or_the_one_chosen(query, accepted, language):
    assert f'<html lang="{language}">' in text(query=query, accepted=accepted)


@pytest.mark.parametrize(
    ("agent", "kind"),
    [
        ("Mozilla/5.0 (Linux; Android 14; K) Chrome/120 Mobile", "android"),
        ("Mozilla/5.0 (iPhone; CPU iPhone OS 17_0 like Mac OS X)", "iphone"),
        ("Mozilla/5.0 (X11; Linux x86_64)", "laptop"),
        ("", "laptop"),
    ],
)
def test_steps_for_the_device_at_hand_are_open(agent, kind):
    opened = re.findall(r"<details open><summary>(.*?)</summary>", text(agent=agent))
    assert opened == [BOOKS["en"].sentences[kind]]


@pytest.mark.parametrize("language", BOOKS)
def test_page_is_whole_and_holds_nothing_the_policy_refuses(language):
    class Reader(HTMLParser):
        def __init__(self):
            super().__init__()
            self.depth, self.tags = [], []

        def handle_starttag(self, tag, attributes):
            self.tags.append((tag, dict(attributes)))
            if tag not in {"meta", "link", "rect", "path", "br"}:
                self.depth.append(tag)

        def handle_startendtag(self, tag, attributes):
            self.tags.append((tag, dict(attributes)))

        def handle_endtag(self, tag):
            assert self.depth.pop() == tag

    told = text(query=f"language={language}")
    reader = Reader()
    reader.feed(told)
    assert reader.depth == []
    assert not [tag for tag, given in reader.tags if tag in {"script", "style", "img"} or "style" in given or "onclick" in given]
    assert "{" not in told
    pictures = [given["aria-label"] for tag, given in reader.tags if tag == "svg"]
    assert len(pictures) == sum(len(steps) for steps in BOOKS[language].steps.values())
    assert all(pictures)


def test_page_tells_name_fingerprint_end_and_both_ways_in():
    told = text()
    for wanted in ("<b>makegood.local</b>", "2036-11-25", "authority.pem"):
        assert wanted in told
    for link in ("https://makegood.local:8377", "https://192.168.4.7:8377", "https://10.0.0.2:8377"):
        assert f'href="{link}"' in told
    for line in in_lines(FINGERPRINT):
        assert f"<code>{line}</code>" in told
    assert ":".join(in_lines(FINGERPRINT)) == FINGERPRINT


def test_where_the_network_does_not_know_the_name_only_addresses_are_offered():
    unnamed = replace(GUIDE, name_is_told=False)
    told = unnamed.text(BOOKS["en"], "laptop")
    assert 'href="https://makegood.local:8377"' not in told
    assert '<a class="deed" href="https://192.168.4.7:8377">' in told
    assert "does not know the name" in told


def test_colours_of_text_are_dark_enough():
    """7:1 by WCAG 2.2's definition of contrast."""

    def light(colour):
        parts = [int(colour[n : n + 2], 16) / 255 for n in (1, 3, 5)]
        red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    for on, ground in [
        ("#211d18", "#f8f5ee"),
        ("#26365f", "#f8f5ee"),
        ("#ffffff", "#26365f"),
        ("#50483c", "#fffdf8"),
        ("#211d18", "#f4e4d9"),
    ]:
        high, low = sorted((light(on), light(ground)), reverse=True)
        assert (high + 0.05) / (low + 0.05) >= 7, (on, ground)


def test_what_is_not_there_or_not_allowed_is_told():
    assert page("/lan/authority.pem").status == HTTPStatus.NOT_FOUND
    assert page("/lan/../lan/authority.pem").status == HTTPStatus.NOT_FOUND
    assert page(method="POST").status == HTTPStatus.METHOD_NOT_ALLOWED
    assert page("/lan/").status == HTTPStatus.OK
    assert page("/lan/guide.css").kind.startswith("text/css")
