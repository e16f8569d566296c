"""A repair photographed from where its damage was: the earlier photo over the camera, and both under one slider."""

import re

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.e2e import walk
from tests.e2e.pictures import jpeg

pytestmark = pytest.mark.e2e

_REFUSE = """(name) => { navigator.mediaDevices.getUserMedia = () => Promise.reject(new DOMException("no", name)); }"""


def _ghost(page: Page) -> Locator:
    """Open the camera with the earlier photo."""
    page.get_by_role("button", name="From the same place").click()
    return page.get_by_role("dialog", name="From the same place")


def _shows_through(page: Page, strength: int) -> None:
    """The earlier photo lies over all of the camera's picture, as faint as the slider says."""
    earlier, live = page.locator(".ghost-view img"), page.get_by_label("What the camera sees now")
    expect(earlier).to_have_css("opacity", str(strength / 100))
    assert earlier.bounding_box() == live.bounding_box()
    walk.expect_drawn(earlier)


def _wiped_to(figure: Locator, share: int) -> None:
    """So much of the frame, from the left, shows the damage; the rest the repair; the line stands between."""
    slider = figure.get_by_role("slider", name="Wipe between before and after")
    expect(slider).to_have_value(str(share))
    expect(slider).to_have_attribute("aria-valuetext", f"{share}\u00a0% before, {100 - share}\u00a0% after")
    damage = figure.get_by_role("img", name=re.compile("before"))
    assert damage.evaluate("(image) => image.style.clipPath") == f"inset(0px {100 - share}% 0px 0px)"
    frame, line = figure.locator(".wipe-frame").bounding_box(), figure.locator(".wipe-line").bounding_box()
    assert line["x"] + line["width"] / 2 == pytest.approx(frame["x"] + frame["width"] * share / 100, abs=1)


def test_repair_is_photographed_over_its_damage_and_wiped_against_it(own_server, new_device):
    keeper = new_device()
    walk.enrol(keeper, own_server.first_link(), "Ada")
    grounds = walk.found_site(keeper, own_server, tickets=1, method="dry_and_brush")
    page = keeper.page
    page.goto(f"{own_server.address}/defect/{grounds.defects[0]}")
    walk.allow_place(page)
    walk.take_photo(page, jpeg(3))
    page.get_by_role("button", name="Keep 1 photo").click()
    expect(page.get_by_role("button", name="Keep 1 photo")).to_have_count(0)
    page.goto(f"{own_server.address}/ticket/{grounds.tickets[0]}?step=done")

    for refusal, told in (("NotAllowedError", "may not use the camera"), ("NotFoundError", "No camera was found here")):
        page.evaluate(_REFUSE, refusal)
        dialog = _ghost(page)
        expect(dialog.get_by_role("alert")).to_contain_text(told)
        other_way = re.search("use “(.+?)”", dialog.get_by_role("alert").inner_text(), re.IGNORECASE)
        dialog.get_by_role("button", name="Close").click()
        with page.expect_file_chooser():
            page.get_by_role("button", name=other_way[1], exact=True).click()

    page.reload()
    dialog = _ghost(page)
    strength = dialog.get_by_role("slider", name="How strong the earlier photo shows")
    expect(strength).to_have_attribute("aria-valuetext", "45\u00a0%")
    _shows_through(page, 45)
    strength.press("ArrowRight")
    expect(strength).to_have_attribute("aria-valuetext", "60\u00a0%")
    _shows_through(page, 60)
    page.wait_for_function("() => document.querySelector('.ghost-view video').videoWidth > 0")
    dialog.get_by_role("button", name="Take the photo").click()
    expect(dialog).to_be_hidden()
    page.get_by_role("button", name="Keep", exact=True).click()

    figure = page.get_by_role("region", name="Before and after").get_by_role("figure")
    _wiped_to(figure, 50)
    for photo in figure.get_by_role("img").all():
        walk.expect_drawn(photo)
    slider = figure.get_by_role("slider")
    slider.press("ArrowRight")
    _wiped_to(figure, 55)
    slider.press("Home")
    _wiped_to(figure, 0)
    box = slider.bounding_box()
    assert box["height"] >= 48
    slider.tap(position={"x": box["width"] - 2, "y": box["height"] / 2})
    _wiped_to(figure, 100)
