"""From the join link to the first ticket on one's own wall, without signal: few taps, one field, found again, put away."""

import re

import pytest
from playwright.sync_api import Page, expect

from tests.e2e import walk
from tests.e2e.stops import faults, settle
from tests.e2e.test_every_screen import violations

pytestmark = pytest.mark.e2e

MOST_TAPS = 13
NAME = "Ada"


def _sound(page: Page) -> None:
    settle(page)
    assert not [*faults(page), *violations(page)]


def _join(page: Page, link: str) -> None:
    page.goto(link)
    walk.count_touches(page)
    page.get_by_label("Your name").click()
    page.keyboard.type(NAME)
    page.get_by_role("button", name="Join").click()
    expect(page.get_by_role("navigation", name="Places")).to_be_visible()
    walk.ready_without_signal(page)


def _draw_one_wall(page: Page) -> None:
    page.get_by_role("button", name="Draw one wall").click()
    page.get_by_role("radio", name="cob", exact=True).check()
    page.get_by_role("radio", name="SW", exact=True).check()
    main = page.locator("main")
    assert main.evaluate("(main) => main.scrollHeight <= main.clientHeight + 1"), "the form is longer than the screen"
    page.get_by_role("button", name="Keep this wall").click()
    expect(page.get_by_role("status").filter(has_text="1 of 3 done")).to_be_visible()


def _mark_one_defect(page: Page) -> None:
    walk.begin_mark(page)
    walk.tap_wall(page, (0.4, 0.5))
    walk.choose_kind(page, "Spalling")
    walk.choose_size(page, "a thumb")
    walk.keep_mark(page)
    expect(page.get_by_role("status").filter(has_text="2 of 3 done")).to_be_visible()


def _get_one_ticket(page: Page) -> None:
    page.get_by_role("button", name="Get one ticket").click()
    page.get_by_role("button", name="Keep this ticket").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Ticket new 1")
    expect(page.get_by_role("heading", name="You have your first ticket")).to_be_visible()


def _helps_at_the_word(page: Page, address: str) -> None:
    page.goto(f"{address}/start")
    button = page.get_by_role("button", name="Help: which way it faces")
    button.focus()
    page.keyboard.press("Enter")
    words = page.get_by_text("with your back to the wall")
    expect(words).to_be_visible()
    expect(button).to_have_attribute("aria-expanded", "true")
    _sound(page)
    page.keyboard.press("Tab")
    page.keyboard.press("Shift+Tab")
    page.keyboard.press("Escape")
    expect(words).to_be_hidden()
    expect(button).to_be_focused()
    expect(button).to_have_attribute("aria-expanded", "false")


def test_first_ticket_on_ones_own_wall_without_signal(own_server, new_device):
    device = new_device()
    page = device.page
    _join(page, own_server.first_link())
    own_server.stop()
    expect(page.get_by_role("region", name="First steps")).to_contain_text("0 of 3 done")
    _sound(page)
    _draw_one_wall(page)
    _mark_one_defect(page)
    _get_one_ticket(page)
    spent = walk.touches(page)
    assert 10 <= spent["taps"] <= MOST_TAPS, spent
    assert spent["keys"] == len(NAME), spent

    page = walk.cold_start(device, own_server)
    expect(page.get_by_role("heading", name="Ada's site")).to_be_visible()
    expect(page.get_by_role("link", name=re.compile("Front, faces SW"))).to_be_visible()
    _sound(page)
    page.get_by_role("button", name="Put away").click()
    expect(page.get_by_role("heading", name="You have your first ticket")).to_be_hidden()
    page.get_by_role("button", name="Show the first steps").click()
    expect(page.get_by_role("heading", name="You have your first ticket")).to_be_visible()
    _helps_at_the_word(page, own_server.address)

    own_server.start()
    walk.send_now(page)
    walk.expect_sent(page)
