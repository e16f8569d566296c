"""Every module says what it knows; every public function and class of the package says what it does."""

import ast

import pytest

from tests.house.tree import files, modules, named, parsed

SCIENCE = [path for path in modules() if "science" in path.parts and path.name != "__init__.py"]


@pytest.mark.parametrize(
    "path", [p for p in files(".py") if p.read_text().strip() and "migrations" not in p.parts], ids=named
)
def test_module_says_what_it_knows(path):
    assert ast.get_docstring(parsed(path))


@pytest.mark.parametrize("path", modules(), ids=named)
def test_public_names_are_described(path):
    bare = [
        node.name
        for node in parsed(path).body
        if isinstance(node, ast.FunctionDef | ast.ClassDef)
        and not node.name.startswith("_")
        and not ast.get_docstring(node)
    ]
    assert not bare


@pytest.mark.parametrize("path", SCIENCE, ids=named)
def test_science_names_its_sources(path):
    text = (ast.get_docstring(parsed(path)) or "") + "".join(
        ast.get_docstring(node) or ""
        for node in ast.walk(parsed(path))
        if isinstance(node, ast.FunctionDef | ast.ClassDef)
    )
    assert any(word in text.lower() for word in ("source", "own derivation", "closed form", "definition")), (
        "no source named"
    )
