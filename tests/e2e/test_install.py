"""What is installed is whole: the wheel's contents, the README's first command, the demo, a site of one's own, and an update."""

import hashlib
import importlib.metadata
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from playwright.sync_api import expect

import makegood
from tests.e2e import walk
from tests.e2e.conftest import Server
from tests.e2e.walk import Mark

pytestmark = pytest.mark.e2e

ROOT = Path(__file__).resolve().parents[2]
INSTALLED = Path(makegood.__file__).resolve().parent
QR_ROWS = 15
_ASK_FOR_UPDATE = """async () => {
  const found = await navigator.serviceWorker.getRegistration();
  await found.update().catch(() => undefined);
  const coming = found.installing;
  if (coming) await new Promise((done) => coming.addEventListener("statechange", done, {once: true}));
}"""


def test_the_wheel_holds_app_data_and_demo():
    assert ROOT not in INSTALLED.parents
    held = {str(file) for file in importlib.metadata.files("makegood") or []}
    wanted = ["_web/index.html", "_web/sw.js", "_web/manifest.webmanifest", "_shared/vocabulary.json", "_demo/site.json"]
    assert [name for name in wanted if f"makegood/{name}" not in held] == []
    for prefix in ("_web/assets/", "_demo/photos/"):
        assert any(name.startswith(f"makegood/{prefix}") for name in held), prefix


def test_the_readme_names_the_commands_that_are_installed():
    first = re.search(r"```\w*\n(.*?)```", (ROOT / "README.md").read_text(encoding="utf-8"), re.DOTALL)
    assert first
    assert re.fullmatch(r"python3 -m venv (\S+) && \1/bin/pip install \. && \1/bin/makegood demo\n", first.group(1))
    program = shutil.which("makegood", path=str(Path(sys.executable).parent))
    assert program
    said = subprocess.run([program, "--version"], capture_output=True, text=True, check=True).stdout
    assert said.strip() == f"makegood {importlib.metadata.version('makegood')}"


def test_the_demo_opens_and_leaves_nothing_behind(tmp_path, new_device):
    server = Server(["demo", "--no-browser"], tmp_path / "server.log")
    server.start()
    told = re.search(r"\(in (\S+), removed when you stop it", server.said())
    assert "Taking in photos" in server.said()
    assert told
    folder = Path(told.group(1))
    assert folder.is_dir()
    device = new_device()
    walk.enrol_in_demo(device, server)
    sides = device.page.get_by_role("link", name=re.compile(", faces "))
    expect(sides.first).to_be_visible()
    assert sides.count() >= 3
    walk.to_place(device.page, "Tickets")
    expect(device.page.get_by_role("link", name=re.compile(r"^Ticket \d+")).first).to_be_visible()
    server.stop()
    assert not folder.exists()


def test_serve_prints_a_link_and_its_code_once(own_server, new_device):
    assert len(re.findall(r"^.*[█▀▄]{4}.*$", own_server.said(), re.MULTILINE)) >= QR_ROWS
    walk.enrol(new_device(), own_server.first_link(), "Ada")
    own_server.stop()
    own_server.start()
    assert own_server.said().count("/join#") == 1


@pytest.fixture
def copied(tmp_path) -> Path:
    """A copy of the installed package, whose app may be exchanged."""
    package = tmp_path / "copy" / "makegood"
    shutil.copytree(INSTALLED, package, ignore=shutil.ignore_patterns("__pycache__", "_demo"))
    return package


@pytest.fixture
def server(copied, tmp_path):
    """A server that runs from the copy."""
    running = Server(["serve", "--data", str(tmp_path / "site")], tmp_path / "server.log", package_folder=copied.parent)
    running.start()
    yield running
    running.stop()


def _publish(package: Path, *, whole: bool) -> None:
    """Put another build in place of the first, with another first page; if not `whole`, one of its files is missing."""
    web = package / "_web"
    page, worker = web / "index.html", web / "sw.js"
    old = hashlib.sha256(page.read_bytes()).hexdigest()
    page.write_text(page.read_text(encoding="utf-8").replace("<body>", '<body data-build="second">'), encoding="utf-8")
    new = hashlib.sha256(page.read_bytes()).hexdigest()
    script = worker.read_text(encoding="utf-8")
    assert old in script
    script = script.replace(old, new).replace('{"name":"', '{"name":"second-')
    if not whole:
        script = script.replace('"files":[', '"files":[["/assets/gone.js","' + "0" * 64 + '"],')
    worker.write_text(script, encoding="utf-8")
    for packed in (*web.glob("index.html.gz"), *web.glob("sw.js.gz")):
        packed.unlink()


@pytest.fixture
def phone(server, new_device):
    """The keeper's phone on the first build, with a mark begun and not kept."""
    device = new_device()
    walk.enrol(device, server.first_link(), "Ada")
    walk.found_site(device, server, defects=0)
    walk.open_wall(device.page, "South")
    walk.begin_mark(device.page)
    walk.enter_mark(device.page, Mark("Spalling", [(0.4, 0.5)]))
    return device


def test_a_new_version_waits_for_the_person_and_keeps_the_draft(copied, server, phone):
    page = phone.page
    _publish(copied, whole=True)
    page.evaluate("document.dispatchEvent(new Event('visibilitychange', {bubbles: true}))")
    bar = page.get_by_role("status").filter(has_text="A new version is ready.")
    expect(bar).to_be_visible()
    assert page.evaluate("document.body.dataset.build") is None
    walk.choose_size(page, "a thumb")
    bar.get_by_role("button", name="Use it now").click()
    expect(page.locator("body")).to_have_attribute("data-build", "second")
    expect(page.get_by_role("radio", name=re.compile("^Spalling"))).to_be_checked()
    expect(page.get_by_role("button", name=re.compile("^a thumb"))).to_have_attribute("aria-pressed", "true")
    expect(bar).to_have_count(0)
    server.stop()
    walk.keep_mark(page)
    page = walk.cold_start(phone, server)
    assert page.evaluate("document.body.dataset.build") == "second"


def test_a_half_published_version_is_left_alone(copied, server, phone):
    _publish(copied, whole=False)
    page = phone.page
    page.evaluate(_ASK_FOR_UPDATE)
    expect(page.get_by_text("A new version is ready.")).to_have_count(0)
    server.stop()
    walk.keep_mark(page)
    page = walk.cold_start(phone, server)
    assert page.evaluate("document.body.dataset.build") is None
    walk.open_wall(page, "South")
    expect(walk.found_here(page, "Spalling")).to_be_visible()
