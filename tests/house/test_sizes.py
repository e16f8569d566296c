"""Ceilings on functions, files and folders. An exception needs a sentence in the table."""

import re
from collections import Counter

import pytest

from tests.house.tree import code_lines, files, functions, modules, named

FUNCTION_LINES, MODULE_LINES, VIEW_LINES, ARGUMENTS, FOLDER_FILES = 50, 400, 15, 7, 15
WEB_LINES, WEB_FUNCTION_LINES = 350, 60
EXCEPTIONS: dict[str, str] = {}
PYTHON = [path for path in files(".py") if "migrations" not in path.parts]
WEB = files(".ts", ".tsx", under="web")


@pytest.mark.parametrize("path", PYTHON, ids=named)
def test_python_stays_short(path):
    lines = len(path.read_text(encoding="utf-8").splitlines())
    assert lines <= MODULE_LINES or named(path) in EXCEPTIONS, f"{lines} lines"
    long = {f.name: code_lines(f) for f in functions(path) if code_lines(f) > FUNCTION_LINES}
    assert not long, long


@pytest.mark.parametrize("path", modules(), ids=named)
def test_functions_take_few_arguments(path):
    wide = {f.name: len(f.args.args) + len(f.args.kwonlyargs) for f in functions(path)}
    assert not {name: n for name, n in wide.items() if n > ARGUMENTS}


def test_api_views_are_fifteen_lines_or_fewer():
    long = {}
    for path in files(".py", under="server/makegood/api"):
        long |= {
            f"{named(path)}:{f.name}": code_lines(f)
            for f in functions(path)
            if f.decorator_list and code_lines(f) > VIEW_LINES
        }
    assert not long, long


@pytest.mark.parametrize("path", WEB, ids=named)
def test_web_stays_short(path):
    text = path.read_text(encoding="utf-8").splitlines()
    assert len(text) <= WEB_LINES or named(path) in EXCEPTIONS, f"{len(text)} lines"
    assert not dict(long_web_functions(text))


def long_web_functions(lines):
    """Yield (name, length) of top-level functions that run too long; the closing brace stands in the first column."""
    name, start = None, 0
    for number, line in enumerate(lines):
        opened = re.match(
            r"(?:export )?(?:default )?(?:async )?function (\w+)|(?:export )?const (\w+) = .*=> \{$", line
        )
        if opened:
            name, start = opened.group(1) or opened.group(2), number
        elif name and re.match(r"\};?$", line):
            if number - start + 1 > WEB_FUNCTION_LINES:
                yield name, number - start + 1
            name = None


def test_folders_stay_small():
    everything = files(".py", ".ts", ".tsx")
    counts = Counter(
        path.parent
        for path in everything
        if "migrations" not in path.parts and ".test." not in path.name and path.name != "__init__.py"
    )
    crowded = {
        named(folder): n
        for folder, n in counts.items()
        if n > FOLDER_FILES and named(folder) not in EXCEPTIONS
    }
    assert not crowded, crowded


def test_every_exception_says_why_and_is_needed():
    for name, reason in EXCEPTIONS.items():
        assert len(reason.split()) >= 5, f"{name}: say why"
