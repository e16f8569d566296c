"""The printed sheet of a hand-out: fetched as the keeper does, its code read back as a camera would, and opened."""

import re

import cv2
import numpy as np
import pypdfium2
import pytest
from playwright.sync_api import expect

from tests.e2e import walk
from tests.e2e.handing.hand_over import join_by_list, write_hand_out
from tests.make import make_id

pytestmark = pytest.mark.e2e

_FETCH = """async (url) => {
  const answer = await fetch(url);
  const bytes = [...new Uint8Array(await answer.arrayBuffer())];
  return {status: answer.status, kind: answer.headers.get("Content-Type"), bytes};
}"""


def codes_in(pdf: bytes) -> list[str]:
    """Return what the codes of a printed sheet say, page by page."""
    found = []
    for page in pypdfium2.PdfDocument(pdf):
        picture = np.array(page.render(scale=3).to_pil().convert("L"))
        link, _, _ = cv2.QRCodeDetector().detectAndDecode(picture)
        found += [link] if link else []
    return found


def test_code_on_the_printed_sheet_opens_its_ticket_on_the_helpers_phone(own_server, new_device):
    keeper, helper = new_device(), new_device()
    walk.enrol(keeper, own_server.first_link(), "Ada")
    grounds = walk.found_site(keeper, own_server, tickets=2, method="dry_and_brush")
    listed = grounds.tickets[1]
    write_hand_out(keeper, own_server, grounds, [listed])
    print_it = keeper.page.get_by_role("link", name="Print the sheet")
    answer = keeper.page.evaluate(_FETCH, print_it.get_attribute("href"))
    assert (answer["status"], answer["kind"]) == (200, "application/pdf")
    [link] = codes_in(bytes(answer["bytes"]))
    assert link == f"{own_server.address}/ticket/{listed}"

    join_by_list(keeper, helper)
    own_server.stop()
    page = helper.fresh_page()
    page.goto(link)
    expect(page.get_by_role("heading", level=1)).to_contain_text(re.compile("^Ticket 2"))
    expect(page.get_by_role("button", name="I'll take it")).to_be_visible()


def test_code_of_another_site_brings_that_site_to_the_screen_or_says_whom_to_ask(own_server, new_device):
    keeper = new_device()
    walk.enrol(keeper, own_server.first_link(), "Ada")
    first = walk.found_site(keeper, own_server, tickets=2, method="dry_and_brush")
    second = walk.found_site(keeper, own_server, tickets=1, method="dry_and_brush")
    page = keeper.page
    chooser = page.locator(".site-chooser select")
    expect(chooser).to_be_visible(timeout=walk.ONCE_ONLINE_MS)
    on_screen = chooser.input_value()
    grounds = second if on_screen == first.site else first
    assert {on_screen, grounds.site} == {first.site, second.site}
    own_server.stop()
    page.goto(f"{own_server.address}/ticket/{grounds.tickets[-1]}")
    expect(page.get_by_role("heading", level=1)).to_contain_text(re.compile("^Ticket"))
    expect(page.get_by_text("This ticket belongs to another of your sites.")).to_be_visible()
    walk.to_place(page, "Walls")
    expect(chooser).to_have_value(grounds.site)
    page.goto(f"{own_server.address}/ticket/{make_id()}")
    expect(page.get_by_text("No site on this device holds this ticket.")).to_be_visible()
    expect(page.get_by_text("ask the keeper who gave you the paper")).to_be_visible()
