"""Every screen, on a phone and on a desk, in both languages: accessible, nothing cut off, all within a thumb's reach."""

import pytest
from axe_playwright_python.sync_playwright import Axe

from tests.e2e.conftest import ARTEFACTS, DESKTOP, PHONE
from tests.e2e.stops import faults, photograph, routes, rows_here, settle, stops

pytestmark = pytest.mark.e2e

VIEWPORTS = {"phone": PHONE, "desk": DESKTOP}
LOCALES = {"en": "en-GB", "es": "es-ES"}
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
# 7:1 for text: the screens are read in the sun.
OUTDOORS = {"color-contrast-enhanced": {"enabled": True}}


def violations(page) -> list[str]:
    """Return what axe finds on the screen, one line each."""
    options = {"runOnly": {"type": "tag", "values": RULES}, "rules": OUTDOORS, "resultTypes": ["violations"]}
    found = Axe().run(page, options=options)
    return [
        f"{one['id']}: {node['target']} {node['html'][:120]} {node['failureSummary'][:300]}"
        for one in found.response["violations"]
        for node in one["nodes"]
    ]


PLANTED = """<html lang="en"><title>Planted</title><main><h1>One one</h1><button style="width:30px;height:30px">b</button>
<img src="x"><p style="color:#666">undefined</p><div style="width:900px">wide</div><a href="/x" style="display:block">low</a>
<p style="width:4em;overflow-wrap:anywhere">overflowing</p><svg width="60" height="20"><text x="40" y="15">drawn</text></svg>
<p>a link <a href="/y">in words</a> is exempt</p></main>"""

PLANTED_FAULTS = (
    "px wide on 390", "beyond the screen: <div", "30 x 30 px is under 48", "under 44: <a", "said twice: One",
    "not words: undefined", "word: overflowing", "its drawing: <text", "image-alt", "color-contrast-enhanced",
)


def test_planted_faults_are_found(new_device):
    page = new_device().page
    page.set_content(PLANTED)
    found = "\n".join([*faults(page), *violations(page)])
    for wanted in PLANTED_FAULTS:
        assert wanted in found
    assert "in words" not in found


def look(device, name: str) -> list[str]:
    """Photograph the screen and return what is wrong with it."""
    wrong = [f"{name}: {one}" for one in (*faults(device.page), *violations(device.page))]
    photograph(device.page, ARTEFACTS / f"{name}.png")
    return wrong


@pytest.mark.parametrize("language", LOCALES)
@pytest.mark.parametrize("size", VIEWPORTS)
def test_every_screen(demo_server, new_device, size, language):
    ARTEFACTS.mkdir(exist_ok=True)
    device = new_device(VIEWPORTS[size], LOCALES[language])
    page, said = device.page, []
    page.on("console", lambda line: said.append(f"{page.url}: {line.text}") if line.type in ("error", "warning") else None)
    page.goto(demo_server.address)
    page.locator(".demo-door button").wait_for()
    wrong = look(device, f"{size}-{language}-join")
    page.locator(".demo-door button").click()
    page.locator(".structures .card").first.wait_for()
    walk = stops(rows_here(page))
    assert {stop.route for stop in walk} - {""} == routes()
    for stop in walk:
        page.goto(demo_server.address + stop.path)
        settle(page)
        if stop.first:
            stop.first(page)
            settle(page)
        wrong += look(device, f"{size}-{language}-{stop.name}")
    assert page.locator("html").get_attribute("lang") == language
    assert not said
    assert not wrong, "\n".join(wrong)
