"""Handing out: the keeper's list for one person, and the phone that comes in by its link."""

from collections.abc import Sequence

from playwright.sync_api import expect

from tests.e2e import walk
from tests.e2e.conftest import Device, Server
from tests.make import make_op


def write_hand_out(keeper: Device, server: Server, grounds: walk.Grounds, tickets: Sequence[str]) -> str:
    """Put these tickets on Ben's list, past the screens of the work day; open the hand-out and return its id."""
    listed = make_op("handout", grounds.site, set={"person": "Ben", "ticket_ids": list(tickets), "language": "en"})
    assert [one["st"] for one in walk.push(keeper, [listed])] == ["applied"]
    walk.send_now(keeper.page)
    keeper.page.goto(f"{server.address}/handout/{listed['id']}")
    expect(keeper.page.get_by_role("heading", level=1)).to_have_text("Hand-out: Ben")
    return str(listed["id"])


def join_by_list(keeper: Device, helper: Device) -> None:
    """On the keeper's page of the hand-out, make a link; Ben comes in by it."""
    keeper.page.get_by_role("button", name="Make a link").click()
    link = keeper.page.locator(".link-text")
    expect(link).to_be_visible(timeout=walk.ONCE_ONLINE_MS)
    walk.enrol(helper, link.inner_text(), "Ben")
    expect(helper.page.get_by_role("heading", level=1, name="My list")).to_be_visible()
