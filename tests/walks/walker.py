"""A person with a device who walks a journey, and what it costs them; elements are found by role and name, as a person does."""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from playwright.sync_api import Browser, Locator, Page, TimeoutError, expect

from tests.e2e.conftest import Device

LONG_WAIT_MS = 300
UPPER_THIRD = 1 / 3
_SETTLED_WITHIN_MS = 20_000
_COME_WITHIN_MS = 60_000
_FILLED_WITHIN_MS = 2_000
Key = str | re.Pattern[str]

# Marks when the person last touched the screen, and when what they look at last changed; the words on sending are left out.
_WATCH = """() => {
  const now = () => performance.now();
  window.walked = {touched: 0, changed: 0};
  for (const kind of ["pointerdown", "click", "input", "change"]) {
    addEventListener(kind, () => { window.walked.touched = window.walked.changed = now(); }, true);
  }
  const seen = (change) => {
    const node = change.target.nodeType === 1 ? change.target : change.target.parentElement;
    return node && node.closest("main, dialog, .page-actions, .page-title, .splash, body > *") && !node.closest(".badge");
  };
  const watch = new MutationObserver((changes) => { if (changes.some(seen)) window.walked.changed = now(); });
  watch.observe(document, {subtree: true, childList: true, characterData: true, attributes: true});
}"""

# Quiet for 200 ms, with a heading and every picture there: how long it took since the touch, in ms.
_SETTLED = """() => {
  const {touched, changed} = window.walked;
  const whole = document.querySelector("h1") && !document.querySelector(".splash")
    && [...document.images].every((one) => one.complete);
  return whole && performance.now() - changed > 200 && {wait_ms: changed - touched};
}"""

_SCREENS_AWAY = "(wanted) => Math.abs(wanted.getBoundingClientRect().top) / innerHeight"
_SINCE_TOUCHED = "() => performance.now() - window.walked.touched"

# Every piece of text that can be read on the screen, below the fold too; drawings and what only a screen reader is told left out.
_READ = """() => {
  const found = [];
  for (const part of document.querySelectorAll("main, dialog[open]")) {
    if (part.parentElement.closest("main, dialog[open]")) continue;
    const walker = document.createTreeWalker(part, NodeFilter.SHOW_TEXT);
    while (walker.nextNode()) {
      const node = walker.currentNode.parentElement, text = walker.currentNode.data.trim();
      const left_out = node.closest("svg, script, style, option, .unseen") || !node.checkVisibility({visibilityProperty: true});
      if (text && !left_out) found.push(text);
    }
  }
  return found;
}"""

# What leads on from here, besides going back, the four places and the words on sending.
_FORWARD = """() => [...document.querySelectorAll(
    ":is(main, .page-actions, dialog[open]) :is(a[href], button, input, select, textarea, summary)")]
  .filter((one) => !one.disabled && one.checkVisibility({visibilityProperty: true})).length"""

# Where a control stands: its middle as a share of the screen's height, and whether a finger would meet it there.
_STANDS = """(control) => {
  const tile = control.matches("input[type=radio], input[type=checkbox], input[type=file]") && control.closest("label");
  const shown = tile || control;
  const box = shown.getBoundingClientRect();
  const [x, y] = [box.left + box.width / 2, box.top + Math.min(box.height / 2, innerHeight / 4)];
  const hit = document.elementFromPoint(x, y);
  return {at: y / innerHeight, in_sight: Boolean(hit && (shown.contains(hit) || hit.contains(shown) && hit !== document.body
    && !hit.matches("main, .page, #app, html"))), typing: document.activeElement === control};
}"""


@dataclass(frozen=True)
class Person:
    """Who walks, and with what: the screen, how many times slower than here the device is, the language."""

    name: str
    width: int
    height: int
    touch: bool = True
    slower: int = 1
    locale: str = "en-GB"


