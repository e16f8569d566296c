"""In a real browser: the first pull of 5,000 rows, cold starts without a server, a tap on Keep, one mark of 2,000."""

import importlib.util
import shutil
import statistics
import tempfile
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

from tests.bench import Line

if TYPE_CHECKING:
    from playwright.sync_api import BrowserContext, Page, Playwright

    from tests.e2e.conftest import Server

MARKS, READINGS, TICKETS, RUNS, SLOW = 2000, 2730, 5000, 5, 4
CROWDED, USUAL = "West front", "South front"
NOTE = "needs pip install '.[test]' and a Chromium browser"
PAINTED_S, USABLE_S, KEPT_S, CHOSEN_S, PULLED_S, LASTED_S, BOARD_S, TASK_S = 1.0, 2.0, 0.1, 0.2, 6.0, 1.0, 2.0, 0.2
# What the app does once the screen stands is watched for long tasks too.
AFTERWARDS_MS = 1500
# The line of a phone in a village: 9 Mbit/s down, 3 up, 100 ms there and back.
LINE = {"offline": False, "latency": 100, "downloadThroughput": 9e6 / 8, "uploadThroughput": 3e6 / 8}

# When a selector is first met and what it met was painted: the frame after the one in which it appeared [ms since start].
_STAMPS = """(() => {
  const wanted = {heading: ".page h1", list: '.structures[aria-busy="false"] .card'};
  const met = window.stamps = {};
  const look = () => {
    for (const [name, selector] of Object.entries(wanted)) {
      if (name in met || !document.querySelector(selector)) continue;
      met[name] = null;
      requestAnimationFrame(() => setTimeout(() => { met[name] = performance.now(); }));
    }
  };
  new MutationObserver(look).observe(document, {subtree: true, childList: true, attributes: true});
  window.tasks = [];
  window.taskWatch = new PerformanceObserver((list) => window.tasks.push(...list.getEntries()));
  window.taskWatch.observe({type: "longtask", buffered: true});
})()"""
# The longest task since the page was opened, of those over 50 ms [ms].
_LONGEST_TASK = "() => Math.max(0, ...window.tasks.concat(window.taskWatch.takeRecords()).map((one) => one.duration))"
_STAMPED = "() => window.stamps.heading > 0 && window.stamps.list > 0"
# When the board counts all tickets that are not checked: the demo's own few, and three quarters of 5,000 [ms since start].
_BOARD_WHOLE = """() => document.querySelector(".board-grid")
  && /3,?7[5-9]\\d not finished/.test(document.querySelector(".page-head .sub").textContent) && performance.now()"""
# From the press of a button to the frame in which `selector` stands [ms].
_AFTER = """([button, selector]) => new Promise((done) => {
  const from = performance.now();
  const watch = new MutationObserver(() => {
    if (!document.querySelector(selector)) return;
    watch.disconnect();
    requestAnimationFrame(() => setTimeout(() => done(performance.now() - from)));
  });
  watch.observe(document, {subtree: true, childList: true, attributes: true});
  document.querySelector(button).click();
})"""
# The longest event since the last call, from the finger to the next paint, as the browser itself counts it [ms].
_LONGEST = """() => new Promise((done) => requestAnimationFrame(() => setTimeout(() => {
  const all = window.watched.takeRecords().concat(window.events);
  window.events = [];
  done(Math.max(0, ...all.map((one) => one.duration)));
}, 200)))"""
_WATCH = """() => {
  window.events = [];
  window.watched = new PerformanceObserver((list) => window.events.push(...list.getEntries()));
  window.watched.observe({type: "event", durationThreshold: 16});
}"""


def cases() -> Iterable[Line]:
    """Return the lines of the browser; where there is none, lines that say what is missing."""
    if not importlib.util.find_spec("playwright") or not chromium():
        yield from (Line(name, None, limit, "s", note=NOTE) for name, limit in LIMITS.items())
        return
    with tempfile.TemporaryDirectory() as folder:
        found = measured(Path(folder))
    for name, limit in LIMITS.items():
        yield Line(name, found[name], limit, "s", upto=None if name in ONLY_SHOWN else 1.0)


LIMITS = {
    "first pull of 5,000 rows, 4x slower, 9 Mbit/s": PULLED_S,
    "longest task of that pull, 4x slower": TASK_S,
    "tap on Keep to kept, 5,000 rows": KEPT_S,
    "tap on Keep to kept, 5,000 rows, 4x slower": KEPT_S,
    "tap on Keep to kept, 2,000 marks on that wall": KEPT_S,
    "choosing one of 2,000 marks, 4x slower": CHOSEN_S,
    "longest task as that wall opens, 4x slower": TASK_S,
    "tap on What lasted to its bars, 5,000 rows, 4x slower": LASTED_S,
    "cold start without server, 5,000 rows, 4x slower: heading painted": PAINTED_S,
    "cold start without server, 5,000 rows, 4x slower: list usable": USABLE_S,
    "longest task of that start, 4x slower": TASK_S,
    "tap on The board to all of it, 5,000 tickets, 4x slower": BOARD_S,
    "tap on Tickets to their list, 5,000 tickets, 4x slower": BOARD_S,
    "cold start at the board without server, 5,000 tickets, 4x slower": BOARD_S,
}
# The aim is for a phone as it is, and for a wall as one is.
ONLY_SHOWN = {name for name in LIMITS if "Keep" in name and (", 4x" in name or "2,000" in name)}


