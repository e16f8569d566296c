"""Names: the trade's words, none of the empty ones; nothing that belongs to a machine or a registry."""

import ast
import re

import pytest

from tests.house.tree import ROOT, files, modules, named, parsed, project_files

EMPTY = {
    "item",
    "record",
    "entity",
    "object",
    "data",
    "info",
    "manager",
    "helper",
    "util",
    "utils",
    "misc",
    "common",
}
# "records.json" is the contract's own name; "demo_data" is the fixed name of a folder; a "helper" is one of the four people.
ALLOWED = {"shared/records.json", "web/src/words/en/common.ts", "web/src/words/es/common.ts"}
TEXT = [
    p
    for p in project_files()
    if p.suffix in {".py", ".ts", ".tsx", ".md", ".json", ".toml", ".css", ".html", ".yml", ".sh", ""}
]
MACHINE = re.compile(
    r"(?<![\w.])/(?:wor[k]|far[m]|roo[t])/|\"resolved\": \"http|index-ur[l]|registry\.npmj[s]|files\.pythonhoste[d]"
)


def pieces(name: str) -> set[str]:
    """Split a name at its humps and underscores."""
    return {word.lower() for word in re.findall(r"[A-Z]?[a-z]+|[A-Z]+(?![a-z])", name)}


@pytest.mark.parametrize(
    "path", [p for p in files(".py", ".ts", ".tsx", ".json") if named(p) not in ALLOWED], ids=named
)
def test_file_names_say_what_is_inside(path):
    assert not pieces(path.stem) & EMPTY


@pytest.mark.parametrize("path", modules(), ids=named)
def test_class_names_say_what_they_are(path):
    bad = [n.name for n in ast.walk(parsed(path)) if isinstance(n, ast.ClassDef) and pieces(n.name) & EMPTY]
    assert not bad


@pytest.mark.parametrize("path", TEXT, ids=named)
def test_no_machine_path_and_no_registry_host(path):
    found = MACHINE.search(path.read_text(encoding="utf-8"))
    assert not found, found


def test_top_level_holds_only_what_was_agreed():
    top = {p.relative_to(ROOT).parts[0] for p in project_files()}
    plain = {name for name in top if not name.startswith(".")}
    assert plain <= {
        "README.md",
        "DEVELOPERS.md",
        "pyproject.toml",
        "server",
        "web",
        "tests",
        "demo_data",
        "shared",
    }
