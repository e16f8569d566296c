"""From a plan to a finished ticket: the keeper deals out a work day, a helper joins by the link, works without signal."""

import re

import pytest
from playwright.sync_api import Page, expect

from tests.e2e import walk
from tests.e2e.conftest import Device
from tests.e2e.pictures import jpeg
from tests.make import make_id, make_op

pytestmark = pytest.mark.e2e

FORECAST = "date,low,high,rain\n{on},9,17,0\n{on},9,17,0\n2026-02-30,1,2,0\n"


@pytest.fixture
def keeper(own_server, new_device):
    """The keeper's phone, on a site with three tickets: two to plaster, one for an engineer, and one nobody hands out."""
    device = new_device()
    walk.enrol(device, own_server.first_link(), "Ada")
    grounds = walk.found_site(device, own_server, defects=2, tickets=2)
    bulge = make_id()
    pin = {"view": "seen", "shape": "pin", "points_m": [[2.5, 1.0]]}
    site = grounds.site
    refused = [
        one
        for one in walk.push(
            device,
            [
                make_op("defect", site, bulge, set={"elevation_id": grounds.elevation, "kind": "bulge", "mark": pin}),
                make_op("ticket", site, set={"defect_ids": [bulge], "method": "engineer_first"}),
                make_op("ticket", site, set={"defect_ids": grounds.defects[1:], "method": "limewash"}),
            ],
        )
        if one["st"] != "applied"
    ]
    assert not refused, refused
    walk.send_now(device.page)
    return device


def _plan(page: Page) -> None:
    """A day for Ada and Ben on the first three tickets, with a forecast of which one line is wrong."""
    walk.to_place(page, "Tickets")
    page.get_by_role("button", name="Work days").click()
    page.get_by_role("button", name="Plan a work day").click()
    page.get_by_role("button", name="Add a person").click()
    page.get_by_label("Name", exact=True).nth(1).fill("Ben")
    page.get_by_role("group", name="What Ada can do").get_by_role("checkbox", name="has plastered").check()
    page.get_by_role("group", name="What Ben can do").get_by_role("checkbox", name="has plastered").check()
    page.get_by_text("For which tickets?").click()
    page.get_by_role("checkbox", name=re.compile("^Ticket 4")).uncheck()
    page.get_by_text("Forecast", exact=True).click()
    on = page.get_by_label("Day", exact=True).input_value()
    page.get_by_label("Or paste a table").fill(FORECAST.format(on=on))
    page.get_by_role("button", name="Read the table").click()
    expect(page.get_by_text("1 day taken.")).to_be_visible()
    expect(page.get_by_text("Line 3: this date stood in an earlier line.")).to_be_visible()
    expect(page.get_by_text("Line 4: begin with a date as 2026-04-01.")).to_be_visible()


def _deal(page: Page) -> None:
    page.get_by_role("button", name="Make hand-outs").click()
    page.get_by_role("dialog").get_by_role("button", name="One for each person (2)").click()
    expect(page.get_by_role("region", name="Hand-outs").get_by_role("link")).to_have_count(2)


def _link_for(page: Page, person: str) -> str:
    page.get_by_role("region", name="Hand-outs").get_by_role("link", name=re.compile(f"^{person}")).click()
    expect(page.get_by_role("heading", level=1)).to_have_text(f"Hand-out: {person}")
    page.get_by_role("button", name="Make a link").click()
    expect(page.get_by_role("img", name="The link as a code for a camera")).to_be_visible(timeout=walk.ONCE_ONLINE_MS)
    return page.locator(".link-text").inner_text()


@pytest.fixture
def helper(own_server, new_device, keeper) -> Device:
    """A helper's phone that came in by the link of Ben's hand-out."""
    page = keeper.page
    _plan(page)
    board = page.locator("details", has=page.get_by_role("heading", name=re.compile(r"\d{4}$"))).first
    expect(board.get_by_role("link", name="Ticket 1").first).to_be_visible()
    left_out = page.get_by_role("region", name="Not in this plan")
    expect(left_out).to_contain_text("Ticket 3")
    expect(left_out).to_contain_text("An engineer must see it first")
    _deal(page)
    device = new_device()
    walk.enrol(device, _link_for(page, "Ben"), "Ben")
    return device


