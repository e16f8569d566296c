"""A photo with a sheet of paper in it gives the true size of the damage: outlined by colour, kept with the mark, sent."""

import re

import pytest
from playwright.sync_api import expect

from tests.e2e import walk
from tests.e2e.photo import measured_wall
from tests.e2e.photo.on_screen import choose, go_on, press_photo
from tests.e2e.stops import rows_here

pytestmark = pytest.mark.e2e


def test_outline_on_a_photo_becomes_the_mark(own_server, new_device):
    device = new_device()
    page = device.page
    walk.enrol(device, own_server.first_link(), "Ada")
    walk.found_site(device, own_server)
    walk.open_wall(page, "South")
    walk.begin_mark(page)
    page.get_by_role("button", name="Outline it on a photo").click()
    choose(page, measured_wall.small_jpeg())
    expect(page.get_by_text("too few pixels")).to_be_visible()
    device.context.set_offline(True)
    choose(page, measured_wall.jpeg())
    corners = measured_wall.on_photo(measured_wall.SHEET_MM)
    expect(page.get_by_text("4 more")).to_be_visible()
    press_photo(page, [corners[k] for k in (2, 0, 1, 3)])
    page.get_by_role("button", name="Set each corner exactly").click()
    for nth, corner in enumerate(corners, start=2):
        press_photo(page, [corner])
        page.get_by_role("button", name=f"On to corner {nth}" if nth < 5 else "Show the whole photo").click()
    expect(page.get_by_text("All four are set")).to_be_visible()
    page.reload()
    expect(page.get_by_text("All four are set")).to_be_visible()
    go_on(page)
    press_photo(page, measured_wall.on_photo([measured_wall.IN_LOSS_MM]))
    expect(page.get_by_text("Is this it?")).to_be_visible()
    go_on(page)
    walk.tap_wall(page, (0.5, 0.5))
    said = page.locator(".measured-range").inner_text()
    low, high = (float(one) for one in re.findall(r"[\d.]+(?=\sm²)", said))
    assert low < measured_wall.area_m2(measured_wall.LOSS_MM) < high
    assert high < 1.5 * low
    page.get_by_role("button", name="Take this outline").click()
    walk.choose_kind(page, "Spalling")
    walk.keep_mark(page)
    device.context.set_offline(False)
    walk.send_now(page)
    walk.expect_sent(page)
    rows = rows_here(page)
    reading = max((row for row in rows if row["type"] == "reading"), key=lambda row: row["at"])
    defect = next(row for row in rows if row["id"] == reading["defect_id"])
    assert defect["mark"]["shape"] == "outline"
    assert low <= reading["area_m2"] <= high
    assert "Outlined on a photo" in defect["note"]
    assert [row for row in rows if row["type"] == "photo" and row["of_id"] == defect["id"]]
