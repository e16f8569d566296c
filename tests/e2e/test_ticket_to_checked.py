"""A ticket from open to checked on two phones, with the photo afterwards; and steps and choices that do not fit."""

import re

import pytest
from playwright.sync_api import Page, expect

from tests.e2e import walk
from tests.e2e.pictures import jpeg

pytestmark = pytest.mark.e2e

TICKET = re.compile("Ticket 1")
PARKED = "The ticket is in another state by now"


@pytest.fixture
def keeper(own_server, new_device):
    """The keeper's phone, on a site with one defect and one open ticket."""
    device = new_device()
    walk.enrol(device, own_server.first_link(), "Ada")
    walk.found_site(device, own_server, tickets=1, method="dry_and_brush")
    return device


@pytest.fixture
def helper(own_server, new_device, keeper):
    """A helper's phone with everything on it."""
    device = new_device()
    walk.join_as(keeper, device, own_server, "helper", "Cleo")
    walk.open_ticket(device.page, TICKET)
    return device


def _take(page: Page) -> None:
    page.get_by_role("button", name="I'll take it").click()
    expect(page.get_by_role("button", name="I'll take it")).to_have_count(0)


def _do_with_photo(page: Page) -> None:
    page.get_by_role("button", name="It is done").click()
    expect(page.get_by_role("button", name="Keep without a photo")).to_be_visible()
    walk.allow_place(page)
    walk.take_photo(page, jpeg(3))
    page.get_by_role("textbox").last.fill("Two coats, kept damp.")
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.get_by_role("region", name="So far")).to_contain_text("Two coats, kept damp.")


def _second_look(page: Page, photo: bytes, note: str = "") -> None:
    """Look at finished work and find every point right, with a photo; close the ticket."""
    page.get_by_role("button", name="I checked it: sound").click()
    keep = page.get_by_role("button", name="Keep", exact=True)
    expect(keep).to_be_disabled()
    for point in page.get_by_role("radio", name="right", exact=True).all():
        point.check()
    walk.allow_place(page)
    walk.take_photo(page, photo)
    page.get_by_role("textbox").fill(note)
    keep.click()
    expect(page.get_by_role("region", name="So far")).to_contain_text(note)


def _photos_of_steps(page: Page, n: int) -> None:
    """The photos of the steps are shown with them, as pictures that have come whole."""
    photos = walk.photos(page.get_by_role("region", name="So far"))
    expect(photos).to_have_count(n)
    walk.expect_drawn(photos.first)


def test_taken_done_checked_and_opened_again_on_two_phones(keeper, helper):
    _take(helper.page)
    _do_with_photo(helper.page)
    walk.expect_sent(helper.page)
    expect(helper.page.get_by_role("button", name="I checked it: sound")).to_have_count(0)

    page = keeper.page
    walk.send_now(page)
    walk.open_ticket(page, TICKET)
    _photos_of_steps(page, 1)
    _second_look(page, jpeg(4), "Firm at the edges.")
    walk.step(page, "Open it again", "A corner came loose.")
    walk.expect_sent(page)
    told = ["Opened", "Taken", "Done", "Checked and sound", "Opened again"]
    assert walk.history(page) == told

    walk.send_now(helper.page)
    walk.open_ticket(helper.page, TICKET)
    expect(helper.page.get_by_role("region", name="So far")).to_contain_text("A corner came loose.")
    assert walk.history(helper.page) == told
    _photos_of_steps(helper.page, 2)
    expect(helper.page.get_by_role("button", name="I'll take it")).to_be_visible()


def _both_take_it(own_server, keeper, helper):
    """Both take the ticket without signal; the keeper's phone sends first."""
    walk.open_ticket(keeper.page, TICKET)
    own_server.stop()
    _take(keeper.page)
    _take(helper.page)
    helper.fresh_page()
    own_server.start()
    walk.expect_sent(keeper.page)
    walk.cold_start(helper, own_server)
    expect(walk.badge(helper.page)).to_contain_text("1 needs you")
    walk.to_phone_page(helper.page)
    expect(helper.page.get_by_role("region", name="Not taken by the server")).to_contain_text(PARKED)


def test_a_step_that_no_longer_fits_waits_and_can_be_sent_again(own_server, keeper, helper):
    _both_take_it(own_server, keeper, helper)
    walk.cold_start(helper, own_server)
    walk.step(keeper.page, "Open it again", "Cleo may have it.")
    walk.expect_sent(keeper.page)

    page = helper.page
    walk.to_phone_page(page)
    page.get_by_role("button", name=re.compile("^Send again")).click()
    walk.expect_sent(page)
    for device in (helper, keeper):
        walk.send_now(device.page)
        walk.open_ticket(device.page, TICKET)
        expect(device.page.get_by_role("button", name="I'll take it")).to_have_count(0)
        assert walk.history(device.page) == ["Opened", "Taken", "Opened again", "Taken"]


def test_a_step_that_no_longer_fits_can_be_thrown_away(own_server, keeper, helper):
    _both_take_it(own_server, keeper, helper)
    page = helper.page
    page.get_by_role("button", name=re.compile("^Throw the change away")).click()
    expect(page.get_by_role("region", name="Not taken by the server")).to_have_count(0)
    walk.expect_sent(page)
    walk.open_ticket(page, TICKET)
    assert walk.history(page) == ["Opened", "Taken"]
    expect(page.get_by_role("region", name="So far")).to_contain_text("Ada")


def test_method_and_urgency_are_changed_with_their_reasons_in_sight(keeper, helper):
    page = keeper.page
    walk.open_ticket(page, TICKET)
    page.get_by_role("button", name="Change this ticket").click()
    before = page.get_by_role("region", name="What it takes").inner_text()
    expect(page.get_by_text(re.compile("From what was recorded of mark 1"))).to_be_visible()
    page.get_by_label("Method", exact=True).select_option("Patch in earth, through all coats")
    page.get_by_role("radio", name=re.compile("^Make safe now")).check()
    expect(page.get_by_role("region", name="What it takes")).not_to_have_text(before, use_inner_text=True)
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.get_by_text(re.compile("Set by hand. What was seen suggests:"))).to_be_visible()
    walk.expect_sent(page)

    walk.send_now(helper.page)
    walk.open_ticket(helper.page, TICKET)
    helper.page.get_by_text("Materials, and how they were reckoned").click()
    expect(helper.page.get_by_role("region", name="Patch in earth, through all coats")).to_be_visible()
    expect(helper.page.get_by_text(re.compile("Set by hand. What was seen suggests:"))).to_be_visible()
