"""Where the focus is: shown and never covered on a phone, back at its button after a question, near by after its row is gone."""

import re

import pytest
from playwright.sync_api import expect

from tests.e2e import walk
from tests.e2e.access.keys import round_trip
from tests.e2e.access.looking import look
from tests.e2e.stops import Rows, rows_here, settle

pytestmark = pytest.mark.e2e


@pytest.fixture
def device(demo_server, new_device):
    """A phone with a keyboard, on the demo."""
    opened = new_device()
    walk.enrol_in_demo(opened, demo_server)
    return opened


@pytest.fixture
def page(device):
    return device.page


def test_every_stop_of_the_tab_key_shows_and_none_is_a_trap(demo_server, page):
    known = Rows(rows_here(page))
    flat, tickets = known.side("flat"), known.tickets_by_last_step()
    paths = [
        f"/elevation/{flat}", f"/elevation/{flat}/edit", f"/mark/new?elevation={flat}&shape=outline&points=1,1;2,1;2,2",
        f"/ticket/{tickets['taken']}?step=done", "/storm/new", "/workday/new",
    ]
    wrong = []
    for path in paths:
        page.goto(demo_server.address + path)
        settle(page)
        wrong += [f"{path}: {one}" for one in round_trip(page)]
    assert not wrong, "\n".join(wrong)


def test_cancel_gives_the_focus_back_and_a_row_that_goes_leaves_it_near(demo_server, page):
    page.goto(f"{demo_server.address}/phone")
    settle(page)
    leave = page.locator("main").get_by_role("button", name=re.compile("^Leave"))
    leave.press("Enter")
    page.get_by_role("dialog").get_by_role("button", name="Cancel").press("Enter")
    expect(page.get_by_role("dialog")).to_have_count(0)
    expect(leave).to_be_focused()
    flat = Rows(rows_here(page)).side("flat")
    page.goto(f"{demo_server.address}/finish/new?elevation={flat}")
    settle(page)
    page.get_by_role("button", name="Add a coat").press("Enter")
    page.get_by_role("button", name=re.compile("^Remove coat 1")).press("Enter")
    expect(page.get_by_role("group", name=re.compile("^Coats"))).to_be_focused()
    page.keyboard.press("Tab")
    expect(page.get_by_role("button", name="Add a coat")).to_be_focused()


def test_a_photo_shown_large_is_looked_at_like_a_screen(demo_server, device, page):
    known = Rows(rows_here(page))
    shown = next(one["of_id"] for one in known.of("photo", of_type="defect"))
    page.goto(f"{demo_server.address}/defect/{shown}")
    settle(page)
    page.get_by_role("button", name=re.compile("^Photo of")).first.click()
    expect(page.get_by_role("dialog").get_by_role("img", name=re.compile("^Photo of"))).to_be_visible()
    assert not look(device, "photo-large", "en")


def test_a_button_that_cannot_be_pressed_keeps_the_focus_and_says_so(demo_server, page):
    page.goto(f"{demo_server.address}/elevation/{Rows(rows_here(page)).side('flat')}")
    settle(page)
    larger, smaller = (page.get_by_role("button", name=name) for name in ("Larger", "Smaller"))
    larger.press("Enter")
    smaller.press("Enter")
    expect(smaller).to_be_disabled()
    expect(smaller).to_be_focused()
    smaller.press("Enter")
    expect(smaller).to_be_focused()