def chromium() -> str | None:
    """Return the machine's own browser."""
    names = ("chromium", "chromium-browser", "google-chrome")
    return next((found for name in names if (found := shutil.which(name))), None)


def measured(folder: Path) -> dict[str, float]:
    """Return all figures [s], by the names of `LIMITS`."""
    from playwright.sync_api import sync_playwright

    from tests.e2e.conftest import Server
    from tests.e2e.crowd import Visitor

    server = Server(["demo", "--no-browser"], folder / "server.log")
    server.start()
    try:
        visitor = Visitor(server.address)
        walls = {one["name"]: one for one in visitor.rows() if one["type"] == "elevation"}
        crowded, usual = walls[CROWDED], walls[USUAL]["id"]
        visitor.crowd(crowded, MARKS, READINGS)
        with sync_playwright() as playwright:
            device = BenchDevice(playwright, folder / "profile", server)
            figures = [*device.first_pull(), device.keep(usual, 1), device.keep(usual, SLOW), device.keep(crowded["id"], 1)]
            figures += [device.choose(crowded["id"]), device.crowded(crowded["id"]), device.lasted()]
            # Last: the demo forgets everything when it stops.
            server.stop()
            figures += device.cold_starts()
    finally:
        server.stop()
    figures += with_tickets(folder)
    return dict(zip(LIMITS, figures, strict=True))


def with_tickets(folder: Path) -> list[float]:
    """Return the figures [s] of a site with thousands of tickets, on a server and a profile of their own."""
    from playwright.sync_api import sync_playwright

    from tests.e2e.conftest import Server
    from tests.e2e.crowd import Visitor

    server = Server(["demo", "--no-browser"], folder / "tickets.log")
    server.start()
    try:
        visitor = Visitor(server.address)
        visitor.crowd(next(one for one in visitor.rows() if one.get("name") == CROWDED), MARKS, READINGS)
        visitor.crowd_tickets(TICKETS)
        with sync_playwright() as playwright:
            device = BenchDevice(playwright, folder / "tickets", server)
            device.take_in_tickets()
            server.stop()
            return [device.board(), device.tickets(), device.cold_board()]
    finally:
        server.stop()


