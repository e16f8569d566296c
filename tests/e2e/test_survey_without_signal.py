"""A survey with the server stopped: marks, photos and a ticket are kept, go up by themselves, and reach another phone."""

import re

import pytest
from playwright.sync_api import Page, expect

from tests.e2e import walk
from tests.e2e.pictures import jpeg, jpeg_with_place
from tests.e2e.walk import Mark, Side

pytestmark = pytest.mark.e2e

SOUTH = Side("South", "Flat", {"Width": "8", "Height": "3"})
TOWER = Side("Tower", "Round", {"Across at the foot": "5", "Height": "4"}, faces="W")
CROWN = Side("Crown", "Dome", {"Across at the foot": "5", "Height": "4"}, dome="Pointed")
LIME = [("lime base coat 1 : 2, haired", "12"), ("lime coat 1 : 2½", "8"), ("lime finish 1 : 3", "4")]
PATCH = [(0.42, 0.45), (0.62, 0.45), (0.62, 0.65), (0.42, 0.65)]


def _set_up(page: Page) -> None:
    walk.name_site(page, "Hollow Farm")
    walk.add_structure(page, "Long barn", "cob")
    walk.draw_side(page, SOUTH)
    walk.add_finish(page, "Lime of 2023", LIME)
    walk.add_side(page, TOWER)
    walk.add_side(page, CROWN)
    walk.start_survey(page)
    walk.expect_sent(page)


def _mark_in_five_taps(page: Page) -> None:
    walk.open_wall(page, "South")
    walk.count_touches(page)
    walk.mark_defect(page, Mark("Spalling", [(0.4, 0.5)], sizes=["a thumb"]))
    spent = walk.touches(page)
    assert 3 <= spent["taps"] <= 5, spent
    assert spent["keys"] == 0, spent


def _mark_the_rest(page: Page) -> None:
    walk.mark_defect(page, Mark("Structural crack", [(0.6, 0.35), (0.66, 0.5), (0.63, 0.62)], "Line", ["3 mm"]))
    walk.open_wall(page, "Tower")
    walk.mark_defect(page, Mark("Washout", [(0.5, 0.6)], sizes=["a finger joint"]))
    walk.open_wall(page, "Crown")
    walk.begin_mark(page)
    walk.enter_mark(page, Mark("Delamination", PATCH, "Outline", ["a fingernail"]))
    expect(page.get_by_role("region", name="Where is it?")).to_contain_text(re.compile("on the curve, .* as drawn"))
    walk.allow_place(page)
    walk.take_photo(page, jpeg(1))
    walk.choose_files(page, ("old.jpg", jpeg_with_place(2)))
    expect(walk.photos(page)).to_have_count(2)
    walk.keep_mark(page)


def _open_ticket_with_estimate(page: Page) -> None:
    walk.open_defect(page, "Delamination")
    page.get_by_role("button", name="Open a ticket").click()
    estimate = page.get_by_role("region", name="What it takes")
    curve, drawn = _areas(estimate.get_by_text(re.compile("on the curve, .* as drawn")).inner_text())
    assert curve > 1.05 * drawn > 0
    expect(estimate.get_by_role("table")).to_contain_text("sand")
    page.get_by_role("button", name="Keep this ticket").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Ticket new 1")


def _areas(words: str) -> tuple[float, float]:
    curve, drawn = re.findall(r"([\d.]+)\sm²", words)[:2]
    return float(curve), float(drawn)


def _look_from_another_phone(page: Page) -> None:
    walk.open_wall(page, "South")
    expect(walk.found_here(page, "Spalling")).to_be_visible()
    expect(walk.found_here(page, "Structural crack")).to_be_visible()
    walk.open_wall(page, "Tower")
    expect(walk.found_here(page, "Washout")).to_be_visible()
    walk.open_wall(page, "Crown")
    walk.open_defect(page, "Delamination")
    expect(page.get_by_role("heading", level=1)).to_contain_text(re.compile(r"^\d+ · Delamination"))
    expect(walk.photos(page)).to_have_count(2)
    for photo in walk.photos(page).all():
        walk.expect_drawn(photo)
    walk.open_ticket(page, re.compile("Ticket 1"))


def _read_again(page: Page) -> None:
    walk.start_survey(page)
    walk.open_wall(page, "South")
    walk.open_defect(page, "Spalling")
    page.get_by_role("button", name="Add a reading").click()
    walk.choose_size(page, "a fist")
    expect(page.get_by_role("radio", name=re.compile("grown"))).to_be_checked()
    page.get_by_role("button", name="Keep this reading").click()
    _expect_grown(page)


def _expect_grown(page: Page) -> None:
    readings = page.get_by_role("region", name="Readings")
    expect(readings).to_contain_text("2 readings")
    expect(readings).to_contain_text("grown")
    expect(readings).to_contain_text("more than before")


def test_a_survey_with_the_server_stopped_reaches_the_second_phone(own_server, new_device):
    keeper = new_device()
    walk.enrol(keeper, own_server.first_link(), "Ada")
    _set_up(keeper.page)
    own_server.stop()

    page = walk.cold_start(keeper, own_server)
    _mark_in_five_taps(page)
    walk.expect_waiting(page)
    _mark_the_rest(page)
    _open_ticket_with_estimate(page)
    walk.expect_waiting(page)
    page = walk.cold_start(keeper, own_server)
    walk.open_ticket(page, re.compile("Ticket new 1"))
    walk.to_phone_page(page)
    expect(page.get_by_text(re.compile("^2 photos wait"))).to_be_visible()

    own_server.start()
    walk.expect_sent(page)
    expect(page.get_by_text("Nothing waits")).to_be_visible()
    page.get_by_role("radio", name="surveyor").check()
    page.get_by_role("button", name="Make a link").click()
    link = page.get_by_text(re.compile(r"/join#\S+")).inner_text()
    other = new_device()
    walk.enrol(other, link, "Ben")
    _look_from_another_phone(other.page)

    _read_again(other.page)
    walk.expect_sent(other.page)
    walk.send_now(page)
    walk.open_wall(page, "South")
    walk.open_defect(page, "Spalling")
    _expect_grown(page)
