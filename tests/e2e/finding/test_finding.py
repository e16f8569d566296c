"""Somebody finds a mark by two words, reads what another phone did since they last looked, and takes back what they deleted."""

import re

import pytest
from playwright.sync_api import Page, expect

from tests.e2e import walk
from tests.e2e.conftest import Device
from tests.make import make_id, make_op

pytestmark = pytest.mark.e2e

PIN = {"view": "seen", "shape": "pin", "points_m": [[2.0, 1.0]]}


@pytest.fixture
def ada(own_server, new_device):
    """The keeper's phone."""
    device = new_device()
    walk.enrol(device, own_server.first_link(), "Ada")
    return device


def _search(page: Page, words: str) -> None:
    page.get_by_role("banner").get_by_role("link", name="Search").click()
    expect(page.get_by_role("searchbox")).to_be_focused()
    page.keyboard.type(words)


def _undo_by_keyboard(page: Page) -> None:
    """From the heading, where the focus is after a move, the way back is a few steps."""
    expect(page.get_by_role("heading", level=1, name=re.compile("South"))).to_be_focused()
    undo = page.get_by_role("status").get_by_role("button", name=re.compile("^Undo"))
    expect(undo).to_be_visible()
    for _ in range(4):
        if undo.evaluate("(button) => button === document.activeElement"):
            break
        page.keyboard.press("Shift+Tab")
    expect(undo).to_be_focused()
    page.keyboard.press("Enter")
    expect(undo).to_have_count(0)


def _remove_defect(page: Page) -> None:
    page.get_by_role("button", name="Delete").click()
    page.get_by_role("dialog").get_by_role("button", name="Delete").click()
    expect(page.get_by_role("status").filter(has_text="Deleted: 2 · Structural crack")).to_be_visible()


def _mark_and_note(device: Device, grounds: walk.Grounds, defect: str) -> None:
    crack = {"elevation_id": grounds.elevation, "kind": "structural_crack", "mark": PIN}
    reading = {"defect_id": defect, "length_m": 1.2, "crack_width_mm": 6, "state": "new"}
    note = {"of_type": "elevation", "of_id": grounds.elevation, "text": "The foot is soft by the gutter."}
    kept = [("defect", defect, crack), ("reading", make_id(), reading), ("note", make_id(), note)]
    done = walk.push(device, [make_op(kind, grounds.site, key, set=fields) for kind, key, fields in kept])
    assert {one["st"] for one in done} == {"applied"}


def _find_and_come_back(page: Page) -> None:
    """Two beginnings of words find the mark; what matched is marked; the way back leads to what was found."""
    _search(page, "sou cracks")
    found = page.get_by_role("region", name="Damage").get_by_role("link")
    expect(found).to_have_count(1)
    expect(found.locator("mark").first).to_have_text("crack")
    expect(page.get_by_role("status").filter(has_text="1 found")).to_be_visible()
    found.click()
    expect(page.get_by_role("heading", level=1, name=re.compile("2 · Structural crack"))).to_be_visible()
    page.get_by_role("button", name="Back").click()
    expect(page.get_by_role("searchbox")).to_have_value("sou cracks")
    found.click()


def test_found_by_words_told_what_changed_and_taken_back_on_both_phones(own_server, new_device, ada):
    grounds = walk.found_site(ada, own_server)
    ben = new_device()
    walk.join_as(ada, ben, own_server, "surveyor", "Ben")
    ada.page.goto(own_server.address)
    expect(ada.page.get_by_role("link", name=re.compile("South, faces"))).to_be_visible()
    page, defect = ada.page, make_id()

    # Ben marks a crack and notes something; Ada's first screen counts it, and says by whom.
    _mark_and_note(ben, grounds, defect)
    page.get_by_role("link", name=re.compile("^2 changes since")).click()
    expect(page.get_by_role("heading", level=3)).to_have_text("Ben")
    expect(page.get_by_role("link", name=re.compile("^New defect: 2 · Structural crack"))).to_be_visible()
    page.get_by_role("button", name="I have seen this").click()
    expect(page.get_by_text("Nobody else has changed anything since then")).to_be_visible()

    _find_and_come_back(page)

    # Deleted and sent; undone by keyboard; Ben has it as before.
    with page.expect_response(lambda answer: "/api/sync/pull" in answer.url):
        _remove_defect(page)
    listed = walk.found_here(page, "Structural crack")
    expect(listed).to_have_count(0)
    _undo_by_keyboard(page)
    expect(listed).to_have_count(1)
    walk.expect_sent(page)
    ben.page.goto(f"{own_server.address}/defect/{defect}")
    expect(ben.page.get_by_role("heading", level=1, name=re.compile("2 · Structural crack"))).to_be_visible()

    # The bar is gone with the page; the list of what was deleted is not.
    page.goto(f"{own_server.address}/defect/{defect}")
    _remove_defect(page)
    page.goto(f"{own_server.address}/deleted")
    page.get_by_role("button", name=re.compile("^Bring back 2 · Structural crack")).click()
    expect(page.get_by_text("Nothing that this device had was deleted")).to_be_visible()
    _search(page, "gutter")
    expect(page.get_by_role("region", name="Notes").get_by_role("link")).to_contain_text("The foot is soft")
