"""The printed sheet of a hand-out: fetched as the keeper does, its code read back as a camera would, and opened."""

import re

import cv2
import numpy as np
import pypdfium2
import pytest
from playwright.sync_api import expect

from tests.e2e import walk
from tests.e2e.handing.hand_over import join_by_list, write_hand_out

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
