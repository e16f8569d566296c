"""Looking at one screen as it stands: on phone, tablet and desk, by axe and by our own eye, with a photograph of each."""

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

from tests.e2e.conftest import ARTEFACTS, DESKTOP, PHONE, TABLET, Device
from tests.e2e.looks.reach import does_not_fit
from tests.e2e.stops import faults, photograph, settle

SIZES = {"phone": PHONE, "tablet": TABLET, "desktop": DESKTOP}
LOCALES = {"en": "en-GB", "es": "es-ES"}
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
# 7:1 for text, 4.5:1 for large text: the screens are read in the sun. What passes that passes the laxer rule.
OUTDOORS = {"color-contrast-enhanced": {"enabled": True}, "color-contrast": {"enabled": False}}
# What hangs on the size alone: on a tablet all else is as it was on the phone.
OF_PLACE = ["target-size", "scrollable-region-focusable"]
# What hangs on the words: all else of a phone in Spanish is as it was in English.
OF_WORDS = [*OF_PLACE, "aria-command-name", "button-name", "html-has-lang", "html-lang-valid", "image-alt", "label", "link-name"]
OF_WORDS += ["svg-img-alt"]
# Each size is looked at in one language at least, the phone in both; the rest is photographed.
RULES_AT: dict[tuple[str, str], list[str] | None] = {
    ("phone", "en"): None, ("phone", "es"): OF_WORDS, ("desktop", "en"): None, ("tablet", "es"): OF_PLACE,
}
_AXE = Axe().axe_script
_DRAWN = "() => new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn)))"


def violations(page: Page, only: list[str] | None = None) -> list[str]:
    """Return what axe finds on the screen, one line each; `only` names single rules."""
    rules = {"type": "rule", "values": only} if only else {"type": "tag", "values": RULES}
    # Without fetching style sheets anew: only a rule that is not among these reads them.
    options = {"runOnly": rules, "rules": {} if only else OUTDOORS, "resultTypes": ["violations"], "preload": False}
    if not page.evaluate("() => 'axe' in window"):
        page.evaluate(_AXE)
    found = page.evaluate("(options) => axe.run(document, options)", options)
    return [
        f"{one['id']}: {node['target']} {node['html'][:120]} {node['failureSummary'][:300]}"
        for one in found["violations"]
        for node in one["nodes"]
    ]


def look(device: Device, name: str, language: str, sizes: tuple[str, ...] = tuple(SIZES)) -> list[str]:
    """Photograph the screen at each size into `artefacts/` as name-size-language.png; return what is wrong with it."""
    page, wrong = device.page, []
    before = page.viewport_size
    ARTEFACTS.mkdir(exist_ok=True)
    for size in sizes:
        if page.viewport_size != SIZES[size]:
            page.set_viewport_size(SIZES[size])
            page.evaluate(_DRAWN)
            settle(page)
        if (size, language) in RULES_AT:
            found = (*faults(page), *does_not_fit(page), *violations(page, RULES_AT[size, language]))
            wrong += [f"{name}-{size}-{language}: {one}" for one in found]
        photograph(page, ARTEFACTS / f"{name}-{size}-{language}.png")
    if before and page.viewport_size != before:
        page.set_viewport_size(before)
        page.evaluate(_DRAWN)
    return wrong