def test_a_helper_by_link_sees_only_the_list_and_works_without_signal(own_server, keeper, helper):
    page = helper.page
    expect(page.get_by_role("heading", level=1, name="My list")).to_be_visible()
    mine = page.get_by_role("region", name=re.compile("^Ben"))
    expect(mine.get_by_text("Do not touch: engineer first")).to_have_count(1)
    names = " ".join(mine.get_by_role("link").all_inner_texts())
    assert "Ticket 3" in names
    assert "Ticket 4" not in names
    [number] = set(re.findall(r"Ticket ([12])\b", names))
    walk.to_place(page, "Tickets")
    expect(page.get_by_role("link", name=re.compile(r"^Ticket \d"))).to_have_count(2)

    own_server.stop()
    page = walk.cold_start(helper, own_server)
    page.get_by_role("button", name=f"Next: Ticket {number}").click()
    page.get_by_role("button", name="I'll take it").click()
    expect(page.get_by_role("button", name="I'll take it")).to_have_count(0)
    page.get_by_role("button", name="It is done").click()
    walk.allow_place(page)
    walk.take_photo(page, jpeg(5))
    page.get_by_label(re.compile("[Nn]ote|say")).last.fill("Kept damp under sacking.")
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.get_by_role("region", name="So far")).to_contain_text("Kept damp under sacking.")
    walk.expect_waiting(page)
    page.get_by_role("button", name="My list").click()
    expect(page.get_by_text("1 of 1 done")).to_be_visible()
    expect(page.get_by_text("All done. Thank you.")).to_be_visible()

    own_server.start()
    walk.expect_sent(page)
    walk.send_now(keeper.page)
    walk.open_ticket(keeper.page, re.compile(f"Ticket {number}"))
    expect(keeper.page.get_by_role("region", name="So far")).to_contain_text("Kept damp under sacking.")
    assert walk.history(keeper.page) == ["Opened", "Taken", "Done"]


def test_a_ticket_from_another_list_says_so_and_an_ended_list_is_gone(own_server, keeper, helper):
    page = helper.page
    keeper.page.goto(f"{own_server.address}/tickets")
    keeper.page.get_by_role("link", name=re.compile("^Ticket 4")).click()
    expect(keeper.page.get_by_role("heading", level=1)).to_contain_text("Ticket 4")
    page.goto(keeper.page.url)
    expect(page.get_by_text("This ticket is not on your list")).to_be_visible()

    keeper.page.goto(f"{own_server.address}/workdays")
    keeper.page.get_by_role("link", name=re.compile("Ada, Ben")).click()
    keeper.page.get_by_role("region", name="Hand-outs").get_by_role("link", name=re.compile("^Ben")).click()
    keeper.page.get_by_role("button", name="End this hand-out").click()
    keeper.page.get_by_role("dialog").get_by_role("button", name="End this hand-out").click()
    expect(keeper.page.get_by_role("heading", name=re.compile("^Ended on"))).to_be_visible()
    walk.expect_sent(keeper.page)

    walk.to_phone_page(page)
    page.get_by_role("button", name="Send now").click()
    expect(page.get_by_text("The server answers.")).to_be_visible()
    page.goto(f"{own_server.address}/list")
    expect(page.get_by_text("Nothing is handed out to this device now.")).to_be_visible()


def test_the_order_and_the_name_of_a_list_are_the_keepers(own_server, keeper, helper):
    page = keeper.page
    first = page.get_by_role("region", name="In this order").get_by_role("link").first.inner_text()
    page.get_by_role("button", name="Move down: number 1").click()
    expect(page.get_by_role("region", name="In this order").get_by_role("link").nth(1)).to_contain_text(first.split("\n")[-1])
    page.get_by_role("button", name="Take off the list: number 1").click()
    expect(page.get_by_role("region", name="In this order").get_by_role("link")).to_have_count(1)
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_role("region", name="In this order").get_by_role("link")).to_have_count(2)
    page.get_by_label("Name", exact=True).fill("Ben and Cleo")
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Hand-out: Ben and Cleo")
    walk.expect_sent(page)
