"""Every screen in both languages, at each size, in large text and in glare: accessible, nothing cut off, all within reach."""

import pytest

from tests.e2e.access.looking import LOCALES, look, violations
from tests.e2e.looks import reach
from tests.e2e.stops import faults, routes, rows_here, settle, stops

pytestmark = pytest.mark.e2e

# Each walk looks at every screen in other shapes as well, so that no screen is opened once more for them.
# Spanish words are the longer ones.
SHAPES = {
    "en": [reach.large_text],
    "es": [reach.out_of_reach, reach.narrow, reach.glare, reach.on_its_side],
}

PLANTED = """<html lang="en"><title>Planted</title><main><h1>One one</h1><button style="width:30px;height:30px">b</button>
<img src="x"><p style="color:#666">undefined</p><div style="width:900px">wide</div><a href="/x" style="display:block">low</a>
<div class="page-actions" style="position:absolute;top:9999px">
<button class="btn btn-primary" style="height:50px">main deed</button>
<button class="btn" style="height:50px;width:90px;overflow:hidden;white-space:nowrap">near and far too long</button></div>
<svg width="20" height="20"><path d="M0 0h9" stroke="#999"/><path d="M0 0h9" stroke="#333" stroke-opacity=".5"/>
<path d="M0 0h9" stroke="#000"/></svg>
<p style="width:4em;overflow-wrap:anywhere">overflowing</p><svg width="60" height="20"><text x="40" y="15">drawn</text></svg>
<button style="width:12px;height:12px;padding:0">i</button><button style="width:12px;height:12px;padding:0">j</button>
<p>a link <a href="/y">in words</a> is exempt</p></main>"""

PLANTED_FAULTS = (
    "px wide on 390", "beyond the screen: <div", "said twice: One", "not words: undefined", "word: overflowing",
    "its drawing: <text", "image-alt", "color-contrast-enhanced", "target-size",
    "30 x 30 px is under 48", "px is under 48: <a", "px is under 56: <button",
    'px apart: <button class="btn btn-primary"> main deed and',
    "out of sight: <button", "cut or scrolled sideways: <button", "text 5.7:1",
    "line neither black nor white, rgb(153, 153, 153)", "line neither black nor white, rgb(51, 51, 51)",
)


def test_planted_faults_are_found(new_device):
    page = new_device().page
    page.set_content(PLANTED)
    measured = [*reach.out_of_reach(page), *reach.does_not_fit(page), *reach.pale_in_glare(page)]
    found = "\n".join([*faults(page), *violations(page), *measured])
    for wanted in PLANTED_FAULTS:
        assert wanted in found
    assert not [one for one in measured if "in words" in one and " px" in one]
    assert "rgb(0, 0, 0)" not in found
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
        # A drawing that stays at the top while a form is scrolled covers other targets; it is measured beside them.
        page.evaluate("() => document.querySelector('main')?.scrollTo(0, 0)")
        wrong += [f"{stop.name}-{language}, {shape.__name__}: {one}" for shape in SHAPES[language] for one in shape(page)]
    assert page.locator("html").get_attribute("lang") == language
    assert not said
    assert not wrong, "\n".join(wrong)
