"""How a phone is looked at and held: glare by the system's wish or by choice, and the side on which the thumb reaches."""

import re

import pytest
from playwright.sync_api import Page, expect

from tests.e2e.walk import enrol_in_demo, to_phone_page, to_place

pytestmark = pytest.mark.e2e

# Which half of its frame a thing stands in.
_SIDE = """(name) => {
  const middle = (node) => { const {left, right} = node.getBoundingClientRect(); return (left + right) / 2; };
  const [thing, frame] = name.map((one) => document.querySelector(one));
  return middle(thing) < middle(frame) ? "left" : "right";
}"""


def in_glare(page: Page) -> bool:
    """Whether root, system frame and icon are in glare; all or none of them."""
    told = page.evaluate("""() => [
      document.documentElement.hasAttribute("data-glare"),
      document.querySelector('meta[name="theme-color"]').content === "#ffffff",
      document.querySelector('link[rel="icon"]').href.endsWith("/icon-glare.svg"),
      getComputedStyle(document.body).backgroundColor === "rgb(255, 255, 255)",
    ]""")
    assert len(set(told)) == 1, told
    return bool(told[0])


def test_glare_follows_the_system_until_somebody_chooses(demo_server, new_device):
    device = new_device()
    page = device.page
    enrol_in_demo(device, demo_server)
    assert not in_glare(page)
    page.emulate_media(contrast="more")
    expect(page.locator("html")).to_have_attribute("data-glare", "")
    assert in_glare(page)
    to_phone_page(page)
    switch = page.get_by_role("checkbox", name=re.compile("In bright sun"))
    expect(switch).to_be_checked()
    switch.uncheck()
    expect(page.locator("html")).not_to_have_attribute("data-glare", "")
    page.reload()
    expect(switch).not_to_be_checked()
    assert not in_glare(page)
    switch.check()
    # Worn once it is kept.
    expect(page.locator("html")).to_have_attribute("data-glare", "")
    page.emulate_media(contrast="no-preference")
    page.reload()
    expect(switch).to_be_checked()
    assert in_glare(page)


def test_the_other_hand_moves_what_a_thumb_reaches_for(demo_server, new_device):
    device = new_device()
    page = device.page
    enrol_in_demo(device, demo_server)
    for hand in ("right", "left"):
        to_phone_page(page)
        page.get_by_role("radiogroup", name="The hand that taps").get_by_role("radio", name=hand).check()
        to_place(page, "Walls")
        page.get_by_role("link", name=re.compile("South front")).click()
        page.locator(".wall-frame .zooms").wait_for()
        assert page.evaluate(_SIDE, [".zooms", ".wall-frame"]) == hand
        assert page.evaluate(_SIDE, [".scale-bar", ".wall-frame"]) != hand
        page.set_viewport_size({"width": 844, "height": 390})
        assert page.evaluate(_SIDE, [".page-actions", ".page"]) == hand
        assert page.evaluate(_SIDE, [".places", ".page"]) != hand
        page.set_viewport_size({"width": 390, "height": 844})
        to_place(page, "Storms")
        expect(page.get_by_role("button", name="Log a storm")).to_be_visible()
        assert page.evaluate(_SIDE, [".page-actions .btn-primary", ".page"]) == hand
