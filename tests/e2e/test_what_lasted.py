"""What lasted, with the server stopped: a panel is judged after a storm, the bars move, another phone sees the same."""

import csv
import re
from datetime import date, timedelta
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.e2e import walk
from tests.e2e.pictures import jpeg
from tests.make import make_id, make_op

pytestmark = pytest.mark.e2e

SQUARE = {"view": "seen", "shape": "outline", "points_m": [[1, 1], [2, 1], [2, 2], [1, 2]]}
COATS = [{"mix": "lime_base_coat", "thickness_mm": 10}, {"mix": "lime_coat", "thickness_mm": 6}]


def _ago(days: int) -> str:
    return (date.today() - timedelta(days=days)).isoformat()


def _panel_and_storms(device, grounds) -> str:
    """A panel of three months ago, seen sound after a first storm; a second storm came three days ago."""
    panel = make_id()
    wind = {"rain_mm": 30, "wind_m_s": 12, "wind_from_deg": 180, "duration_h": 10}
    laid = {"elevation_id": grounds.elevation, "name": "Panel one", "coats": COATS, "region": SQUARE, "made_on": _ago(90)}
    ops = [
        make_op("finish", grounds.site, panel, set={**laid, "sample_panel": True}),
        make_op("storm", grounds.site, set={"name": "First gale", "began_on": _ago(40), **wind}),
        make_op("score", grounds.site, set={"finish_id": panel, "at": f"{_ago(38)}T10:00:00Z", "verdict": "held"}),
        make_op("storm", grounds.site, set={"name": "Second gale", "began_on": _ago(3), **wind}),
    ]
    refused = [one for one in walk.push(device, ops) if one["st"] != "applied"]
    assert not refused, refused
    return panel


def _to_lasted(page: Page) -> None:
    walk.to_place(page, "Storms")
    page.get_by_role("link", name=re.compile("^What lasted")).click()
    expect(page.get_by_role("heading", level=1, name="What lasted")).to_be_visible()


def _bar(page: Page):
    return page.locator(".bars li").filter(has_text="Panel one")


def _ends_at(page: Page) -> float:
    """Where the full part of the panel's bar ends, as a share of the bar."""
    return float(_bar(page).locator("rect.bar-stood").get_attribute("width").rstrip("%"))


def _judge(page: Page, verdict: str) -> None:
    """A sheet by taps alone, from the list of panels that want a look."""
    walk.to_place(page, "Storms")
    due = page.get_by_role("region", name="A panel wants a look")
    expect(due).to_contain_text("Not looked at since Second gale")
    due.get_by_role("link").click()
    walk.count_touches(page)
    page.get_by_role("button", name="Keep this sheet").click()
    expect(page.get_by_text("Choose one of the three")).to_be_visible()
    page.get_by_role("radio", name=verdict).check()
    page.get_by_role("radiogroup", name="Widest crack").get_by_role("radio", name="0.5 mm").check()
    page.get_by_role("radiogroup", name="From crack to crack").get_by_role("radio", name="150 mm").check()
    page.get_by_role("radiogroup", name="Tap all over").get_by_role("radio", name="sounds solid").check()
    assert walk.touches(page)["keys"] == 0
    page.get_by_role("button", name="Keep this sheet").click()
    expect(page.get_by_role("region", name="What it has stood")).to_be_visible()


def _saved_table(page: Page, folder: Path) -> dict[str, str]:
    with page.expect_download() as coming:
        page.get_by_role("button", name="Save as a table").click()
    file = folder / coming.value.suggested_filename
    coming.value.save_as(file)
    (line,) = csv.DictReader(file.read_text(encoding="utf-8-sig").splitlines())
    return line


def test_a_score_kept_offline_moves_the_bars(own_server, new_device, tmp_path):
    keeper = new_device()
    walk.enrol(keeper, own_server.first_link(), "Ada")
    grounds = walk.found_site(keeper, own_server, defects=0)
    _panel_and_storms(keeper, grounds)
    page = walk.cold_start(keeper, own_server)
    _to_lasted(page)
    expect(_bar(page)).to_contain_text(re.compile(r"Held through \d+\sL/m² so far"))
    before, stood_before = _ends_at(page), float(_saved_table(page, tmp_path)["l_m2_sound"])
    own_server.stop()

    page = walk.cold_start(keeper, own_server)
    _judge(page, "worn, still covers")
    stood = page.get_by_role("region", name="What it has stood")
    expect(stood).to_contain_text(re.compile(r"Worn, still covers after \d+\sL/m²"))
    walk.allow_place(page)
    walk.take_photo(page, jpeg(3))
    page.get_by_role("button", name=re.compile("^Keep")).click()
    expect(page.get_by_role("region", name="Photos").get_by_role("img")).to_be_visible()
    walk.expect_waiting(page)
    _to_lasted(page)
    expect(_bar(page)).to_contain_text("Worn, still covers after")
    # The longest bar is the end of the scale: with two storms on it the panel fills what one storm filled before.
    assert _ends_at(page) == pytest.approx(before)
    stood = _saved_table(page, tmp_path)
    assert stood["verdict"] == "worn"
    assert stood["l_m2_let_go_by"] == ""
    assert float(stood["l_m2_sound"]) == pytest.approx(2 * stood_before, abs=0.02)

    own_server.start()
    walk.send_now(page)
    walk.expect_sent(page)
    other = new_device()
    walk.join_as(keeper, other, own_server, "surveyor", "Ben")
    _to_lasted(other.page)
    expect(_bar(other.page)).to_contain_text("Worn, still covers after")


