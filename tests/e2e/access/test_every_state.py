"""Screens in the states that matter most when something is missing, refused or forbidden: looked at like every other screen."""

from dataclasses import dataclass, field

import pytest
from playwright.sync_api import expect

from tests.e2e import walk
from tests.e2e.access.looking import LOCALES, look
from tests.e2e.access.people import Grounds, enter, sync, write_grounds
from tests.e2e.conftest import Device, Server
from tests.e2e.stops import settle
from tests.make import make_edit, make_id, make_op

pytestmark = pytest.mark.e2e

# To be quick: every state on a phone in both languages, on a desk in one, on a tablet in the one with the longer words.
SIZES = {"en": ("phone", "desktop"), "es": ("phone", "tablet")}
_FULL = """() => {
  const put = IDBObjectStore.prototype.put;
  IDBObjectStore.prototype.put = function (...given) {
    if (this.name === "draft") throw new DOMException("full", "QuotaExceededError");
    return put.apply(this, given);
  };
}"""


@dataclass
class Looker:
    """Goes round in one language and gathers what is wrong."""

    server: Server
    language: str
    wrong: list[str] = field(default_factory=list)

    def see(self, device: Device, name: str, path: str | None = None) -> None:
        """Look at the screen of a path, or at the screen as it stands."""
        if path:
            device.page.goto(self.server.address + path)
        settle(device.page)
        self.wrong += look(device, name, self.language, SIZES[self.language])


def without_site(looker: Looker, keeper: Device) -> None:
    """Before anything was entered, and with a site that holds nothing yet."""
    link = looker.server.first_link()
    keeper.page.goto(link)
    keeper.page.locator("form button[type=submit]").click()
    keeper.page.locator("[aria-invalid]").wait_for()
    looker.see(keeper, "join-wrong")
    enter(keeper, link, "Ada")
    looker.see(keeper, "none-walls", "/walls")


EMPTY = {
    "none-in-site": "/walls", "none-tickets": "/tickets", "none-board": "/board", "none-buying": "/buying",
    "none-storms": "/storms", "none-lasted": "/lasted", "none-season": "/season",
}


def found(keeper: Device, looker: Looker) -> Grounds:
    """Make a site, look at its empty places, then put a little there."""
    site = make_id()
    walk.push(keeper, [make_op("site", site)])
    for name, path in EMPTY.items():
        looker.see(keeper, name, path)
    return write_grounds(keeper, site, looker.language)


def as_reader(looker: Looker, reader: Device, here: Grounds) -> None:
    """What who may only read sees, and is told where they may not go."""
    looker.see(reader, "reader-elevation", f"/elevation/{here.elevation}")
    looker.see(reader, "reader-defect", f"/defect/{here.defect}")
    looker.see(reader, "reader-ticket", f"/ticket/{here.ticket}")
    looker.see(reader, "reader-structure-new", "/structure/new")


def as_helper(looker: Looker, helper: Device, here: Grounds) -> None:
    """What who holds but one list sees."""
    looker.see(helper, "helper-list")
    looker.see(helper, "helper-ticket", f"/ticket/{here.ticket}")
    looker.see(helper, "helper-handout", f"/handout/{here.handout}")
    looker.see(helper, "helper-walls", "/walls")


def refused_and_doubled(looker: Looker, keeper: Device, helper: Device, here: Grounds) -> None:
    """Without signal the keeper takes a ticket which the helper has taken; and one wall has two names."""
    page = keeper.page
    # It must be on this phone before the signal goes.
    page.goto(f"{looker.server.address}/ticket/{here.ticket}")
    page.locator(".standing").wait_for()
    page.context.route("**/api/sync/*", lambda route: route.abort())
    # Taking asks nothing: its address leads back to the ticket, where it is one tap.
    page.goto(f"{looker.server.address}/ticket/{here.ticket}?step=taken")
    page.wait_for_url(f"**/ticket/{here.ticket}")
    page.locator(".standing").wait_for()
    page.locator(".page-actions .btn-primary").click()
    page.locator(".badge-wait").wait_for()
    looker.see(keeper, "unsent-ticket")
    looker.see(keeper, "unsent-phone", "/phone")
    assert walk.push(helper, [make_op("step", here.site, set={"ticket_id": here.ticket, "kind": "taken"})])[0]["st"] == "applied"
    page.context.unroute("**/api/sync/*")
    sync(page)
    page.locator(".badge-warn").wait_for()
    looker.see(keeper, "refused-phone")
    looker.see(keeper, "refused-ticket", f"/ticket/{here.ticket}")


def two_answers(looker: Looker, keeper: Device, other: Device, here: Grounds) -> None:
    """Two people named the defect without knowing of each other."""
    edits = [(other, "crazing"), (keeper, "washout")]
    said = [walk.push(who, [make_edit("defect", here.site, here.defect, here.rev, kind=kind)])[0]["st"] for who, kind in edits]
    assert said == ["applied", "clash"]
    sync(keeper.page)
    looker.see(keeper, "clash-phone", "/phone")
    looker.see(keeper, "clash-defect", f"/defect/{here.defect}")
    answers = keeper.page.locator(".clash-answer .btn")
    answers.last.click()
    keeper.page.locator(".undo-bar .btn").first.wait_for()
    expect(answers).to_have_count(0)
    looker.see(keeper, "undo-bar")
    keeper.page.locator(".undo-bar .btn").first.click()
    expect(answers).to_have_count(2)


def asked(looker: Looker, keeper: Device) -> None:
    """A question stands over the screen: whether to leave for good."""
    page = keeper.page
    page.goto(f"{looker.server.address}/phone")
    page.locator("main .btn-warning").last.click()
    page.get_by_role("dialog").wait_for()
    looker.see(keeper, "ask-leave")


def cleared(looker: Looker, device: Device) -> None:
    """The system took away what this phone kept; who it belongs to is still known."""
    page = device.page
    tools = page.context.new_cdp_session(page)
    tools.send("Storage.clearDataForOrigin", {"origin": looker.server.address, "storageTypes": "indexeddb"})
    page.goto(looker.server.address)
    page.locator(".bar[role=alert]").wait_for()
    looker.see(device, "cleared")


def without_room(looker: Looker, keeper: Device, here: Grounds) -> None:
    """The phone can store nothing more."""
    page = keeper.page
    page.goto(f"{looker.server.address}/defect/{here.defect}")
    settle(page)
    page.evaluate(_FULL)
    page.locator("textarea").last.fill("Soft below.")
    page.locator("[role=alert] h1").wait_for()
    looker.see(keeper, "no-room")


@pytest.mark.parametrize("language", LOCALES)
def test_every_state(own_server, new_device, language):
    keeper, reader, helper, surveyor = (new_device(locale=LOCALES[language]) for _ in range(4))
    looker = Looker(own_server, language)
    without_site(looker, keeper)
    here = found(keeper, looker)
    enter(reader, walk.invite(keeper, own_server, "reader"), "Rita")
    enter(helper, walk.invite(keeper, own_server, "helper", here.handout), "Ben")
    enter(surveyor, walk.invite(keeper, own_server, "surveyor"), "Sol")
    as_reader(looker, reader, here)
    as_helper(looker, helper, here)
    refused_and_doubled(looker, keeper, helper, here)
    two_answers(looker, keeper, surveyor, here)
    asked(looker, keeper)
    cleared(looker, surveyor)
    without_room(looker, keeper, here)
    assert not looker.wrong, "\n".join(looker.wrong)
