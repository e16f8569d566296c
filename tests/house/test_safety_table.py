"""The table of safety in DEVELOPERS.md: every test it names exists."""

import re

from tests.house.tree import ROOT, functions

SECTION = (
    (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").partition("## 12. Safety")[2].partition("\n## ")[0]
)
LINES = [line for line in SECTION.splitlines() if line.startswith("| V")]


def named_tests(line: str) -> list[tuple[str, str]]:
    """Return the (file, test) pairs of the last column."""
    return re.findall(r"`([\w/]+\.py)::(\w+)`", line.split("|")[-2])


def test_every_line_names_a_test():
    assert len(LINES) >= 20
    assert not [line for line in LINES if not named_tests(line)]


def test_every_named_test_exists():
    missing = []
    for file, test in {pair for line in LINES for pair in named_tests(line)}:
        path = ROOT / "tests" / file
        if not path.is_file() or test not in {f.name for f in functions(path)}:
            missing.append(f"{file}::{test}")
    assert not missing


def test_the_chapters_that_do_not_apply_are_named():
    told = {int(number) for number in re.findall(r"\bV(\d+)\b", SECTION)}
    assert told == set(range(1, 18))
