"""What lasted, on paper."""

from tests.papers.ledger.test_entries import followed_site
from tests.papers.site import printed, tags_of, text_of


def test_paper_says_how_many_held_and_draws_a_bar_with_words():
    pdf = printed(followed_site(), "lasted")
    words = text_of(pdf)
    assert "1 of 1 held; each through" in words
    assert "held through 63 days so far" in words
    figures = [alt for kind, alt in tags_of(pdf) if kind == "/Figure"]
    assert any("=Panel, Wader barn, South: held through" in alt for alt in figures)


def test_what_let_go_is_told_between_two_looks():
    words = text_of(printed(followed_site("let_go"), "lasted"))
    assert "0 of 1 held; one had let go by" in words
    assert "let go between 0 days and 61 days" in words


def test_too_few_draw_no_curve_and_enough_do():
    ground = followed_site("let_go")
    assert "still sound past" not in text_of(printed(ground, "lasted"))
    first = ground.rows["finish"][-1]
    for n in range(9):
        twin = ground.add("finish", **{**first, "id": f"twin{n}", "name": f"Twin {n}"})
        ground.add("score", finish_id=twin["id"], at="2026-06-01T10:00:00.000Z", verdict="let_go" if n < 4 else "held")
    words = text_of(printed(ground, "lasted"))
    assert "5 of 10 held" in words
    assert "last seen sound at" in words
    assert "still sound past a fall somewhere between" in words


def test_spanish():
    assert "aguantó 1 de 1" in text_of(printed(followed_site(), "lasted", None, "es"))
