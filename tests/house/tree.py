"""The project's files as the house tests walk them: every source file once, with its text."""

import ast
import subprocess
from collections.abc import Iterator
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "server" / "makegood"
RINGS = ("science", "domain", "store", "work", "api")


@cache
def project_files() -> tuple[Path, ...]:
    """Return every file git tracks or would track, so that builds and caches stay outside."""
    listed = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard", "-z"],
        cwd=ROOT,
        check=True,
        capture_output=True,
        text=True,
    )
    return tuple(ROOT / name for name in listed.stdout.split("\0") if name and (ROOT / name).is_file())


def files(*endings: str, under: str = "") -> list[Path]:
    """Return the project's files with one of these endings below a folder."""
    base = ROOT / under
    return [path for path in project_files() if path.suffix in endings and path.is_relative_to(base)]


def modules() -> list[Path]:
    """Return the Python modules of the package, migrations left out: they are made once and never edited."""
    return [path for path in files(".py", under="server/makegood") if "migrations" not in path.parts]


@cache
def parsed(path: Path) -> ast.Module:
    """Return the syntax tree of a Python file."""
    return ast.parse(path.read_text(encoding="utf-8"))


def functions(path: Path) -> Iterator[ast.FunctionDef | ast.AsyncFunctionDef]:
    """Yield every function and method of a Python file."""
    for node in ast.walk(parsed(path)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            yield node


def code_lines(node: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Count a function's lines without its docstring, decorators and signature comments."""
    end = node.end_lineno or node.lineno
    first = node.body[0]
    is_doc = (
        isinstance(first, ast.Expr)
        and isinstance(first.value, ast.Constant)
        and isinstance(first.value.value, str)
    )
    doc = (first.end_lineno or first.lineno) - first.lineno + 1 if is_doc else 0
    return end - node.lineno + 1 - doc


def named(path: Path) -> str:
    """Return a path as it stands in the project, for messages."""
    return path.relative_to(ROOT).as_posix()