def test_a_panel_that_let_go_is_hatched_between_two_looks(own_server, new_device, tmp_path):
    keeper = new_device()
    walk.enrol(keeper, own_server.first_link(), "Ada")
    grounds = walk.found_site(keeper, own_server, defects=0)
    _panel_and_storms(keeper, grounds)
    page = walk.cold_start(keeper, own_server)
    _to_lasted(page)
    expect(_bar(page)).to_contain_text("Held through")
    own_server.stop()

    page = walk.cold_start(keeper, own_server)
    _judge(page, "let go")
    _to_lasted(page)
    expect(_bar(page)).to_contain_text(re.compile(r"Let go between \d+\sL/m² and \d+\sL/m²"))
    expect(_bar(page).locator("rect.bar-between")).to_be_visible()
    page.get_by_role("radio", name="Days").check()
    expect(_bar(page)).to_contain_text("Let go between 52 days and 90 days")
    line = _saved_table(page, tmp_path)
    assert (line["verdict"], line["days_sound"], line["days_let_go_by"]) == ("let_go", "52", "90")
    assert float(line["l_m2_let_go_by"]) == pytest.approx(2 * float(line["l_m2_sound"]), abs=0.02)
    # Once judged it wants no further look, and as a failed trial it asks nothing of the season.
    walk.to_place(page, "Storms")
    expect(page.get_by_role("heading", level=1)).to_be_visible()
    expect(page.get_by_role("region", name="A panel wants a look")).to_have_count(0)


def test_a_tap_on_the_wall_tells_what_lies_there(own_server, new_device):
    keeper = new_device()
    walk.enrol(keeper, own_server.first_link(), "Ada")
    grounds = walk.found_site(keeper, own_server, defects=0)
    panel = _panel_and_storms(keeper, grounds)
    page = walk.cold_start(keeper, own_server)
    walk.open_wall(page, "South")
    page.get_by_role("link", name=re.compile("^What is on this wall here")).click()
    expect(page.get_by_text("Tap a spot on the drawing")).to_be_visible()
    walk.tap_wall(page, (0.8, 0.5))
    expect(page.get_by_text("0 finishes at this spot")).to_be_visible()
    walk.tap_wall(page, _middle_of_panel(page))
    expect(page.get_by_text("One finish at this spot.")).to_be_visible()
    page.get_by_role("link", name="Looks and photos").click()
    expect(page).to_have_url(re.compile(panel))
    expect(page.get_by_role("region", name="Looked at once")).to_contain_text("held")


def test_a_finished_repair_offers_to_note_what_now_covers_the_patch(own_server, new_device):
    keeper = new_device()
    walk.enrol(keeper, own_server.first_link(), "Ada")
    grounds = walk.found_site(keeper, own_server, defects=0)
    defect, ticket = make_id(), make_id()
    ops = [
        make_op("defect", grounds.site, defect, set={"elevation_id": grounds.elevation, "kind": "spalling", "mark": SQUARE}),
        make_op("ticket", grounds.site, ticket, set={"defect_ids": [defect], "method": "patch_two_coats"}),
        make_op("step", grounds.site, set={"ticket_id": ticket, "kind": "taken", "at": f"{_ago(9)}T10:00:00Z"}),
        make_op("step", grounds.site, set={"ticket_id": ticket, "kind": "done", "at": f"{_ago(8)}T10:00:00Z"}),
    ]
    refused = [one for one in walk.push(keeper, ops) if one["st"] != "applied"]
    assert not refused, refused
    page = walk.cold_start(keeper, own_server)
    page.goto(f"{own_server.address}/ticket/{ticket}")
    page.get_by_role("link", name="Add the finish of this repair").click()
    expect(page.get_by_label("Put on", exact=True)).to_have_value(_ago(8))
    expect(page.get_by_role("radio", name="A part of it")).to_be_checked()
    expect(page.get_by_label("Coat 2", exact=True)).to_be_visible()
    page.get_by_role("button", name="Keep the finish").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Ticket")
    expect(page.get_by_role("link", name="Add the finish of this repair")).to_have_count(0)
    walk.open_wall(page, "South")
    page.get_by_role("link", name=re.compile("^Repair of")).click()
    expect(page.get_by_text("Laid for")).to_be_visible()


def _middle_of_panel(page: Page) -> tuple[float, float]:
    """Where on the drawing the panel's outline lies, as shares of its width and height."""
    whole = page.get_by_role("application").bounding_box()
    region = page.locator(".finish-region").first.bounding_box()
    return (
        (region["x"] + region["width"] / 2 - whole["x"]) / whole["width"],
        (region["y"] + region["height"] / 2 - whole["y"]) / whole["height"],
    )
