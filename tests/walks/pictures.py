"""Make the README's pictures anew from the demo: `python -m tests.walks.pictures`. Few colours, so that each stays small."""

import shutil
import tempfile
from io import BytesIO
from pathlib import Path

from PIL import Image
from playwright.sync_api import Browser, Page, expect, sync_playwright

from tests.e2e import stops
from tests.e2e.conftest import DESKTOP, FLAGS, PHONE, Server
from tests.house.tree import ROOT

FOLDER = ROOT / "demo_data" / "pictures"
LARGEST_KB = 120
COLOURS = 64
# The picture's name, the stop of the walk through every screen that it shows, and the size of the screen.
PICTURES = (
    ("walls", "walls", PHONE),
    ("look-first", "storm-first", PHONE),
    ("mark", "mark-named", PHONE),
    ("ticket", "ticket-open", PHONE),
    ("work-day", "workday-planned", DESKTOP),
)


def _small(shot: bytes) -> bytes:
    out = BytesIO()
    Image.open(BytesIO(shot)).convert("RGB").quantize(COLOURS, dither=Image.Dither.NONE).save(out, "PNG", optimize=True)
    return out.getvalue()


def _enter(browser: Browser, address: str) -> Page:
    page = browser.new_context(locale="en-GB", has_touch=True).new_page()
    page.goto(address)
    page.get_by_role("button", name="Look round the invented site").click()
    expect(page.get_by_role("navigation", name="Places")).to_be_visible()
    return page


def _shoot(page: Page, address: str) -> None:
    known = {one.name: one for one in stops.stops(stops.rows_here(page))}
    for name, stop, size in PICTURES:
        page.set_viewport_size(size)
        page.goto(address + known[stop].path)
        stops.settle(page)
        if first := known[stop].first:
            first(page)
        page.locator("main").evaluate("(main) => { main.scrollTop = 0; }")
        (FOLDER / f"{name}.png").write_bytes(_small(page.screenshot()))


def main() -> None:
    """Play the demo in and take each picture."""
    FOLDER.mkdir(exist_ok=True)
    chromium = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))))
    with tempfile.TemporaryDirectory() as place, sync_playwright() as playwright:
        server = Server(["demo", "--no-browser"], Path(place) / "server.log")
        server.start()
        browser = playwright.chromium.launch(executable_path=chromium, args=FLAGS)
        try:
            _shoot(_enter(browser, server.address), server.address)
        finally:
            browser.close()
            server.stop()


if __name__ == "__main__":
    main()
