"""Tables of what lasted, read back, and what is wrong with them told by line."""

import pytest

from makegood.domain.ledger.exported import COLUMNS, read_lasted, sort_key
from makegood.errors import BadInput

GOOD = {
    "site": "Hollow Farm", "building": "Barn", "side": "South", "faces_deg": "190", "wall_material": "cob", "finish": "A",
    "coats": "lime_base_coat 10 mm; lime_coat 6 mm", "outer_mix": "lime_coat", "cover_mm": "16", "sample_panel": "yes",
    "laid_on": "2025-09-06", "came_off_on": "", "verdict": "held", "looks": "3", "days_sound": "260", "days_let_go_by": "",
    "l_m2_sound": "140.5", "l_m2_let_go_by": "",
}  # fmt: skip


def _joined(row):
    return ",".join(f'"{row[column]}"' for column in COLUMNS)


def table(*rows):
    return [",".join(COLUMNS), *(_joined({**GOOD, **row}) for row in rows)]


def test_a_line_comes_back():
    (line,) = read_lasted(table({}), "a.csv")
    assert (line.site, line.finish, line.sample_panel, line.faces_deg) == ("Hollow Farm", "A", True, 190.0)
    assert line.followed.l_m2 == (140.5, None)
    assert line.followed.looks == 3


def test_let_go_has_both_ends():
    row = {"verdict": "let_go", "days_sound": "41", "days_let_go_by": "127", "l_m2_sound": "12", "l_m2_let_go_by": "31"}
    (line,) = read_lasted(table(row), "a.csv")
    assert line.followed.l_m2 == (12, 31)


@pytest.mark.parametrize(
    ("row", "says"),
    [
        ({"verdict": "fine"}, "line 3: verdict"),
        ({"looks": "many"}, "line 3: looks"),
        ({"l_m2_sound": "-4"}, "line 3: l_m2_sound"),
        ({"l_m2_sound": "nan"}, "line 3: l_m2_sound"),
        ({"l_m2_let_go_by": "200"}, "line 3: l_m2_let_go_by"),
        ({"verdict": "let_go", "days_let_go_by": "4"}, "line 3: days_let_go_by"),
    ],
)
def test_what_is_wrong_is_told_with_its_line(row, says):
    with pytest.raises(BadInput) as refused:
        read_lasted(table({}, row), "a.csv")
    assert refused.value.code == "bad_value"
    assert says in refused.value.message


def test_another_table_is_refused():
    with pytest.raises(BadInput) as refused:
        read_lasted(["a,b", "1,2"], "a.csv")
    assert refused.value.code == "column_missing"
    with pytest.raises(BadInput) as refused:
        read_lasted([",".join(COLUMNS)], "a.csv")
    assert refused.value.code == "table_empty"


def test_the_mark_against_formulas_is_taken_off_again():
    (line,) = read_lasted(table({"site": "'=1+1", "finish": "'quoted'"}), "a.csv")
    assert (line.site, line.finish) == ("=1+1", "'quoted'")


@pytest.mark.parametrize(
    ("by", "row", "key"),
    [
        ("coats", {}, "lime_base_coat + lime_coat"),
        ("coats", {"coats": ""}, "no coats"),
        ("mix", {}, "lime_coat"),
        ("wall", {}, "cob"),
        ("face", {}, "S"),
        ("face", {"faces_deg": "350"}, "N"),
        ("face", {"faces_deg": ""}, "not recorded"),
        ("thickness", {}, "10 to 20 mm"),
        ("thickness", {"cover_mm": "9.9"}, "under 10 mm"),
        ("thickness", {"cover_mm": "30"}, "30 mm and more"),
    ],
)
def test_sorts(by, row, key):
    assert sort_key(read_lasted(table(row), "a.csv")[0], by) == key
