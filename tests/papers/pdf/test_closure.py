"""The closure: steps in order with who made them, amounts beside the plan, the pair of photos."""

import pytest

from makegood.errors import NotFound
from tests.papers.site import close_first, make_ground, printed, tags_of, text_of


def test_closed_ticket_tells_its_story():
    ground = make_ground()
    pdf = printed(ground, "closure", close_first(ground)["id"])
    words = text_of(pdf)
    assert words.index("Taken Hal") < words.index("Done Hal") < words.index("Checked and sound Kit")
    assert "no hollow sound: right" in words
    assert "7.5 kg" in words
    assert "is not closed" not in words
    alts = [alt or "" for kind, alt in tags_of(pdf) if kind == "/Figure"]
    assert any("Ticket 11, after" in alt for alt in alts)


def test_open_ticket_says_it_is_not_closed_and_keeps_its_mark():
    ground = make_ground()
    words = text_of(printed(ground, "closure", ground.rows["ticket"][1]["id"]))
    assert "Ticket 12 is not closed" in words
    assert "Engineer first: do not touch" in words


def test_unknown_ticket_is_refused():
    with pytest.raises(NotFound):
        printed(make_ground(), "closure", None)
