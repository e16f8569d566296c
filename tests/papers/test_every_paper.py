"""Every PDF in both languages and measures: tagged, told in words, clean of metadata; and what nasty names do to it."""

import re
from io import BytesIO

import pytest
from pypdf import PdfReader

from makegood.papers.press import PAPERS
from tests.papers.site import NASTY, Ground, check_clean, close_first, make_ground, printed, tags_of, text_of

PDFS = [name for name, paper in PAPERS.items() if paper.ending == "pdf"]


def whole(note: str = "Soft below the gutter.", name: str = "Wader barn") -> tuple[Ground, dict[str, str | None]]:
    """A site with something for every paper, and which row each is about."""
    ground = make_ground(note, name)
    closed = close_first(ground)
    tickets = [one["id"] for one in ground.rows["ticket"]]
    sheet = ground.add("handout", person=name, on="2026-11-26", ticket_ids=tickets, language=None, show_place=None, note=note)
    wall = ground.rows["elevation"][0]["id"]
    panel = ground.add("finish", elevation_id=wall, name=name, coats=[{"mix": "lime_coat", "thickness_mm": 8}], region=None,
                       sample_panel=True, made_on="2026-04-01", ended_on="2026-10-01", note=note, by=name)  # fmt: skip
    score = ground.add("score", finish_id=panel["id"], at="2026-05-01T10:00:00.000Z", verdict="worn", rub="clean", note=note)
    ground.photo("score", score["id"])
    return ground, {"handout": sheet["id"], "closure": closed["id"]}


@pytest.mark.parametrize(("language", "measures"), [("en", "metric"), ("es", "us")])
@pytest.mark.parametrize("name", PDFS)
def test_paper_is_tagged_and_clean(name, language, measures):
    ground, about = whole()
    pdf = printed(ground, name, about.get(name), language, measures)
    check_clean(pdf, language)
    tags = [kind for kind, _ in tags_of(pdf)]
    assert tags.count("/H1") == 1
    assert {"/P", "/Table", "/TR", "/TD"} <= set(tags)
    assert bool(re.search(r"\d (ft²|in|lb|oz)\b", text_of(pdf))) == (measures == "us")


@pytest.mark.parametrize("name", PDFS)
def test_nasty_names_stand_as_plain_words(name):
    ground, about = whole(NASTY, NASTY[:100])
    words = text_of(printed(ground, name, about.get(name)))
    assert "=HYPERLINK" in words
    assert "<img onerror=alert(1)> evil" in words
    assert not set(words) & set("\u202e\u202c\u200f\u200e")
    assert "????" in words  # letters this font has no shapes for


@pytest.mark.parametrize("name", PDFS)
def test_longest_notes_are_printed_to_their_end(name):
    if name in ("shopping", "lasted"):
        pytest.skip("this paper holds no notes")
    note = " ".join(f"w{n}" for n in range(4000 // 5))[:3990] + " the end"
    ground, about = whole(note)
    words = text_of(printed(ground, name, about.get(name)))
    assert "w1 " in words
    assert "the end" in words
    unbroken = "x" * 4000
    ground, about = whole(unbroken)
    assert text_of(printed(ground, name, about.get(name))).count("x") >= 4000


@pytest.mark.parametrize("name", [one for one in PDFS if PAPERS[one].about is None])
def test_empty_site_has_papers_too(name):
    pdf = printed(Ground(), name)
    check_clean(pdf)
    assert len(PdfReader(BytesIO(pdf)).pages) == 1


def test_thousand_tickets():
    ground = make_ground()
    first = ground.rows["defect"][0]
    for n in range(1000):
        defect = ground.add("defect", **{**first, "id": f"d{n}", "number": 100 + n})
        ground.add("ticket", number=1000 + n, defect_ids=[defect["id"]], method="patch_one_coat", urgency=None, coats=None,
                   loss=None, margin_mm=None, note=None)  # fmt: skip
    words = text_of(printed(ground, "shopping"))
    assert all(f" {1000 + n}," in words for n in range(999))
    report = text_of(printed(ground, "report"))
    assert " 1099 " in report
    assert "Defects: 1003" in report
