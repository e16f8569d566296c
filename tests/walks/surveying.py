"""The surveyor on a ladder, one hand on the phone: three defects with photos, without signal, sent later."""

import re

from tests.e2e import stops, walk
from tests.e2e.conftest import Server
from tests.e2e.pictures import jpeg
from tests.make import make_id, make_op
from tests.walks.walker import Person, Walker

SURVEYOR = Person("surveyor", 390, 844)
FOUND = (("Spalling", 0.3, 0.4), ("Washout", 0.5, 0.5), ("Delamination", 0.7, 0.6))


def joins(surveyor: Walker, link: str) -> None:
    """Comes in by the keeper's link."""
    with surveyor.journey("join by link"):
        surveyor.goes_to(link)
        surveyor.writes(surveyor.page.get_by_label("Your name"), "Ben")
        surveyor.presses("Join")
        surveyor.sees(surveyor.page.get_by_role("link", name=re.compile("South, faces")))
        surveyor.page.evaluate("navigator.serviceWorker.ready.then(() => undefined)")


def starts(surveyor: Walker) -> None:
    """Begins a survey after the storm and goes to the side to look at first."""
    page = surveyor.page
    with surveyor.journey("start a survey"):
        surveyor.presses("Start a survey")
        surveyor.taps(page.get_by_role("dialog").get_by_role("button", name="Start", exact=True))
        surveyor.follows(re.compile("South"))


def marks(surveyor: Walker) -> None:
    """Marks three defects, each with its size and a photo."""
    page = surveyor.page
    with surveyor.journey("mark three defects with photos"):
        for n, (kind, across, down) in enumerate(FOUND):
            surveyor.presses("Mark a defect")
            surveyor.taps_wall(across, down)
            surveyor.picks(re.compile(f"^{kind}"))
            surveyor.presses(re.compile("^a tray"))
            surveyor.presses(re.compile("^a finger joint"))
            if n == 0:
                surveyor.taps(page.get_by_role("button", name="Camera"))
                surveyor.presses("With place")
            surveyor.takes_photo(page.get_by_role("button", name="Camera"), jpeg(n))
            surveyor.presses(re.compile("^Keep$"))
            surveyor.sees(page.get_by_role("region", name="Chosen mark"))


def sends(surveyor: Walker, server: Server) -> None:
    """Comes back where there is signal and makes sure that everything is sent."""
    page = surveyor.page
    with surveyor.journey("see that it is sent"):
        server.start()
        surveyor.taps_badge()
        surveyor.presses("Send now")
        surveyor.sees(page.get_by_text("Nothing waits"))


def plays_in_an_old_repair(surveyor: Walker) -> None:
    """Send past the screens what was done months ago, since no clock can be turned for a repair to cure: ticket 4."""
    rows = stops.Rows(stops.rows_here(surveyor.page))
    defect = rows.of("defect")[0]
    ticket, site = make_id(), rows.of("site")[0]["id"]
    ops = [
        make_op("ticket", site, ticket, set={"defect_ids": [defect["id"]], "method": "limewash"}),
        make_op("step", site, set={"ticket_id": ticket, "kind": "done", "at": "2026-03-02T09:00:00.000Z"}),
    ]
    results = walk.push(surveyor, ops)
    assert [one["st"] for one in results] == ["applied", "applied"], results
