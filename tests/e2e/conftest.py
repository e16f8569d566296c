"""Real servers from the installed wheel, and a real browser; every journey has its own data folder and profile."""

import os
import re
import shutil
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Playwright, sync_playwright

PHONE = {"width": 390, "height": 844}
TABLET = {"width": 820, "height": 1180}
DESKTOP = {"width": 1280, "height": 800}
FLAGS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync", "--use-fake-device-for-media-stream", "--use-fake-ui-for-media-stream",
]
ARTEFACTS = Path(__file__).resolve().parents[2] / "artefacts"
UP_WITHIN_S = 60


def free_port() -> int:
    """Return a port nobody listens on."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


class Server:
    """`makegood serve` or `makegood demo` as a process of its own; stopping it is what makes a phone offline."""

    def __init__(self, command: list[str], log: Path, package_folder: Path | None = None) -> None:
        """`package_folder` holds a copy of the installed package to run instead of the installed one."""
        self.port = free_port()
        self.address = f"http://localhost:{self.port}"
        installed = shutil.which("makegood", path=str(Path(sys.executable).parent)) or "makegood"
        self._command = [*([sys.executable, "-m", "makegood"] if package_folder else [installed]), *command]
        # Many devices join from one address here; the limit on tries has its own test below tests/api.
        self._environment = {**os.environ, "MAKEGOOD_ENROLS_PER_MINUTE": "1000", "MAKEGOOD_SYNCS_PER_MINUTE": "100000"}
        if package_folder:
            self._environment["PYTHONPATH"] = str(package_folder)
        self._log = log
        self._process: subprocess.Popen[bytes] | None = None

    def start(self) -> None:
        """Start (again) on the same port and data, and wait until it answers."""
        with self._log.open("ab") as log:
            self._process = subprocess.Popen(
                [*self._command, "--port", str(self.port)], stdout=log, stderr=subprocess.STDOUT, cwd=self._log.parent,
                env=self._environment,
            )
        end = time.monotonic() + UP_WITHIN_S
        while time.monotonic() < end:
            try:
                with urllib.request.urlopen(f"{self.address}/healthz", timeout=2):
                    return
            except OSError:
                if self._process.poll() is not None:
                    break
                time.sleep(0.1)
        raise AssertionError(f"the server did not come up:\n{self.said()}")

    def stop(self) -> None:
        """Stop the process as Ctrl-C does: from here on nothing answers on its port."""
        if self._process is not None:
            self._process.send_signal(signal.SIGINT)
            self._process.wait(timeout=20)
            self._process = None

    def said(self) -> str:
        """Return everything the server printed so far."""
        return self._log.read_text(encoding="utf-8", errors="replace")

    def first_link(self) -> str:
        """Return the link by which the keeper's phone joins."""
        found = re.search(r"(http://\S+/join#\S+)", self.said())
        assert found, self.said()
        return re.sub(r"http://[^/]+", self.address, found.group(1))


@pytest.fixture
def own_server(tmp_path: Path) -> Iterator[Server]:
    """A new, empty site in its own folder."""
    server = Server(["serve", "--data", str(tmp_path / "site")], tmp_path / "server.log")
    server.start()
    yield server
    server.stop()


@pytest.fixture(scope="session")
def demo_server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """The demo site, shared by the tests that only look."""
    server = Server(["demo", "--no-browser"], tmp_path_factory.mktemp("demo") / "server.log")
    server.start()
    yield server
    server.stop()


@pytest.fixture(scope="session")
def driver() -> Iterator[Playwright]:
    """What drives browsers; a process can have but one."""
    with sync_playwright() as playwright:
        yield playwright


@pytest.fixture(scope="session")
def browser(driver: Playwright) -> Iterator[Browser]:
    """The machine's own Chromium."""
    path = next((found for name in ("chromium", "chromium-browser", "google-chrome") if (found := shutil.which(name))), None)
    assert path, "no Chromium on this machine; tests/everything.py installs one"
    chromium = driver.chromium.launch(executable_path=path, args=FLAGS)
    yield chromium
    chromium.close()


class Device:
    """One browser profile: its own storage, service worker and position, as a phone or a desk."""

    def __init__(self, context: BrowserContext) -> None:
        self.context = context
        self.page: Page = context.new_page()
        self.faults: list[str] = []
        self.page.on("pageerror", lambda error: self.faults.append(str(error)))

    def fresh_page(self) -> Page:
        """Kill the page without a goodbye and open another in the same profile."""
        self.page.close(run_before_unload=False)
        self.page = self.context.new_page()
        self.page.on("pageerror", lambda error: self.faults.append(str(error)))
        return self.page


@pytest.fixture
def new_device(browser: Browser) -> Iterator:
    """A maker of devices; each must end without an uncaught fault on its page."""
    made: list[Device] = []

    def make(viewport: dict[str, int] = PHONE, locale: str = "en-GB") -> Device:
        context = browser.new_context(
            viewport=viewport, locale=locale, has_touch=viewport is not DESKTOP, permissions=["geolocation"],
            geolocation={"latitude": 48.62, "longitude": -9.35, "accuracy": 7},
        )
        context.set_default_timeout(15_000)
        device = Device(context)
        made.append(device)
        return device

    yield make
    faults = [fault for device in made for fault in device.faults]
    for device in made:
        device.context.close()
    assert not faults