@dataclass
class Journey:
    """What one journey cost. Times are ms of this machine made slower, so trust the ratios."""

    person: str
    name: str
    taps: int = 0
    fields: int = 0
    keys: int = 0
    words: int = 0
    waits_ms: list[tuple[str, float]] = field(default_factory=list)
    scrolled_to: list[str] = field(default_factory=list)
    out_of_reach: list[str] = field(default_factory=list)
    dead_ends: list[str] = field(default_factory=list)

    @property
    def long_waits_ms(self) -> list[tuple[str, float]]:
        """The steps after which the screen took longer than a person takes for at once."""
        return [(step, ms) for step, ms in self.waits_ms if ms > LONG_WAIT_MS]


class Walker(Device):
    """A person at their device; each deed counts for the journey they are on."""

    def __init__(self, browser: Browser, person: Person, journeys: list[Journey]) -> None:
        self.person = person
        context = browser.new_context(
            viewport={"width": person.width, "height": person.height}, locale=person.locale, has_touch=person.touch,
            permissions=["geolocation"], geolocation={"latitude": 48.62, "longitude": -9.35, "accuracy": 7},
        )
        context.set_default_timeout(15_000)
        context.add_init_script(f"({_WATCH})()")
        super().__init__(context)
        self._journeys = journeys
        self._now = Journey(person.name, "")
        self._known: set[tuple[str, str]] = set()
        self._slow_down()

    def _slow_down(self) -> None:
        session = self.context.new_cdp_session(self.page)
        session.send("Emulation.setCPUThrottlingRate", {"rate": self.person.slower})

    def fresh_page(self) -> Page:
        """Kill the app and open an empty page in the same profile, as slow as before."""
        page = super().fresh_page()
        self._slow_down()
        return page

    @contextmanager
    def journey(self, name: str) -> Iterator[Journey]:
        """Count what follows for a journey of this name."""
        self._now = Journey(self.person.name, name)
        self._journeys.append(self._now)
        yield self._now

    # Coming to a screen.

    def goes_to(self, address: str, why: str = "") -> None:
        """Open an address: a link somebody sent; with `why`, one that had to be told since no screen leads there: a dead end."""
        if why:
            self._now.dead_ends.append(why)
        self.page.goto(address)
        self._arrive(f"open {re.sub('#.*', '', address.split('/', 3)[-1]) or 'the app'}")

    def _arrive(self, step: str) -> None:
        settled = self.page.wait_for_function(_SETTLED, timeout=_SETTLED_WITHIN_MS).json_value()
        self._now.waits_ms.append((step, settled["wait_ms"]))
        self._read()
        if not self._leads_on():
            self._now.dead_ends.append(f"nothing leads on: {self.heading()}")

    def _leads_on(self) -> bool:
        """Whether there is something to press but going back and the four places; a screen may still be filling."""
        try:
            self.page.wait_for_function(_FORWARD, timeout=_FILLED_WITHIN_MS)
        except TimeoutError:
            return False
        return True

    def _read(self) -> None:
        """Count the words of lines that this person has not read on this screen before."""
        screen = self.page.url.split("?")[0].split("#")[0]
        fresh = {(screen, line) for line in self.page.evaluate(_READ)} - self._known
        self._known |= fresh
        self._now.words += sum(len(re.findall(r"\w+", line)) for _, line in fresh)

    def heading(self) -> str:
        """Return what the screen calls itself."""
        return self.page.get_by_role("heading", level=1).first.inner_text()

    def looks_for(self, wanted: Locator, name: str) -> None:
        """Scroll until this can be read; by how many screens is noted with the name."""
        if not self.in_sight(wanted):
            screens: float = wanted.first.evaluate(_SCREENS_AWAY)
            self._now.scrolled_to.append(f"{name}, {screens:.1f} screens")
            wanted.first.scroll_into_view_if_needed()
        self._read()

    def in_sight(self, seen: Locator) -> bool:
        """Whether this can be read without scrolling."""
        found: bool = seen.first.evaluate(_STANDS)["in_sight"]
        return found

    def sees(self, seen: Locator) -> None:
        """Wait until this is there to be read, a wait that counts; what had come before counts as read too."""
        if not seen.first.is_visible():
            expect(seen.first).to_be_visible(timeout=_COME_WITHIN_MS)
            self._now.waits_ms.append((f"until there: {self._called(seen.first)}", self.page.evaluate(_SINCE_TOUCHED)))
        self._read()

    # Deeds.

    def taps(self, control: Locator) -> None:
        """Tap a control, scrolling to it first where it is out of sight."""
        step = self._reach(control)
        control.click()
        self._now.taps += 1
        self._arrive(step)

    def presses(self, name: Key) -> None:
        """Tap the first button of this name."""
        self.taps(self.page.get_by_role("button", name=name).first)

    def follows(self, name: Key) -> None:
        """Tap the first link of this name."""
        self.taps(self.page.get_by_role("link", name=name).first)

    def picks(self, name: Key) -> None:
        """Tap the first tile of a choice."""
        self.taps(self.page.get_by_role("radio", name=name).first)

    def writes(self, control: Locator, text: str) -> None:
        """Fill in a field, with the tap into it where it does not wait for typing already."""
        if not control.evaluate(_STANDS)["typing"]:
            self._reach(control)
            self._now.taps += 1
        control.fill(text)
        self._now.fields += 1
        self._now.keys += len(text)
        self._read()

    def chooses(self, control: Locator, option: Key) -> None:
        """Open a list of choices and take one: two taps."""
        step = self._reach(control)
        label = control.get_by_role("option", name=option).first.inner_text()
        control.select_option(label=label)
        self._now.taps += 2
        self._arrive(step)

    def taps_wall(self, across: float, down: float) -> None:
        """Tap the drawn wall at these shares of its width and height."""
        drawing = self.page.get_by_role("application")
        step = self._reach(drawing, "the wall")
        drawing.scroll_into_view_if_needed()
        box = drawing.bounding_box()
        assert box
        tap = self.page.touchscreen.tap if self.person.touch else self.page.mouse.click
        tap(box["x"] + across * box["width"], box["y"] + down * box["height"])
        self._now.taps += 1
        self._arrive(step)

    def takes_photo(self, button: Locator, content: bytes) -> None:
        """Press the camera's button and its shutter: two taps, and the file the camera makes."""
        step = self._reach(button)
        with self.page.expect_file_chooser() as opened:
            button.click()
        opened.value.set_files({"name": "camera.jpg", "mimeType": "image/jpeg", "buffer": content})
        self._now.taps += 2
        self._arrive(step)

    def fetches(self, control: Locator) -> Path:
        """Tap what downloads a file; return where it came to lie."""
        step = self._reach(control)
        with self.page.expect_download() as coming:
            control.click()
        self._now.taps += 1
        self._arrive(step)
        return Path(coming.value.path())

    def to_place(self, place: str) -> None:
        """Tap one of the four places at the foot of the screen."""
        self.taps(self.page.get_by_role("navigation").get_by_role("link", name=place))

    def taps_badge(self) -> None:
        """Tap the words at the top on what is saved where."""
        self.taps(self.page.get_by_role("banner").get_by_role("link").last)

    def _reach(self, control: Locator, name: str = "") -> str:
        """Note where the control stands before it is touched; return what to call the step."""
        expect(control).to_be_visible()
        step = name or self._called(control)
        stands = control.evaluate(_STANDS)
        if not stands["in_sight"]:
            self._now.scrolled_to.append(step)
        elif stands["at"] < UPPER_THIRD:
            self._now.out_of_reach.append(step)
        return step

    def _called(self, control: Locator) -> str:
        words: str = control.evaluate(
            "(one) => one.getAttribute('aria-label') || (one.labels && one.labels[0] || one).innerText || one.name || one.tagName"
        )
        return " ".join(words.split())[:40]
