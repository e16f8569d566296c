"""What a thumb can hit and an eye can read: targets and the room between them, screens of other shapes, contrast in glare."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import Page

from tests.e2e.stops import faults

LEAST, PRIMARY, APART, GLARE_CONTRAST = 48, 56, 8, 15

_JS = (Path(__file__).parent / "reach.js").read_text(encoding="utf-8").strip()
_TEXT = "(size) => { document.documentElement.style.fontSize = size; }"


def out_of_reach(page: Page) -> list[str]:
    """Return targets that are too small (48 px, primary 56) or too near another (8 px)."""
    found: list[str] = page.evaluate(f"{_JS}.targets({LEAST}, {PRIMARY}, {APART})")
    return found


def does_not_fit(page: Page) -> list[str]:
    """Return what runs off the screen, is cut, or hides the screen's own deed."""
    found: list[str] = page.evaluate(f"{_JS}.fit()")
    return found


def pale_in_glare(page: Page) -> list[str]:
    """Return text below 15:1, and lines or fills of drawings that are neither black nor white."""
    found: list[str] = page.evaluate(f"{_JS}.glare({GLARE_CONTRAST})")
    return found


@contextmanager
def shaped(page: Page, width: int, height: int, text_percent: int = 100) -> Iterator[None]:
    """Hold the screen to this size (CSS px), with text as large as this, and give it back as it was."""
    before = page.viewport_size or {"width": width, "height": height}
    page.set_viewport_size({"width": width, "height": height})
    page.evaluate(_TEXT, f"{text_percent}%")
    yield
    page.evaluate(_TEXT, "")
    page.set_viewport_size(before)


def large_text(page: Page) -> list[str]:
    """Text at 200 % on a phone."""
    with shaped(page, 390, 844, 200):
        return does_not_fit(page)


def narrow(page: Page) -> list[str]:
    """The 320 CSS px of WCAG 1.4.10."""
    with shaped(page, 320, 640):
        return [*does_not_fit(page), *faults(page)]


def on_its_side(page: Page) -> list[str]:
    """A phone held across."""
    with shaped(page, 844, 390):
        return [*does_not_fit(page), *faults(page)]


def glare(page: Page) -> list[str]:
    """The same screen in glare: still fitting, and black on white."""
    page.evaluate("() => { document.documentElement.dataset.glare = ''; }")
    found = [*does_not_fit(page), *pale_in_glare(page)]
    page.evaluate("() => { delete document.documentElement.dataset.glare; }")
    return [f"in glare: {one}" for one in found]
