"""What stands at the first paint says only sentences that are there by then; all else waits for the rest."""

import re
from functools import cache
from pathlib import Path

from tests.house.tree import ROOT, files, named

SRC = ROOT / "web" / "src"
# A plain import stands still; one of types alone leaves nothing behind.
_STILL = re.compile(r"^(?:import|export) (?!type\b)[^;]*?\"(\.[^\"]*)\";", re.MULTILINE)
_SENTENCE = re.compile(r"^  (\w+):", re.MULTILINE)
_FETCHED = re.compile(r"\bimport\(\"[^\"]+\"\)")
_WAITS = re.compile(r"withWords\(import\(\"|\blater\(\(\) => import\(\"")
# The table of screens names each place once and gives it to `later` in its routes.
_PLACE = re.compile(r"^const (\w+) = \(\) => import\(\"")


@cache
def first_modules() -> frozenset[Path]:
    """Return the modules of the app that its page loads before anything is gone to."""
    waiting, found = [SRC / "main.tsx"], set()
    while waiting:
        path = waiting.pop()
        if path in found:
            continue
        found.add(path)
        for name in _STILL.findall(path.read_text(encoding="utf-8")):
            base = (path.parent / name).resolve()
            tries = (
                base,
                base.with_name(base.name + ".ts"),
                base.with_name(base.name + ".tsx"),
                base / "index.ts",
            )
            waiting += [one for one in tries if one.is_file() and one.suffix in {".ts", ".tsx"}]
    return frozenset(found)


def speaking(paths: frozenset[Path]) -> list[Path]:
    """Return those that may say something; the books themselves are no speakers."""
    return sorted(
        path
        for path in paths
        if path.relative_to(SRC).parts[0] not in {"model", "store"} and path.parent.name not in {"en", "es"}
    )


@cache
def later_sentences() -> frozenset[str]:
    """Return the names of the sentences that come with the first screen gone to."""
    books = files(".ts", under="web/src/words/en/later")
    return frozenset(key for book in books for key in _SENTENCE.findall(book.read_text(encoding="utf-8")))


def said_too_early(text: str) -> set[str]:
    """Return the later sentences a module names, whole or by the beginning of a name that it puts together."""
    begun = tuple(f"{start}_" for start in re.findall(r"`(\w+)_\$\{", text))
    return {key for key in later_sentences() if f'"{key}"' in text or (begun and key.startswith(begun))}


def test_the_first_paint_says_nothing_that_comes_later():
    early = {
        named(path): said_too_early(path.read_text(encoding="utf-8")) for path in speaking(first_modules())
    }
    assert not {name: keys for name, keys in early.items() if keys}


def test_the_walk_over_imports_finds_the_walls_and_stops_where_something_is_fetched():
    names = {named(path) for path in first_modules()}
    assert {
        "web/src/views/walls/StructureCard.tsx",
        "web/src/parts/frame/Page.tsx",
        "web/src/store/open.ts",
    } <= names
    assert not {
        name for name in names if name.startswith(("web/src/views/tickets/", "web/src/words/en/later/"))
    }


def test_a_sentence_said_too_early_is_found():
    assert "storms_title" in said_too_early('t("storms_title")')
    assert "storms_scale_wmo" not in said_too_early('t("walls_title")')
    assert any(key.startswith("storms_scale_") for key in said_too_early("t(`storms_scale_${scale}`)"))


def test_whatever_is_fetched_waits_for_its_sentences():
    hasty = {}
    for path in [*files(".ts", ".tsx", under="web/src/views"), *files(".tsx", ".ts", under="web/src/parts")]:
        if ".test." in path.name:
            continue
        found = hasty_lines(path.read_text(encoding="utf-8"))
        hasty |= {named(path): found} if found else {}
    assert not hasty


def hasty_lines(text: str) -> list[str]:
    """Return the lines that fetch a module and do not wait; a named place may go nowhere but into `later`."""
    hasty = []
    for line in text.splitlines():
        place = _PLACE.match(line)
        used = re.findall(rf"(later\()?\b{place[1]}\b(?=[,)(])", text) if place else []
        waits = _WAITS.search(line) or (used and all(used))
        hasty += [line] if _FETCHED.search(line) and not waits else []
    return hasty


def test_a_hasty_import_is_found():
    assert hasty_lines('void import("../parts/hands").then(({ watch }) => watch());')
    assert hasty_lines('const hands = () => import("../parts/hands");\nvoid hands();')
    assert not hasty_lines('const marks = () => import("./marks");\nlater(marks, "MarkView")')
    assert not hasty_lines('void withWords(import("../parts/hands")).then(watch);')