class BenchDevice:
    """One profile on disk, opened afresh for each measurement, so that no warm process helps."""

    def __init__(self, playwright: "Playwright", profile: Path, server: "Server") -> None:
        self._playwright, self._profile, self._server = playwright, profile, server

    @contextmanager
    def _open(self, slower: int) -> Iterator["Page"]:
        from tests.e2e.conftest import FLAGS, PHONE

        context: BrowserContext = self._playwright.chromium.launch_persistent_context(
            self._profile, executable_path=chromium(), args=FLAGS, viewport=PHONE, has_touch=True, locale="en-GB"
        )
        context.add_init_script(_STAMPS)
        page = context.new_page()
        _throttle(page, "Emulation.setCPUThrottlingRate", {"rate": slower})
        yield page
        context.close()

    def first_pull(self) -> list[float]:
        """Return how long after the first tap 5,000 rows stand on the screen, and the longest task on the way."""
        with self._open(1) as page:
            page.goto(self._server.address)
            page.locator(".demo-door button").wait_for()
            page.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
            _throttle(page, "Network.enable", {})
            _throttle(page, "Network.emulateNetworkConditions", LINE)
            _throttle(page, "Emulation.setCPUThrottlingRate", {"rate": SLOW})
            before = float(page.evaluate("() => performance.now()"))
            page.locator(".demo-door button").click()
            page.locator(".worst", has_text=str(MARKS)[0] + "00").wait_for(timeout=60_000)
            pulled = float(page.evaluate("() => performance.now()")) - before
            return [pulled / 1000, float(page.evaluate(_LONGEST_TASK)) / 1000]

    def cold_starts(self) -> list[float]:
        """Return when the heading is painted, when the list is usable, and the longest task; medians over fresh browsers."""
        runs = []
        for _ in range(RUNS):
            with self._open(SLOW) as page:
                page.goto(self._server.address + "/walls", wait_until="commit")
                page.wait_for_function(_STAMPED, timeout=60_000)
                page.wait_for_timeout(AFTERWARDS_MS)
                runs.append([*page.evaluate("() => [window.stamps.heading, window.stamps.list]"), page.evaluate(_LONGEST_TASK)])
        return [statistics.median(column) / 1000 for column in zip(*runs, strict=True)]

    def keep(self, wall: str, slower: int) -> float:
        """Return how long after the tap on Keep the screen says that a new mark is kept."""

        def once(page: "Page") -> float:
            page.goto(f"{self._server.address}/mark/new?elevation={wall}&points=1,1")
            page.locator(".mark-kinds").wait_for()
            return float(page.evaluate(_AFTER, [".mark-deed .btn-primary", ".kept-status"]))

        return self._median(once, slower)

    def choose(self, wall: str) -> float:
        """Return how long after the finger the browser paints when one mark among 2,000 is chosen."""

        def once(page: "Page") -> float:
            page.goto(f"{self._server.address}/elevation/{wall}")
            page.locator(".crowd").first.wait_for()
            for _ in range(3):
                page.get_by_role("button", name="Larger").click()
            page.locator(".mark").nth(2).wait_for()
            page.evaluate(_WATCH)
            spot = _free_mark(page)
            page.mouse.click(*spot)
            page.locator(".chosen-card").wait_for()
            return float(page.evaluate(_LONGEST))

        return self._median(once, SLOW)

    def crowded(self, wall: str) -> float:
        """Return the longest task while a wall with 2,000 marks is opened."""

        def once(page: "Page") -> float:
            page.goto(f"{self._server.address}/elevation/{wall}")
            page.locator(".crowd").first.wait_for()
            page.wait_for_timeout(AFTERWARDS_MS)
            return float(page.evaluate(_LONGEST_TASK))

        return self._median(once, SLOW)

    def lasted(self) -> float:
        """Return how long after the tap the bars of What lasted stand."""

        def once(page: "Page") -> float:
            page.goto(f"{self._server.address}/storms")
            page.locator('a[href="/lasted"]').wait_for()
            page.locator(".storm-cards .card").first.wait_for()
            return float(page.evaluate(_AFTER, ['a[href="/lasted"]', ".bars"]))

        return self._median(once, SLOW)

    def take_in_tickets(self) -> None:
        """Go in, and wait until every ticket has come."""
        with self._open(1) as page:
            page.goto(self._server.address)
            page.locator(".demo-door button").click()
            page.locator(".places").wait_for()
            page.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
            page.goto(f"{self._server.address}/board")
            page.wait_for_function(_BOARD_WHOLE, timeout=120_000)

    def board(self) -> float:
        """Return how long after the tap the whole board stands."""

        def once(page: "Page") -> float:
            page.goto(f"{self._server.address}/tickets")
            page.locator(".urgency-group").first.wait_for(timeout=60_000)
            page.get_by_role("button", name="Board", exact=True).evaluate("(button) => { button.id = 'tapped'; }")
            return float(page.evaluate(_AFTER, ["#tapped", ".board-grid"]))

        return self._median(once, SLOW)

    def tickets(self) -> float:
        """Return how long after the tap the list of all tickets stands."""

        def once(page: "Page") -> float:
            page.goto(f"{self._server.address}/walls")
            page.locator('.structures[aria-busy="false"] .card').first.wait_for(timeout=60_000)
            return float(page.evaluate(_AFTER, ['a[href="/tickets"]', ".urgency-group"]))

        return self._median(once, SLOW)

    def cold_board(self) -> float:
        """Return when the board stands in a fresh browser without a server, the median of several."""
        runs = []
        for _ in range(RUNS):
            with self._open(SLOW) as page:
                page.goto(self._server.address + "/board", wait_until="commit")
                runs.append(float(page.wait_for_function(_BOARD_WHOLE, timeout=60_000).json_value()))
        return statistics.median(runs) / 1000

    def _median(self, deed: Callable[["Page"], float], slower: int) -> float:
        with self._open(slower) as page:
            return statistics.median(deed(page) for _ in range(RUNS)) / 1000


def _throttle(page: "Page", command: str, given: dict[str, Any]) -> None:
    page.context.new_cdp_session(page).send(command, given)


def _free_mark(page: "Page") -> tuple[float, float]:
    """Return the place of a mark that no button covers."""
    spot = page.evaluate("""() => {
      for (const node of document.querySelectorAll(".mark .mark-reach")) {
        const {left, top, width, height} = node.getBoundingClientRect();
        const [x, y] = [left + width / 2, top + height / 2];
        const hit = document.elementFromPoint(x, y);
        if (hit?.closest(".wall-frame") && !hit.closest("button, .scale-bar")) return [x, y];
      }
      return null;
    }""")
    if spot is None:
        raise AssertionError("no mark lies free on the screen")
    return spot[0], spot[1]
