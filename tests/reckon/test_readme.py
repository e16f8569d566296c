"""Every example of the README's section on sums, run as it is printed there."""

import json
import re
import shlex

import pytest

from makegood.reckon.commands import SUMS
from tests.house.tree import ROOT

SECTION = (ROOT / "README.md").read_text(encoding="utf-8").split("## The sums from the command line\n", 1)[1]
BLOCKS = re.findall(r"```console\n(.*?)```", SECTION.split("\n## ", 1)[0], re.DOTALL)
TYPED = re.compile(r"(?:echo '(?P<fed>[^']*)' \| )?makegood reckon (?P<arguments>.*)")


def examples() -> list[tuple[str, str]]:
    """Return each command typed, with what it prints; files shown by cat come first in their block."""
    found = []
    for block in BLOCKS:
        for part in block.split("$ ")[1:]:
            typed, _, printed = part.partition("\n")
            found.append((typed, printed))
    return found


EXAMPLES = [(typed, printed) for typed, printed in examples() if not typed.startswith("cat ")]
SHOWN_FILES = {typed.removeprefix("cat "): text for typed, text in examples() if typed.startswith("cat ")}


def alike(one: object, other: object) -> bool:
    """Whether two answers are the same but for the last digits of their numbers."""
    if isinstance(one, dict) and isinstance(other, dict):
        return list(one) == list(other) and all(alike(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(alike, one, other))
    if isinstance(one, int | float) and isinstance(other, int | float):
        return bool(one == pytest.approx(other, rel=1e-9, abs=1e-12))
    return one == other


def test_every_sum_has_an_example():
    named = " ".join(typed for typed, _ in EXAMPLES)
    assert not [name for name in [*SUMS, "driving-rain"] if f"makegood reckon {name}" not in named]


@pytest.mark.parametrize(("typed", "printed"), EXAMPLES, ids=[typed[-60:] for typed, _ in EXAMPLES])
def test_example_prints_what_the_readme_shows(reckon, tmp_path, monkeypatch, typed, printed):
    for name, text in SHOWN_FILES.items():
        (tmp_path / name).write_text(text)
    monkeypatch.chdir(tmp_path)
    command = TYPED.fullmatch(typed)
    assert command
    status, out, err = reckon.run(*shlex.split(command["arguments"]), text=command["fed"] or "")
    assert alike(json.loads(out or err), json.loads(printed))
    assert status == (2 if err else 0)
