"""What is told of a table: codes with sentences, the lines in order, and what was left out apart from what is only told."""

from makegood.science.weather.notices import LINES_NAMED, ONLY_TOLD, Noted


def test_lines_are_sorted_and_only_the_first_are_named():
    noted = Noted()
    for line in range(100, 0, -1):
        noted.note("hour_twice", line)
    [notice] = noted.notices()
    assert (notice.count, notice.lines, notice.left_out) == (100, tuple(range(1, LINES_NAMED + 1)), True)


def test_every_code_that_is_only_told_has_a_sentence():
    noted = Noted()
    for code in ONLY_TOLD:
        noted.note(code, 2)
    assert {one.code for one in noted.notices()} == ONLY_TOLD
    assert not any(one.left_out for one in noted.notices())
