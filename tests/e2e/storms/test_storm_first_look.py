"""A storm logged with the server stopped, its walking list followed side by side; and a station's file made into storms."""

import re

import pytest
from playwright.sync_api import Page, expect

from tests.e2e import walk
from tests.make import make_id, make_op

pytestmark = pytest.mark.e2e

FLAT = {"kind": "flat", "width_m": 6, "height_m": 3, "batter_deg": 0}


def _three_sides(device, grounds) -> None:
    """Beside the south wall with its defect: a bare north wall with a gutter, and a west wall; south and west have a finish."""
    north, west = make_id(), make_id()
    gutter = {"kind": "gutter", "x_m": 0, "y_m": 2.8, "width_m": 6, "height_m": 0.1, "head": "flat"}
    coats = [{"mix": "lime_base_coat", "thickness_mm": 12}]
    side = {"structure_id": grounds.structure, "surface": FLAT}
    ops = [
        make_op("elevation", grounds.site, north, set={**side, "name": "North", "bearing_deg": 0, "openings": [gutter]}),
        make_op("elevation", grounds.site, west, set={**side, "name": "West", "bearing_deg": 270}),
    ]
    for one in (west, grounds.elevation):
        ops.append(make_op("finish", grounds.site, set={"elevation_id": one, "name": "Lime", "coats": coats}))
    refused = [one for one in walk.push(device, ops) if one["st"] != "applied"]
    assert not refused, refused


def _log_storm(page: Page) -> None:
    """By eye it is four taps; then the two figures that the sums need."""
    walk.to_place(page, "Storms")
    walk.count_touches(page)
    page.get_by_role("button", name="Log a storm").click()
    page.get_by_role("radio", name="wind from W", exact=True).check()
    page.get_by_role("radio", name="heavy").check()
    page.get_by_role("button", name="Keep the storm").click()
    expect(page.get_by_role("heading", name="What is recorded")).to_be_visible()
    spent = walk.touches(page)
    assert spent["taps"] <= 4, spent
    assert spent["keys"] == 0
    page.get_by_role("button", name="Change").click()
    page.get_by_label("Rain in all").fill("40")
    page.get_by_label("Wind, mean").fill("12")
    page.get_by_role("button", name="Keep the storm").click()
    expect(page.get_by_role("heading", name="What is recorded")).to_be_visible()


def _order(page: Page) -> list[str]:
    page.locator(".first-row").first.wait_for()
    return page.locator(".first-row b").all_inner_texts()


def _doses(page: Page) -> list[float]:
    page.locator(".rain-sides tbody tr").first.wait_for()
    cells = page.locator(".rain-sides tbody td:last-child").all_inner_texts()
    return [float(cell.split(" ")[0]) for cell in cells]


def test_walking_list_is_followed_offline_and_reaches_others(own_server, new_device):
    keeper = new_device()
    walk.enrol(keeper, own_server.first_link(), "Ada")
    grounds = walk.found_site(keeper, own_server)
    _three_sides(keeper, grounds)
    walk.cold_start(keeper, own_server)
    expect(keeper.page.get_by_role("link", name=re.compile("^West"))).to_be_visible(timeout=walk.ONCE_ONLINE_MS)
    own_server.stop()

    page = walk.cold_start(keeper, own_server)
    _log_storm(page)
    page.get_by_role("link", name="The whole walking list").click()
    expect(page.get_by_role("heading", level=1, name="Look here first")).to_be_visible()
    # West took the rain; north is bare under a gutter; south has a known defect.
    names = [name.split(" · ")[1] for name in _order(page)]
    assert names == ["West", "North", "South"]
    expect(page.get_by_role("listitem", name=re.compile("North"))).to_contain_text("bare wall")
    expect(page.get_by_role("listitem", name=re.compile("North"))).to_contain_text("1 gutter that can spill")

    page.get_by_role("link", name="Rain on each side").click()
    doses = _doses(page)
    assert doses[0] > 50
    assert doses[1:] == [0.0, 0.0]
    expect(page.get_by_role("img", name=re.compile("walls facing W took most"))).to_be_visible()
    page.go_back()

    for side in ("West", "North"):
        page.get_by_role("listitem", name=re.compile(side)).get_by_role("checkbox").check()
    expect(page.get_by_role("status").filter(has_text="2 of 3 sides looked at")).to_be_visible()
    page.get_by_role("listitem", name=re.compile("South")).get_by_role("link").click()
    expect(page.get_by_role("heading", level=1, name=re.compile("South"))).to_be_visible()
    walk.expect_waiting(page)

    page = walk.cold_start(keeper, own_server)
    own_server.start()
    walk.send_now(page)
    walk.expect_sent(page)
    other = new_device()
    walk.join_as(keeper, other, own_server, "surveyor", "Ben")
    walk.to_place(other.page, "Storms")
    other.page.get_by_role("link", name=re.compile("^Storm of")).click()
    other.page.get_by_role("link", name="The whole walking list").click()
    expect(other.page.get_by_role("status").filter(has_text="2 of 3 sides looked at")).to_be_visible()
    expect(other.page.get_by_role("listitem", name=re.compile("West")).get_by_role("checkbox")).to_be_checked()


