"""What a phone loads, gzipped: what stands before the walls show, and all that it keeps for later."""

import gzip
import re
from collections.abc import Iterable
from pathlib import Path

from makegood.paths import web_dir
from tests.bench import Line

SCRIPTS_KB, SHELL_KB = 90.0, 170.0
NOT_BUILT = "the web app is not built: cd web && npm ci && npm run build"
# Imports that stand still; `import("...")` waits until it is asked for.
_STILL = re.compile(r'(?:\bfrom|\bimport)\s*"\./([\w.-]+\.js)"')
_NAMED = re.compile(r'(?:src|href)="/([^"]+)"')
# Shown only where the app is installed, never on the way to the first screen.
_LATER = re.compile(r"\.(png|webmanifest)$")


def cases() -> Iterable[Line]:
    """Return the sizes of the built web app in kB (1,000 bytes)."""
    web = web_dir()
    built = (web / "index.html").is_file()
    shell = first_files(web) if built else set()
    files = {path for path in web.rglob("*") if path.is_file() and path.suffix not in (".map", ".gz")}
    for name, paths, limit_kb, upto in (
        ("scripts before the walls show", _scripts(shell), SCRIPTS_KB, 1.0),
        ("all before the walls show", shell, SHELL_KB, 1.0),
        ("all scripts, kept on the phone", _scripts(files), SCRIPTS_KB, None),
        ("everything, kept on the phone", files, SHELL_KB, None),
    ):
        note = "" if built else NOT_BUILT
        yield Line(f"web app, {name}, gzipped", _gzip_kb(paths) if built else None, limit_kb, "kB", upto=upto, note=note)


def first_files(web: Path) -> set[Path]:
    """Return the page, what it names, what its scripts import at once, the larger book of words, and the worker."""
    page = (web / "index.html").read_text(encoding="utf-8")
    found = {web / "index.html", web / "sw.js"}
    found |= {web / name for name in _NAMED.findall(page) if not _LATER.search(name)}
    books = [*web.glob("assets/en-*.js"), *web.glob("assets/es-*.js")]
    if not books:
        raise AssertionError("no book of words found; the size without it would be a lie")
    waiting = [*_scripts(found), max(books, key=lambda book: book.stat().st_size)]
    while waiting:
        script = waiting.pop()
        found.add(script)
        named = {script.parent / name for name in _STILL.findall(script.read_text(encoding="utf-8"))}
        waiting += [path for path in named if path not in found]
    return found


def _scripts(paths: Iterable[Path]) -> set[Path]:
    return {path for path in paths if path.suffix == ".js" and path.name != "sw.js"}


def _gzip_kb(paths: Iterable[Path]) -> float:
    return sum(len(gzip.compress(path.read_bytes(), 9)) for path in paths) / 1000
