"""The system closes the page, most likely while the camera is open: what was entered is there again, in its place."""

import re

import pytest
from playwright.sync_api import expect

from tests.e2e import walk
from tests.e2e.pictures import jpeg
from tests.e2e.walk import Mark, Side

pytestmark = pytest.mark.e2e


@pytest.fixture
def phone(own_server, new_device):
    """The keeper's phone, on a site with one wall and nothing marked on it."""
    device = new_device()
    walk.enrol(device, own_server.first_link(), "Ada")
    walk.found_site(device, own_server, defects=0)
    return device


def test_killed_while_the_camera_is_open_the_mark_comes_back(phone, own_server):
    page = phone.page
    walk.open_wall(page, "South")
    walk.begin_mark(page)
    walk.enter_mark(page, Mark("Spalling", [(0.4, 0.5)], sizes=["a thumb"], signs=["edge is loose"]))
    walk.allow_place(page)
    walk.take_photo(page, jpeg(4))
    own_server.stop()
    with page.expect_file_chooser():
        page.get_by_role("button", name="Camera").click()

    page = phone.fresh_page()
    page.goto(own_server.address)
    expect(page.get_by_role("heading", name="Mark a defect")).to_be_visible()
    expect(page.get_by_role("alert").filter(has_text="closed Makegood while the camera was open")).to_be_visible()
    expect(walk.photos(page)).to_have_count(1)
    expect(walk.photos(page).first).to_have_attribute("alt", re.compile("place from the phone"))
    expect(page.get_by_role("radio", name=re.compile("^Spalling"))).to_be_checked()
    expect(page.get_by_role("button", name=re.compile("^a thumb"))).to_have_attribute("aria-pressed", "true")
    expect(page.get_by_role("checkbox", name="edge is loose")).to_be_checked()
    walk.take_photo(page, jpeg(5))
    walk.keep_mark(page)
    own_server.start()
    walk.expect_sent(page)
    walk.open_defect(page, "Spalling")
    expect(walk.photos(page)).to_have_count(2)


def test_killed_at_the_camera_of_a_finished_ticket_the_note_comes_back(phone, own_server):
    page = phone.page
    walk.open_wall(page, "South")
    walk.mark_defect(page, Mark("Spalling", [(0.4, 0.5)]))
    walk.open_defect(page, "Spalling")
    page.get_by_role("button", name="Open a ticket").click()
    page.get_by_role("button", name="Keep this ticket").click()
    page.get_by_role("button", name="It is done").click()
    page.get_by_role("textbox").fill("Two coats.")
    walk.allow_place(page)
    with page.expect_file_chooser():
        page.get_by_role("button", name="Camera").click()

    page = phone.fresh_page()
    page.goto(own_server.address)
    expect(page.get_by_role("heading", level=1, name="It is done")).to_be_visible()
    expect(page.get_by_role("textbox")).to_have_value("Two coats.")


def test_killed_in_the_middle_of_an_outline_the_corners_come_back(phone, own_server):
    page = phone.page
    walk.open_wall(page, "South")
    walk.begin_mark(page)
    walk.choose_shape(page, "Outline")
    walk.tap_wall(page, (0.35, 0.4), (0.6, 0.4), (0.6, 0.6))
    corners = page.get_by_role("button", name=re.compile("^Corner "))
    expect(corners).to_have_count(3)
    places = [corner.get_attribute("aria-label") for corner in corners.all()]

    page = walk.cold_start(phone, own_server)
    page.get_by_role("link", name=re.compile("Not named yet")).click()
    expect(page.get_by_role("radio", name="Outline", exact=True)).to_be_checked()
    corners = page.get_by_role("button", name=re.compile("^Corner "))
    expect(corners).to_have_count(3)
    assert [corner.get_attribute("aria-label") for corner in corners.all()] == places
    walk.tap_wall(page, (0.35, 0.6))
    walk.choose_kind(page, "Delamination")
    walk.keep_mark(page)
    expect(page.get_by_role("region", name="Chosen mark")).to_contain_text("m²")


def test_killed_in_a_form_what_was_typed_comes_back(phone, own_server):
    page = phone.page
    page.get_by_role("button", name="Add a building or wall").click()
    page.get_by_label("Name", exact=True).fill("Goat shed")
    page.get_by_role("radio", name="adobe", exact=True).check()
    page.get_by_label("Wall thickness").fill("400")

    page = walk.cold_start(phone, own_server)
    page.get_by_role("button", name="Add a building or wall").click()
    expect(page.get_by_label("Name", exact=True)).to_have_value("Goat shed")
    expect(page.get_by_role("radio", name="adobe", exact=True)).to_be_checked()
    expect(page.get_by_label("Wall thickness")).to_have_value("400")
    page.get_by_role("button", name="Keep and draw its sides").click()
    walk.draw_side(page, Side("North", "Flat", {"Width": "5", "Height": "2,4"}, faces="N"))
    walk.expect_sent(page)
