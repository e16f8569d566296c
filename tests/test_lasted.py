"""`makegood lasted`: tables of several sites in one comparison."""

import pytest

from makegood.__main__ import main
from tests.domain.ledger.test_exported import table


def run(capsys, *words):
    status = main(["lasted", *map(str, words)])
    said = capsys.readouterr()
    return status, said.out + said.err


@pytest.fixture
def two(tmp_path):
    gone = {"verdict": "let_go", "days_sound": "41", "days_let_go_by": "127", "l_m2_sound": "12", "l_m2_let_go_by": "31"}
    here, there = tmp_path / "here.csv", tmp_path / "there.csv"
    here.write_text("\ufeff" + "\r\n".join(table({}, {"finish": "B", "l_m2_sound": "152"})), encoding="utf-8")
    ness = {"site": "Reed Ness"}
    other = table({**ness, **gone}, {**ness, "sample_panel": "no", "outer_mix": "limewash"})
    there.write_text("\n".join(other), encoding="utf-8")
    return here, there


def test_two_sites_side_by_side(capsys, two):
    status, said = run(capsys, *two)
    assert status == 0
    assert "4 finishes of 2 sites: Hollow Farm, Reed Ness" in said
    assert "together: 3 of 4 held; each through 140.5 L/m2 or more; one let go between 12 and 31 L/m2" in said
    assert "  Hollow Farm: 2 of 2 held; each through 140.5 L/m2 or more" in said
    assert "  Reed Ness: 1 of 2 held" in said


def test_by_mix_in_days_and_panels_only(capsys, two):
    status, said = run(capsys, *two, "--by", "mix", "--measure", "days", "--panels")
    assert status == 0
    assert "3 finishes" in said
    assert "limewash" not in said
    assert "one let go between 41 and 127 days" in said


def test_a_curve_from_ten_followed_and_five_let_go_on(capsys, tmp_path):
    gone = {"verdict": "let_go", "l_m2_sound": "10", "l_m2_let_go_by": "20", "days_let_go_by": "300"}
    many = tmp_path / "many.csv"
    many.write_text("\n".join(table(*[gone] * 5, *[{}] * 5)), encoding="utf-8")
    assert "50 % sound after 10 to 20 L/m2" in run(capsys, many)[1]


def test_refusals_are_sentences(capsys, tmp_path, two):
    wrong = tmp_path / "wrong.csv"
    wrong.write_text("a,b\n1,2\n", encoding="utf-8")
    status, said = run(capsys, two[0], wrong)
    assert status == 2
    assert "wrong.csv is no table of what lasted" in said
    assert run(capsys, tmp_path / "none.csv")[0] == 2


def test_names_of_other_people_cannot_drive_the_terminal(capsys, tmp_path):
    file = tmp_path / "a.csv"
    file.write_text("\n".join(table({"site": "A\x1b[2J"})), encoding="utf-8")
    assert "\x1b" not in run(capsys, file)[1]
