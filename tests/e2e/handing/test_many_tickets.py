"""More tickets than a slow phone can draw at once: the list says how many more there are and shows them when asked."""

import re

import pytest
from playwright.sync_api import expect

from tests.e2e import walk

pytestmark = pytest.mark.e2e

ROWS_AT_ONCE = 50


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
