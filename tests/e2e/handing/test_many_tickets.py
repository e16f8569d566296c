"""More tickets than a slow phone can draw at once: the list says how many more there are and shows them when asked."""

import re

import pytest
from playwright.sync_api import expect

from tests.e2e import walk
from tests.make import make_op

pytestmark = pytest.mark.e2e

ROWS_AT_ONCE = 50
SENT_AT_ONCE = 180


def test_long_list_is_drawn_in_parts_and_loses_none(own_server, new_device):
    keeper = new_device()
    walk.enrol(keeper, own_server.first_link(), "Ada")
    walk.found_site(keeper, own_server, tickets=ROWS_AT_ONCE + 3)
    page = keeper.page
    walk.to_place(page, "Tickets")
    rows = page.get_by_role("link", name=re.compile(r"^Ticket \d"))
    expect(rows).to_have_count(ROWS_AT_ONCE)
    page.get_by_role("button", name="Show 3 more tickets").click()
    expect(rows).to_have_count(ROWS_AT_ONCE + 3)
    expect(page.get_by_role("button", name=re.compile("^Show 3 more"))).to_have_count(0)


def test_wall_with_more_defects_than_one_task_takes_shows_them_all(own_server, new_device):
    keeper = new_device()
    walk.enrol(keeper, own_server.first_link(), "Ada")
    here = walk.found_site(keeper, own_server)
    for _ in range(3):
        ops = [make_op("defect", here.site, set={"elevation_id": here.elevation, "kind": "crazing"}) for _ in range(SENT_AT_ONCE)]
        assert {one["st"] for one in walk.push(keeper, ops)} == {"applied"}
    page = keeper.page
    walk.send_now(page)
    page = keeper.fresh_page()
    page.goto(own_server.address)
    expect(page.get_by_text(f"{3 * SENT_AT_ONCE + 1} defects not repaired").first).to_be_visible(timeout=walk.ONCE_ONLINE_MS)
    walk.open_wall(page, "South")
    expect(page.get_by_text(re.compile(f"{3 * SENT_AT_ONCE + 1}")).first).to_be_visible()
    expect(walk.found_here(page, "Spalling").first).to_be_visible()


def test_defects_of_one_side_get_a_ticket_each_in_one_go_and_it_can_be_taken_back(own_server, new_device):
    keeper = new_device()
    walk.enrol(keeper, own_server.first_link(), "Ada")
    walk.found_site(keeper, own_server, defects=3)
    page = keeper.page
    own_server.stop()
    walk.to_place(page, "Tickets")
    opened = page.get_by_role("link", name=re.compile(r"^Ticket new \d · Spalling"))
    _one_for_each(page)
    expect(opened).to_have_count(3)
    page.get_by_role("button", name="Undo. 3 tickets opened.").click()
    expect(opened).to_have_count(0)
    _one_for_each(page)
    expect(opened).to_have_count(3)
    opened.last.click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Ticket new")
    # A wall nobody gave a finish gets coats of earth: it is told as earth, with no word of lime.
    expect(page.get_by_role("region", name="Patch in earth, through all coats").first).to_be_visible()
    expect(page.get_by_role("region", name="Take care")).to_contain_text("Earth does not set")
    expect(page.get_by_text("Lime burns")).to_have_count(0)


def _one_for_each(page):
    page.get_by_role("button", name="Open a ticket").click()
    page.get_by_role("button", name="All on this side").click()
    expect(page.get_by_role("checkbox", checked=True)).to_have_count(3)
    page.get_by_role("button", name="One ticket for each").click()