def test_hours_typed_offline_become_the_storms_figures(own_server, new_device):
    keeper = new_device()
    walk.enrol(keeper, own_server.first_link(), "Ada")
    walk.found_site(keeper, own_server, defects=0)
    own_server.stop()

    page = walk.cold_start(keeper, own_server)
    _log_storm(page)
    page.get_by_role("link", name="Hour by hour").click()
    page.get_by_role("textbox", name=re.compile("^Rain, hour from")).nth(0).fill("4,5")
    page.get_by_role("textbox", name=re.compile("^Wind, hour from")).nth(0).fill("1048")
    page.get_by_role("button", name="Keep the hours").click()
    expect(page.get_by_role("alert").filter(has_text="1 hour holds something")).to_be_visible()
    page.get_by_role("textbox", name=re.compile("^Wind, hour from")).nth(0).fill("14")
    page.get_by_role("combobox", name=re.compile("^Wind from, hour from")).nth(0).select_option("180")
    # The page is killed half way: what was typed is there again.
    page = walk.cold_start(keeper, own_server)
    walk.to_place(page, "Storms")
    page.get_by_role("link", name=re.compile("^Storm of")).click()
    page.get_by_role("link", name="Hour by hour").click()
    expect(page.get_by_role("textbox", name=re.compile("^Rain, hour from")).nth(0)).to_have_value("4,5")
    page.get_by_role("textbox", name=re.compile("^Rain, hour from")).nth(1).fill("1.5")
    page.get_by_role("textbox", name=re.compile("^Wind, hour from")).nth(1).fill("10")
    page.get_by_role("combobox", name=re.compile("^Wind from, hour from")).nth(1).select_option("180")
    page.get_by_role("button", name="Keep the hours").click()
    facts = page.get_by_role("region", name="What is recorded")
    expect(facts).to_contain_text("6 mm over 2 hours")
    expect(facts).to_contain_text(re.compile("In the wettest hour\\s*4.5\\smm"))
    expect(facts).to_contain_text("12 m/s from S")


def _station_table() -> str:
    rows = "".join(f"2026-03-01 {hour:02}:00,{8 + hour},{180 if hour else 360},{1 + hour / 10:.1f}\n" for hour in range(12))
    return f"time,wind_m_s,wind_from_deg,rain_mm\n{rows}2026-03-01 12:00,-3,180,2\n2026-03-01 03:00,9,180,1\n"


def test_station_table_becomes_a_storm(own_server, new_device):
    keeper = new_device()
    walk.enrol(keeper, own_server.first_link(), "Ada")
    walk.found_site(keeper, own_server, defects=0)
    page = keeper.page
    walk.to_place(page, "Storms")
    page.get_by_role("link", name="From a weather station's file").click()
    table = {"name": "garden.csv", "mimeType": "text/csv", "buffer": _station_table().encode()}
    page.locator("input[type=file]").set_input_files(table)
    troubles = page.get_by_role("region", name="What is wrong or doubtful")
    expect(troubles).to_contain_text("a speed cannot be below zero. Line 14.")
    expect(troubles).to_contain_text("these hours were given before. Line 15.")
    expect(page.get_by_role("region", name="Wet spells found")).to_have_count(0)
    troubles.get_by_role("button", name="Use the good rows").click()
    page.get_by_role("region", name="Wet spells found").get_by_role("checkbox").check()
    page.get_by_role("button", name="Keep 1 storm").click()
    page.get_by_role("link", name=re.compile("^Storm of 1 March")).click()
    expect(page.get_by_role("region", name="What is recorded")).to_contain_text("From: garden.csv")
    # The mapping is remembered on this phone, also over a new start.
    walk.expect_sent(page)
    page = walk.cold_start(keeper, own_server)
    walk.to_place(page, "Storms")
    page.get_by_role("link", name="From a weather station's file").click()
    page.locator("input[type=file]").set_input_files(table)
    page.get_by_label("Wind is in").select_option("km/h")
    expect(page.get_by_role("region", name="What is wrong or doubtful")).to_be_visible()
    page = walk.cold_start(keeper, own_server)
    walk.to_place(page, "Storms")
    page.get_by_role("link", name="From a weather station's file").click()
    page.locator("input[type=file]").set_input_files(table)
    expect(page.get_by_label("Wind is in")).to_have_value("km/h")
