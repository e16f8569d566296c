"""The table of formulas: each row names a module that is there, a known basis, and tests that are there."""

import re

import pytest

from tests.house.tree import PACKAGE, ROOT

SECTION = (
    (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").split(". Formulas\n", 1)[1].split("\n## ", 1)[0]
)
ROWS = [line.strip("| ").split(" | ") for line in SECTION.splitlines() if line.startswith("| ")][1:]
BASES = {"read", "from memory", "own derivation", "common practice", "assumed"}
WITHOUT_FORMULA = {"range", "surface", "materials/shapes", "materials/solids", "planning/shapes", "weather/notices"}


def module_of(where: str) -> str:
    """Return the path below the package that a row's second cell stands for."""
    name = where.strip("`")
    return name if name.split("/")[0] in {"domain", "reckon"} else f"science/{name}"


def test_table_is_there():
    assert len(ROWS) > 30
    assert all(len(row) == 6 for row in ROWS), [row for row in ROWS if len(row) != 6]


@pytest.mark.parametrize("row", ROWS, ids=[row[0][:50] for row in ROWS])
def test_row_names_what_exists(row):
    _, where, source, basis, validity, held_by = row
    assert (PACKAGE / f"{module_of(where)}.py").is_file()
    assert set(basis.split(", ")) <= BASES
    assert source
    assert validity
    tests = re.findall(r"`([\w/]+\.py)`", held_by)
    assert tests
    assert not [name for name in tests if not (ROOT / "tests" / name).is_file()]


def test_every_module_of_sums_has_a_row():
    science = PACKAGE / "science"
    modules = {
        p.relative_to(science).with_suffix("").as_posix()
        for p in science.rglob("*.py")
        if p.stem != "__init__"
    }
    assert not modules - {row[1].strip("`") for row in ROWS} - WITHOUT_FORMULA
