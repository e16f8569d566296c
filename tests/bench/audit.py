"""What an outside judge of web pages says of screens with the demo on them: Lighthouse 12.2.3, fetched by npm for the run.

Its score of accessibility is to be 100, of best practices 95 or more, each shown as the points missing.
"""

import json
import subprocess
import tempfile
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from tests.bench import Line
from tests.bench._serving import fetched

VERSION = "12.2.3"
# The most points that may be missing; it counts whole points, so that half a one is none.
ALLOWED = {"accessibility": 0.5, "best-practices": 5.0}
SCREENS = ("board", "walls", "wall with marks", "mark a defect", "tickets", "ticket", "storms", "this device")
NOTE = "LEFT OUT: needs npm, pip install '.[test]' and a Chromium browser"


def cases() -> Iterable[Line]:
    """Return the points missing of each category, the worst screen of all."""
    with tempfile.TemporaryDirectory() as folder:
        scores = _scores(Path(folder))
    for category, allowed in ALLOWED.items():
        name = f"{category.replace('-', ' ')}, points missing of 100 on the worst of {len(SCREENS)} screens"
        if not scores:
            yield Line(name, None, allowed, "points", note=NOTE)
            continue
        worst = min(scores, key=lambda screen: scores[screen][category])
        missing = 100 - scores[worst][category]
        yield Line(f"{name}: {worst}", missing, allowed, "points")


def _scores(folder: Path) -> dict[str, dict[str, float]]:
    """Return the scores [0 to 100] by screen and category; none where something is missing."""
    from tests.bench.browser import chromium

    if not chromium() or not fetched(folder, {"lighthouse": VERSION}):
        return {}
    with _demo(folder) as (addresses, port):
        return {screen: _judge(folder, address, port) for screen, address in addresses.items()}


@contextmanager
def _demo(folder: Path) -> Iterator[tuple[dict[str, str], int]]:
    """Open a browser with the demo on it; yield the screens' addresses and the port the browser is steered by."""
    from playwright.sync_api import sync_playwright

    from tests.bench.browser import chromium
    from tests.e2e import stops
    from tests.e2e.conftest import FLAGS, PHONE, Server, free_port

    server, port = Server(["demo", "--no-browser"], folder / "server.log"), free_port()
    server.start()
    try:
        with sync_playwright() as playwright:
            context = playwright.chromium.launch_persistent_context(
                folder / "profile", executable_path=chromium(), args=[*FLAGS, f"--remote-debugging-port={port}"],
                viewport=PHONE, locale="en-GB",
            )
            page = context.new_page()
            page.goto(server.address)
            page.locator(".demo-door button").click()
            page.locator(".structures .card").first.wait_for()
            known = stops.Rows(stops.rows_here(page))
            side = known.side("flat")
            paths = (
                "/board", "/walls", f"/elevation/{side}", f"/mark/new?elevation={side}&points=1,1", "/tickets",
                f"/ticket/{known.tickets_by_last_step()['open']}", "/storms", "/phone",
            )
            page.close()
            yield {screen: server.address + path for screen, path in zip(SCREENS, paths, strict=True)}, port
            context.close()
    finally:
        server.stop()


def _judge(folder: Path, address: str, port: int) -> dict[str, float]:
    """Return the scores of one screen, in the open browser and with what lies in its storage."""
    judge = folder / "node_modules" / "lighthouse" / "cli" / "index.js"
    # The app always asks the server for news: without a limit the judge would wait for silence on the line.
    words = ["--quiet", "--output=json", f"--port={port}", "--disable-storage-reset", "--max-wait-for-load=8000"]
    words += ["--throttling-method=provided", f"--only-categories={','.join(ALLOWED)}"]
    done = subprocess.run(["node", str(judge), address, *words], check=True, capture_output=True, text=True)
    found: dict[str, Any] = json.loads(done.stdout)["categories"]
    return {category: 100 * found[category]["score"] for category in ALLOWED}
