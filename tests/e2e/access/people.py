"""People coming in, in whichever language their device speaks, and a small site for them."""

from dataclasses import dataclass

from playwright.sync_api import Page

from tests.e2e import walk
from tests.e2e.conftest import Device
from tests.make import make_id, make_op


def enter(device: Device, link: str, person: str) -> None:
    """Come in by a link, past the words of one language."""
    page = device.page
    page.goto(link)
    page.locator("form input").first.fill(person)
    page.locator("form button[type=submit]").click()
    page.locator("nav.places").wait_for()
    walk.ready_without_signal(page)


def sync(page: Page) -> None:
    """Send and take in at once."""
    with page.expect_response(lambda answer: "/api/sync/pull" in answer.url and answer.ok):
        page.evaluate("() => dispatchEvent(new Event('online'))")


@dataclass(frozen=True)
class Grounds:
    """Ids of a small site, and the rev after which it stood."""

    site: str
    elevation: str
    defect: str
    ticket: str
    handout: str
    rev: int


def write_grounds(keeper: Device, site: str, language: str) -> Grounds:
    """Put one wall, defect, ticket and hand-out on a site that holds nothing."""
    structure, elevation, defect, ticket, handout = (make_id() for _ in range(5))
    ops = [
        make_op("structure", site, structure),
        make_op("elevation", site, elevation, set={"structure_id": structure}),
        make_op("defect", site, defect, set={"elevation_id": elevation, "kind": "spalling"}),
        make_op("reading", site, set={"defect_id": defect, "area_m2": 0.5, "depth_max_mm": 25, "state": "new"}),
        make_op("ticket", site, ticket, set={"defect_ids": [defect], "method": "patch_two_coats"}),
        make_op("handout", site, handout, set={"person": "Ben", "ticket_ids": [ticket], "language": language}),
    ]
    results = walk.push(keeper, ops)
    assert {one["st"] for one in results} == {"applied"}
    return Grounds(site, elevation, defect, ticket, handout, results[-1]["rev"])
