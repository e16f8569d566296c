"""Documentation under test: settings, commands, refusal codes and rings stand where a person looks for them."""

import ast
import re

import pytest

from tests.house.tree import PACKAGE, RINGS, ROOT, files, modules, named, parsed

DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
README = (ROOT / "README.md").read_text(encoding="utf-8")


def test_every_setting_is_documented():
    tree = parsed(PACKAGE / "settings.py")
    classes = [n for n in tree.body if isinstance(n, ast.ClassDef) and n.name == "Settings"]
    names = [
        n.target.id
        for c in classes
        for n in c.body
        if isinstance(n, ast.AnnAssign) and isinstance(n.target, ast.Name)
    ]
    assert names
    assert not [name for name in names if f"`{name}`" not in DEVELOPERS]


def ring_folder(path) -> str | None:
    """Return a module's folder below the package if it lies in a ring, say science/weather."""
    folder = path.relative_to(PACKAGE).parent
    return folder.as_posix() if folder.parts and folder.parts[0] in RINGS else None


def codes_of_server() -> set[str]:
    """Return each code that the rings a phone talks to can raise: the first argument of an error of our tree."""
    tree_names = {n.name for n in parsed(PACKAGE / "errors.py").body if isinstance(n, ast.ClassDef)}
    found = set()
    for path in modules():
        if path.parent.name not in {"domain", "store", "work", "api"}:
            continue
        for node in ast.walk(parsed(path)):
            if (
                isinstance(node, ast.Call)
                and isinstance(node.func, ast.Name)
                and node.func.id in tree_names
                and node.args
            ):
                first = node.args[0]
                if isinstance(first, ast.Constant) and isinstance(first.value, str):
                    found.add(first.value)
    return found


def codes_of_phone() -> set[str]:
    """Return each code that the phone itself refuses with."""
    text = "".join(
        p.read_text(encoding="utf-8") for p in files(".ts", under="web/src") if ".test." not in p.name
    )
    return set(re.findall(r"new (?:Refused|Refusal)\(\s*\"(\w+)\"", text))


@pytest.mark.parametrize("language", ["en", "es"])
def test_every_refusal_code_has_a_sentence_on_the_phone(language):
    book = (ROOT / "web" / "src" / "words" / language / "refusals.ts").read_text(encoding="utf-8")
    spoken = set(re.findall(r"refusal_(\w+):", book))
    assert len(codes_of_server()) > 20
    assert len(codes_of_phone()) > 10
    assert not (codes_of_server() | codes_of_phone()) - spoken


@pytest.mark.parametrize("ring", RINGS)
def test_every_ring_is_explained(ring):
    assert f"`{ring}/`" in DEVELOPERS or f"{ring}/" in DEVELOPERS


def test_every_command_is_in_the_readme():
    source = (PACKAGE / "__main__.py").read_text(encoding="utf-8")
    commands = re.findall(r"add_parser\(\s*\"(\w[\w-]*)\"", source)
    assert commands
    assert not [name for name in commands if f"makegood {name}" not in README]


@pytest.mark.parametrize(
    "path", [p for p in modules() if ring_folder(p) and p.name != "__init__.py"], ids=named
)
def test_every_module_has_its_test_file(path):
    mirrored = ROOT / "tests" / ring_folder(path)
    assert (mirrored / f"test_{path.stem}.py").is_file()
