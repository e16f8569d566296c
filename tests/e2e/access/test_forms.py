"""Forms say what went wrong: a sentence tied to the field, the focus on the first wrong one, and nothing typed is lost."""

import pytest
from playwright.sync_api import Page

from tests.e2e.access.forms import Form, forms
from tests.e2e.access.looking import LOCALES, look
from tests.e2e.conftest import DESKTOP, PHONE
from tests.e2e.stops import rows_here, settle

pytestmark = pytest.mark.e2e

SIZE = {"en": ("phone", PHONE), "es": ("desktop", DESKTOP)}
_TYPED = """() => [...document.querySelectorAll("main input, main textarea, main select, dialog input")]
  .filter((box) => !["radio", "checkbox"].includes(box.type)).map((box) => box.value)"""
_LED = """() => {
  const wrong = [...(document.querySelector("dialog[open]") ?? document).querySelectorAll('[aria-invalid="true"], [data-wrong]')];
  const on = document.activeElement;
  const said = (wrong[0]?.getAttribute("aria-describedby") ?? "").split(" ").map((id) => document.getElementById(id))
    .filter((one) => one?.matches(".wrong")).map((one) => one.textContent.trim());
  const box = on.getBoundingClientRect();
  const hit = document.elementFromPoint(box.left + box.width / 2, box.top + Math.min(box.height, innerHeight) / 2);
  return {
    wrong: wrong.length, said, inside: Boolean(wrong[0]?.contains(on)), on: on.outerHTML.slice(0, 120),
    seen: Boolean(hit && (on.contains(hit) || hit.contains(on) || on.closest("label")?.contains(hit))),
  };
}"""


def trouble_with(page: Page, form: Form) -> list[str]:
    """Spoil a form and try to keep it; return what it fails to say or do."""
    form.spoil(page)
    typed, address = page.evaluate(_TYPED), page.url
    if form.keep:
        page.locator(form.keep).last.click()
    page.locator("[aria-invalid=true], [data-wrong]").first.wait_for(timeout=4000)
    page.wait_for_timeout(30)
    led = page.evaluate(_LED)
    trouble = []
    if not led["said"] or len(led["said"][0].split()) < 3:
        trouble.append(f"no sentence is tied to the wrong field: {led}")
    if form.keep and not led["inside"]:
        trouble.append(f"the focus is not on the first wrong field: {led}")
    if form.keep and not led["seen"]:
        trouble.append(f"the field with the focus is covered: {led}")
    if page.evaluate(_TYPED) != typed:
        trouble.append(f"what was typed is lost: {typed} became {page.evaluate(_TYPED)}")
    if page.url != address:
        trouble.append(f"it went on to {page.url}")
    return trouble


@pytest.mark.parametrize("language", LOCALES)
def test_every_form_says_what_is_wrong_and_leads_there(demo_server, new_device, language):
    size, viewport = SIZE[language]
    device = new_device(viewport, LOCALES[language])
    page, wrong = device.page, []
    page.goto(demo_server.address)
    page.locator(".demo-door button").click()
    page.locator(".structures .card").first.wait_for()
    for form in forms(rows_here(page)):
        page.goto(demo_server.address + form.path)
        settle(page)
        page.wait_for_load_state()
        wrong += [f"{form.name}: {one}" for one in trouble_with(page, form)]
        if language == "en":
            wrong += look(device, f"wrong-{form.name}", language, (size,))
    assert not wrong, "\n".join(wrong)
