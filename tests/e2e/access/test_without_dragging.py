"""Whatever can be dragged can be done without dragging: by taps, by buttons, and by keys (WCAG 2.5.7)."""

import re

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.e2e.pictures import jpeg
from tests.e2e.stops import Rows, rows_here, settle
from tests.e2e.walk import tap_wall

pytestmark = pytest.mark.e2e


@pytest.fixture(scope="module")
def page(demo_server, browser):
    """One phone on the demo for all of these; they keep nothing."""
    context = browser.new_context(viewport={"width": 390, "height": 844}, locale="en-GB", has_touch=True)
    context.set_default_timeout(15_000)
    opened = context.new_page()
    opened.goto(demo_server.address)
    opened.get_by_role("button", name="Look round the invented site").click()
    expect(opened.get_by_role("navigation", name="Places")).to_be_visible()
    yield opened
    context.close()


@pytest.fixture(scope="module")
def known(page) -> Rows:
    return Rows(rows_here(page))


@pytest.fixture
def go(page, demo_server):
    """Open a path of the app and wait for what it shows."""

    def open_path(path: str) -> None:
        page.goto(demo_server.address + path)
        settle(page)

    return open_path


def tap(page: Page, drawing: Locator, across: float, down: float) -> None:
    """Tap a drawing at this share of its width and height."""
    drawing.scroll_into_view_if_needed()
    box = drawing.bounding_box()
    assert box
    page.touchscreen.tap(box["x"] + across * box["width"], box["y"] + down * box["height"])


def test_a_corner_of_an_outline_is_moved_and_removed_by_taps_and_by_keys(page, known, go):
    go(f"/mark/new?elevation={known.side('flat')}&shape=outline")
    tap_wall(page, (0.3, 0.3), (0.6, 0.3), (0.6, 0.7))
    second = page.get_by_role("button", name=re.compile("^Corner 2"))
    before = str(second.get_attribute("aria-label"))
    tap_wall(page, (0.6, 0.3))
    expect(second).to_have_attribute("aria-pressed", "true")
    tap_wall(page, (0.75, 0.45))
    expect(second).not_to_have_attribute("aria-label", before)
    moved = str(second.get_attribute("aria-label"))
    second.press("ArrowLeft")
    expect(second).not_to_have_attribute("aria-label", moved)
    second.press("Enter")
    page.get_by_role("button", name="Remove corner 2").click()
    expect(page.get_by_role("button", name=re.compile("^Corner 2"))).to_have_count(1)
    expect(page.get_by_role("button", name=re.compile("^Corner 3"))).to_have_count(0)


def test_an_enlarged_wall_is_moved_by_buttons(page, known, go):
    go(f"/mark/new?elevation={known.side('flat')}")
    shown = page.locator(".wall-layer")
    expect(page.get_by_role("group", name="Move what is shown")).to_have_count(0)
    for _ in range(2):
        page.get_by_role("button", name="Larger").click()
    moves = page.get_by_role("group", name="Move what is shown")
    for way in ("left", "top", "right", "foot"):
        before = str(shown.get_attribute("viewBox"))
        moves.get_by_role("button", name=f"More of the {way}").click()
        expect(shown).not_to_have_attribute("viewBox", before)
    page.get_by_role("button", name="Whole wall").click()
    expect(moves).to_have_count(0)


def test_a_pin_and_an_opening_are_placed_by_one_tap(page, known, go):
    go(f"/mark/new?elevation={known.side('flat')}")
    tap_wall(page, (0.4, 0.5))
    where = page.get_by_role("region", name="Where is it?").get_by_role("status").first
    expect(where).to_contain_text("up")
    before = where.inner_text()
    tap_wall(page, (0.6, 0.4))
    expect(where).not_to_have_text(before)
    go(f"/elevation/{known.side('flat')}/edit")
    page.get_by_role("button", name="Change", exact=True).first.click()
    left = page.get_by_label(re.compile("^From the left"))
    before = left.input_value()
    tap_wall(page, (0.35, 0.5))
    expect(left).not_to_have_value(before)


def test_a_depth_is_set_by_a_tap_by_keys_and_by_typing(page, known, go):
    go(f"/mark/new?elevation={known.side('flat')}&points=1,1")
    page.get_by_role("radio", name=re.compile("^Spalling")).check(force=True)
    slider = page.get_by_role("slider", name="Depth")
    tap(page, slider, 0.5, 0.4)
    expect(slider).not_to_have_attribute("aria-valuenow", "0")
    tapped = int(str(slider.get_attribute("aria-valuenow")))
    slider.press("ArrowRight")
    expect(slider).to_have_attribute("aria-valuenow", str(tapped + 1))
    page.get_by_label(re.compile("^Deepest")).fill("32")
    expect(slider).to_have_attribute("aria-valuenow", "32")


def test_before_and_after_are_wiped_by_keys_and_by_a_tap(page, known, go):
    go(f"/ticket/{known.tickets_by_last_step()['checked']}")
    wipe = page.locator(".wipe input[type=range]").first
    wipe.scroll_into_view_if_needed()
    wipe.press("ArrowRight")
    expect(wipe).to_have_value("55")
    tap(page, wipe, 0.1, 0.5)
    expect(wipe).not_to_have_value("55")
    expect(page.locator(".wipe-line").first).to_have_attribute("style", re.compile(f"left: {wipe.input_value()}%"))


def test_points_of_a_photo_behind_the_wall_are_moved_by_taps_and_by_keys(page, known, go):
    go(f"/elevation/{known.side('flat')}/underlay")
    page.locator("input[type=file]").last.set_input_files({"name": "wall.jpg", "mimeType": "image/jpeg", "buffer": jpeg(3)})
    photo = page.get_by_role("application")
    photo.wait_for()
    for across, down in ((0.2, 0.2), (0.8, 0.2), (0.8, 0.8), (0.2, 0.8)):
        tap(page, photo, across, down)
    points = photo.locator(".photo-point")
    expect(points).to_have_count(4)
    tap(page, photo, 0.2, 0.2)
    expect(points.first).to_have_attribute("aria-pressed", "true")
    before = str(points.first.get_attribute("transform"))
    tap(page, photo, 0.35, 0.35)
    expect(points.first).not_to_have_attribute("transform", before)
    moved = str(points.first.get_attribute("transform"))
    points.first.press("ArrowRight")
    expect(points.first).not_to_have_attribute("transform", moved)
