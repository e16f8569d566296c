"""Text for paper: nothing steers, nothing hides, nothing is lost without a sign."""

import unicodedata

from hypothesis import given
from hypothesis import strategies as st

from makegood.papers.page.plain_text import printable

LATIN = frozenset(range(32, 127)) | {0xE9, 0xF1}


def test_direction_marks_and_controls_vanish():
    assert printable("a\u202eb\u200fc\x00d\x1be") == "abcde"


def test_letters_without_a_shape_keep_their_base():
    assert printable("Łódź café ﬁ ñ", LATIN) == "?odz café fi ñ"
    assert printable("日本", LATIN) == "??"


@given(st.text())
def test_only_drawn_letters_and_line_breaks_come_out(text):
    out = printable(text, LATIN)
    assert set(map(ord, out)) <= LATIN | {10, 0xA0}
    assert not any(unicodedata.category(sign) in ("Cf", "Cs") for sign in out)
