"""A job from hand-out to reopened, on three phones: the keeper's, a helper's by link, a reader's; and a helper sent away."""

import re
import zipfile
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect
from pypdf import PdfReader

from tests.e2e import walk
from tests.e2e.handing.hand_over import join_by_list, write_hand_out
from tests.e2e.pictures import jpeg
from tests.make import make_op

pytestmark = pytest.mark.e2e

CHECKED = ["Opened", "Taken", "Done", "Checked and sound"]


@pytest.fixture
def keeper(own_server, new_device):
    """The keeper's phone."""
    device = new_device()
    walk.enrol(device, own_server.first_link(), "Ada")
    return device


@pytest.fixture
def grounds(own_server, keeper):
    """A site with one ticket that needs no coat, so no days of curing, and a limewash."""
    found = walk.found_site(keeper, own_server, tickets=1, method="dry_and_brush")
    wash = make_op("ticket", found.site, set={"defect_ids": found.defects, "method": "limewash"})
    assert [one["st"] for one in walk.push(keeper, [wash])] == ["applied"]
    return walk.Grounds(found.site, found.structure, found.elevation, found.defects, [*found.tickets, wash["id"]])


@pytest.fixture
def helper(own_server, new_device, keeper, grounds):
    """Ben's phone, in by the link of a list with both tickets."""
    device = new_device()
    write_hand_out(keeper, own_server, grounds, grounds.tickets)
    join_by_list(keeper, device)
    return device


def _take(page: Page) -> None:
    page.get_by_role("button", name="I'll take it").click()
    expect(page.get_by_role("button", name="I'll take it")).to_have_count(0)


def _do(page: Page, photo: bytes, note: str, clay_kg: str | None = None) -> None:
    page.get_by_role("button", name="It is done").click()
    if clay_kg:
        used = page.get_by_role("region", name="What was used")
        used.get_by_label("Batches mixed").fill("2")
        used.get_by_label(re.compile("clay", re.IGNORECASE)).first.fill(clay_kg)
    if page.get_by_role("button", name="Camera").count() and not walk.photos(page).count():
        walk.take_photo(page, photo)
    page.get_by_role("textbox").last.fill(note)
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.get_by_role("region", name="So far")).to_contain_text(note)


def _work_without_signal(own_server, helper) -> None:
    """Take and do both tickets while no server answers."""
    own_server.stop()
    page = walk.cold_start(helper, own_server)
    walk.open_ticket(page, re.compile("^Ticket 1"))
    _take(page)
    page.get_by_role("button", name="It is done").click()
    walk.allow_place(page)
    page.get_by_role("button", name="Cancel").click()
    _do(page, jpeg(3), "Brushed dry, salts carried off.")
    walk.open_ticket(page, re.compile("^Ticket 2"))
    _do(page, jpeg(4), "Four thin coats.", clay_kg="2")
    walk.expect_waiting(page)


def _second_look(page: Page) -> None:
    page.get_by_role("button", name="I checked it: sound").click()
    expect(page.get_by_text("You did this work yourself.")).to_have_count(0)
    page.get_by_role("radio", name="right", exact=True).first.wait_for()
    for point in page.get_by_role("radio", name="right", exact=True).all():
        point.check()
    walk.allow_place(page)
    walk.take_photo(page, jpeg(6))
    page.get_by_role("textbox").fill("Dry and clean.")
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.get_by_role("region", name="So far")).to_contain_text("Dry and clean.")


def _storm(keeper, grounds) -> None:
    """Log a storm of the day after the look; the server takes days up to tomorrow."""
    tomorrow = (datetime.now(UTC) + timedelta(days=1)).date().isoformat()
    storm = make_op("storm", grounds.site, set={"name": "Hallow gale", "began_on": tomorrow, "rain_mm": 40})
    assert [one["st"] for one in walk.push(keeper, [storm])] == ["applied"]
    walk.send_now(keeper.page)


def _look_again_and_fail(own_server, page: Page) -> None:
    page.goto(f"{own_server.address}/board")
    again = page.get_by_role("region", name="To look at again")
    expect(again).to_contain_text("After the storm “Hallow gale”")
    again.get_by_role("link", name=re.compile("Ticket 1")).click()
    page.get_by_role("button", name="Looked again: sound").click()
    page.get_by_role("radio", name="not right", exact=True).first.check()
    page.get_by_role("textbox").fill("Salts are back at the foot.")
    page.get_by_role("button", name="Open it again").click()
    expect(page.get_by_role("region", name="So far")).to_contain_text("Salts are back at the foot.")


