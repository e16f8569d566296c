"""The five rings: each may import rings to its right, never one to its left (api -> work -> store -> domain -> science)."""

import ast
import sys

import pytest

from tests.house.tree import PACKAGE, RINGS, modules, named, parsed

OUTSIDE = {"errors", "paths"}
MAY_IMPORT = {
    "science": {"errors"},
    "domain": {"science", "errors", "paths"},
    "store": {"domain", "science", "errors", "paths"},
    "papers": {"domain", "science", "errors"},
    "work": {"papers", "store", "domain", "science", "errors", "paths"},
    "api": {"work", "papers", "store", "domain", "science", "errors", "paths", "settings", "__version__"},
}
LIBRARIES = {
    "science": set(),
    "domain": set(),
    "store": {"sqlalchemy", "flask_sqlalchemy", "boto3", "botocore"},
    "papers": {"fpdf", "segno", "icalendar", "PIL"},
    "work": {"PIL", "pillow_heif", "exifread", "segno"},
    "api": {"flask", "flask_smorest", "marshmallow", "werkzeug", "apispec"},
}
# Beside the store: drawn from plain rows, so it knows no database, and only who gathers rows uses it.
BESIDE = "papers"
SIBLINGS_APART = {"work", "api"}
SHARED_IN_API = {"schemas", "guard", "refusals", "headers"}
# What a photo file is, says and looks like small: deeds ask these, they ask no deed.
ASKED_IN_WORK = {"picture", "camera_file", "photo_copies"}


def imported(path) -> set[str]:
    """Return the dotted names a module imports."""
    names = set()
    for node in ast.walk(parsed(path)):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            names |= {f"{node.module}.{alias.name}" for alias in node.names}
    return names


def ring_of(path) -> str | None:
    """Return the ring a module lies in, or the part beside them; None for the modules outside the rings."""
    first = path.relative_to(PACKAGE).parts[0]
    return first if first in MAY_IMPORT else None


RINGED = [path for path in modules() if ring_of(path)]


def test_every_ring_has_modules():
    assert {ring_of(path) for path in RINGED} == {*RINGS, BESIDE}


@pytest.mark.parametrize("path", RINGED, ids=named)
def test_ring_imports_only_rings_to_its_right(path):
    ring = ring_of(path)
    own = {name.split(".")[1] for name in imported(path) if name.startswith("makegood.")}
    assert own <= MAY_IMPORT[ring] | {ring}, f"{named(path)} reaches {own - MAY_IMPORT[ring] - {ring}}"


@pytest.mark.parametrize("path", RINGED, ids=named)
def test_ring_uses_only_its_libraries(path):
    ring = ring_of(path)
    outside = {name.split(".")[0] for name in imported(path)} - set(sys.stdlib_module_names) - {"makegood"}
    assert outside <= LIBRARIES[ring], f"{named(path)} uses {outside - LIBRARIES[ring]}"


@pytest.mark.parametrize("path", [p for p in RINGED if ring_of(p) in SIBLINGS_APART], ids=named)
def test_siblings_in_work_and_api_stay_apart(path):
    ring = ring_of(path)
    if path.stem in SHARED_IN_API | {"__init__"}:
        pytest.skip("the shared door of its ring")
    siblings = {name.split(".")[2] for name in imported(path) if name.startswith(f"makegood.{ring}.")}
    doors = SHARED_IN_API | ASKED_IN_WORK
    assert siblings <= doors, f"{named(path)} leans on {siblings - doors}"


def test_science_has_no_clock_no_chance_no_files():
    forbidden = {"random", "time", "os", "pathlib", "io", "secrets", "uuid"}
    for path in (p for p in RINGED if ring_of(p) == "science"):
        names = {name.split(".")[0] for name in imported(path)}
        assert not names & forbidden, f"{named(path)} imports {names & forbidden}"
        calls = {
            node.func.id
            for node in ast.walk(parsed(path))
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
        }
        assert "open" not in calls, f"{named(path)} opens a file"


def test_only_vocabulary_reads_files_in_domain():
    for path in (p for p in RINGED if ring_of(p) == "domain" and p.stem != "vocabulary"):
        assert "makegood.paths" not in {name.rsplit(".", 1)[0] for name in imported(path)}, named(path)
