"""Every screen, on a phone, a tablet and a desk, in both languages: accessible, nothing cut off, all within a thumb's reach."""

import pytest

from tests.e2e.access.looking import LOCALES, look, violations
from tests.e2e.stops import faults, routes, rows_here, settle, stops

pytestmark = pytest.mark.e2e

PLANTED = """<html lang="en"><title>Planted</title><main><h1>One one</h1><button style="width:30px;height:30px">b</button>
<img src="x"><p style="color:#666">undefined</p><div style="width:900px">wide</div><a href="/x" style="display:block">low</a>
<p style="width:4em;overflow-wrap:anywhere">overflowing</p><svg width="60" height="20"><text x="40" y="15">drawn</text></svg>
<button style="width:12px;height:12px;padding:0">i</button><button style="width:12px;height:12px;padding:0">j</button>
<p>a link <a href="/y">in words</a> is exempt</p></main>"""

PLANTED_FAULTS = (
    "px wide on 390", "beyond the screen: <div", "30 x 30 px is under 48", "under 44: <a", "said twice: One",
    "not words: undefined", "word: overflowing", "its drawing: <text", "image-alt", "color-contrast-enhanced", "target-size",
)


def test_planted_faults_are_found(new_device):
    page = new_device().page
    page.set_content(PLANTED)
    found = "\n".join([*faults(page), *violations(page)])
    for wanted in PLANTED_FAULTS:
        assert wanted in found
    assert "in words" not in found
    assert "target-size" in violations(page, ["target-size"])[0]


@pytest.mark.parametrize("language", LOCALES)
def test_every_screen(demo_server, new_device, language):
    device = new_device(locale=LOCALES[language])
    page, said = device.page, []
    page.on("console", lambda line: said.append(f"{page.url}: {line.text}") if line.type in ("error", "warning") else None)
    page.goto(demo_server.address)
    page.locator(".demo-door button").wait_for()
    wrong = look(device, "join", language)
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
        wrong += look(device, stop.name, language)
    assert page.locator("html").get_attribute("lang") == language
    assert not said
    assert not wrong, "\n".join(wrong)
