"""From done to closed and back: whose look counts, what it lacks, the storm after it, and what was used."""

import re

import pytest
from playwright.sync_api import Page, expect

from tests.e2e import walk
from tests.e2e.pictures import jpeg
from tests.make import make_op

pytestmark = pytest.mark.e2e

TICKET = re.compile("Ticket 1")


@pytest.fixture
def keeper(own_server, new_device):
    """The keeper's phone."""
    device = new_device()
    walk.enrol(device, own_server.first_link(), "Ada")
    return device


def _step(kind: str, day: str, grounds, **fields) -> dict:
    told = {"ticket_id": grounds.tickets[0], "kind": kind, "at": f"{day}T09:00:00.000Z", **fields}
    return make_op("step", grounds.site, set=told)


def _pushed(device, *ops: dict) -> None:
    results = walk.push(device, list(ops))
    assert [one["st"] for one in results] == ["applied"] * len(ops), results
    walk.send_now(device.page)


def _lacks(page: Page):
    return page.locator(".card-caution", has_text="Before it can count as checked")


def test_own_work_is_closed_only_by_a_keeper_who_says_so_and_not_before_it_has_cured(own_server, keeper):
    grounds = walk.found_site(keeper, own_server, tickets=1)
    page = keeper.page
    walk.open_ticket(page, TICKET)
    walk.step(page, "It is done", "Two coats.")
    page.get_by_role("button", name="I checked it: sound").click()
    expect(page.get_by_text("You did this work yourself.")).to_be_visible()
    lacks = _lacks(page)
    expect(lacks).to_contain_text("somebody else than Ada")
    expect(lacks).to_contain_text(re.compile("wait until .*still cures"))
    expect(lacks).to_contain_text("take a photo")
    expect(lacks).to_contain_text("answer every point")
    page.get_by_role("checkbox", name=re.compile("check it myself")).check()
    expect(lacks).not_to_contain_text("somebody else")
    expect(page.get_by_role("button", name="Keep", exact=True)).to_be_disabled()
    assert grounds.tickets


def test_failed_look_after_a_storm_opens_the_ticket_again_and_tells_why(own_server, keeper):
    grounds = walk.found_site(keeper, own_server, tickets=1, method="limewash")
    steps = [_step("done", "2026-01-10", grounds), _step("checked", "2026-02-10", grounds, own_work=True)]
    storm = make_op("storm", grounds.site, set={"name": "Winter gale", "began_on": "2026-03-01", "rain_mm": 60})
    _pushed(keeper, *steps, storm)
    page = keeper.page
    page.goto(f"{own_server.address}/board")
    expect(page.get_by_role("region", name="To look at again")).to_contain_text("After the storm “Winter gale”")
    page.get_by_role("region", name="To look at again").get_by_role("link", name=TICKET).click()
    expect(page.get_by_role("region", name="Look again")).to_contain_text("Winter gale")
    page.get_by_role("button", name="Looked again: sound").click()
    page.get_by_role("radio", name="not right", exact=True).first.check()
    page.get_by_role("textbox").fill("Chalks off at the foot.")
    page.get_by_role("button", name="Open it again").click()
    told = page.get_by_role("region", name="So far")
    for words in ("After the storm “Winter gale”", "Colour even", "not right", "Chalks off at the foot."):
        expect(told).to_contain_text(words)
    assert walk.history(page)[-1] == "Opened again"
    page.goto(f"{own_server.address}/board")
    expect(page.get_by_role("region", name="To look at again")).to_contain_text("No checked repair")
    expect(page.get_by_role("region", name="Area")).to_contain_text("opened again at least once")


def test_amounts_used_stand_beside_those_planned(own_server, keeper):
    walk.found_site(keeper, own_server, tickets=1)
    page = keeper.page
    walk.open_ticket(page, TICKET)
    page.get_by_role("button", name="It is done").click()
    used = page.get_by_role("region", name="What was used")
    used.get_by_label("Batches mixed").fill("3")
    sand = used.get_by_label(re.compile("sand", re.IGNORECASE)).first
    expect(sand).to_be_visible()
    sand.fill("40")
    walk.allow_place(page)
    walk.take_photo(page, jpeg(5))
    page.reload()
    expect(used.get_by_label("Batches mixed")).to_have_value("3")
    page.get_by_role("button", name="Keep", exact=True).click()
    told = page.get_by_role("region", name="So far")
    expect(told).to_contain_text(re.compile(r"Used .* of .* planned \(\d+ ?%\)"))
    expect(told).to_contain_text("Batches mixed: 3")