def test_from_the_list_to_reopened_on_three_phones(own_server, new_device, keeper, grounds, helper):
    _work_without_signal(own_server, helper)
    own_server.start()
    walk.expect_sent(helper.page)

    page = keeper.page
    walk.send_now(page)
    walk.open_ticket(page, re.compile("^Ticket 2"))
    told = page.get_by_role("region", name="So far")
    expect(told).to_contain_text("Batches mixed: 2")
    expect(told).to_contain_text(re.compile(r"Used .* of .* planned"))
    walk.open_ticket(page, re.compile("^Ticket 1"))
    _second_look(page)
    assert walk.history(page) == CHECKED
    walk.expect_sent(page)
    _storm(keeper, grounds)
    _look_again_and_fail(own_server, page)
    assert walk.history(page) == [*CHECKED, "Opened again"]
    walk.expect_sent(page)

    reader = new_device()
    walk.join_as(keeper, reader, own_server, "reader", "Rita")
    _reads_and_changes_nothing(reader, grounds)

    walk.send_now(helper.page)
    walk.open_ticket(helper.page, re.compile("^Ticket 1"))
    expect(helper.page.get_by_role("button", name="I'll take it")).to_be_visible()


def _reads_and_changes_nothing(reader, grounds) -> None:
    page = reader.page
    walk.open_ticket(page, re.compile("^Ticket 1"))
    assert walk.history(page) == [*CHECKED, "Opened again"]
    expect(page.get_by_role("region", name="So far")).to_contain_text("Salts are back at the foot.")
    walk.expect_drawn(walk.photos(page.get_by_role("region", name="So far")).first)
    for deed in ("I'll take it", "It is done", "Open it again", "Change this ticket"):
        expect(page.get_by_role("button", name=deed)).to_have_count(0)
    step = make_op("step", grounds.site, set={"ticket_id": grounds.tickets[0], "kind": "taken"})
    [refused] = walk.push(reader, [step])
    assert (refused["st"], refused["code"]) == ("rejected", "not_allowed")

    with page.expect_download() as coming:
        page.get_by_role("link", name="Repair record (PDF)").click()
    assert "Salts are back at the foot." in " ".join(_pages_of(coming.value.path()))
    walk.to_place(page, "Tickets")
    page.get_by_role("button", name="Papers").click()
    page.get_by_role("button", name="Make it: Survey report").click()
    fetch = page.get_by_role("link", name="Fetch", exact=True)
    expect(fetch).to_be_visible(timeout=walk.ONCE_ONLINE_MS)
    with page.expect_download() as coming:
        fetch.click()
    assert "tickets: 2 · photos: 3" in " ".join(_pages_of(coming.value.path()))


def _pages_of(pdf: Path) -> list[str]:
    return [" ".join(page.extract_text().split()) for page in PdfReader(pdf).pages]


def _take_out(keeper, person: str) -> None:
    page = keeper.page
    walk.to_phone_page(page)
    devices = page.get_by_role("region", name="Devices of this site")
    devices.get_by_role("button", name=re.compile(f"^Take out: {person}")).click()
    page.get_by_role("dialog").get_by_role("button", name="Take out").click()
    expect(devices.get_by_role("button", name=re.compile(f"^Take out: {person}"))).to_have_count(0)


def test_helper_sent_away_half_way_loses_the_rows_and_keeps_unsent_work_for_a_file(own_server, keeper, grounds, helper, tmp_path):
    _work_without_signal(own_server, helper)
    page = helper.fresh_page()  # no page of Ben's is open while the keeper takes him out
    page.close()
    own_server.start()
    walk.send_now(keeper.page)
    _take_out(keeper, "Ben")

    page = walk.cold_start(helper, own_server)
    expect(walk.badge(page)).to_contain_text("need", timeout=walk.ONCE_ONLINE_MS)
    walk.to_place(page, "Tickets")
    expect(page.get_by_role("link", name=re.compile(r"^Ticket \d"))).to_have_count(0)
    walk.to_phone_page(page)
    parked = page.get_by_role("region", name="Not taken by the server")
    expect(parked.get_by_role("button", name=re.compile("^Send again"))).to_have_count(5)
    page.get_by_role("button", name="Save for the keeper").click()
    with page.expect_download() as coming:
        page.get_by_role("link", name="Download the file").click()
    kept = tmp_path / "kept.zip"
    coming.value.save_as(kept)
    with zipfile.ZipFile(kept) as found:
        assert b"Brushed dry, salts carried off." in found.read("ops.json")
        assert sum(name.startswith("blobs/") for name in found.namelist()) == 2

    page = keeper.page
    page.get_by_label("Take in a file").set_input_files(kept)
    taken = page.get_by_text(re.compile(r"5 changes and 2 photos from Ben are on the server now\."))
    expect(taken).to_be_visible(timeout=walk.ONCE_ONLINE_MS)
    walk.open_ticket(page, re.compile("^Ticket 1"))
    expect(page.get_by_role("region", name="So far")).to_contain_text("Brushed dry, salts carried off.")
