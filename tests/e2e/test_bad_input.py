"""What cannot be: each is answered by a sentence where the person is, with a code for programs, and the rest goes on."""

import re
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.e2e import walk
from tests.e2e.conftest import Device
from tests.e2e.pictures import huge_png, jpeg, jpeg_with_place, text_named_jpg, truncated_jpeg
from tests.e2e.walk import Mark
from tests.make import make_id, make_op

pytestmark = pytest.mark.e2e

NO_WALL = "These sizes do not make a wall"
CROSSES = "The outline crosses itself"
NOT_A_PICTURE = "This file is not a JPEG, PNG or HEIC photo"
DAMAGED = "This photo file is damaged"
TOO_MANY_PIXELS = "more than 50 million pixels"
BOW_TIE = [(0.35, 0.4), (0.6, 0.6), (0.6, 0.4), (0.35, 0.6)]


@pytest.fixture
def keeper(own_server, new_device) -> Device:
    """The keeper's phone, before there is a site."""
    device = new_device()
    walk.enrol(device, own_server.first_link(), "Ada")
    return device


@pytest.fixture
def grounds(own_server, keeper) -> walk.Grounds:
    """A site with one wall and nothing marked on it."""
    return walk.found_site(keeper, own_server, defects=0)


@pytest.fixture
def phone(keeper, grounds) -> Device:
    """The keeper's phone, on that site."""
    return keeper


@pytest.mark.parametrize("width", ["0", "-4"])
def test_a_wall_without_size_is_not_kept(phone, width):
    page = phone.page
    page.get_by_role("link", name="Add a side").click()
    page.get_by_label("Name", exact=True).fill("Nowhere")
    page.get_by_label("Width", exact=True).fill(width)
    page.get_by_label("Height", exact=True).fill("2")
    page.get_by_role("radio", name="S", exact=True).check()
    page.get_by_role("button", name="Keep this side").click()
    expect(page.get_by_role("alert")).to_contain_text(NO_WALL)
    page.get_by_label("Width", exact=True).fill("4")
    page.get_by_role("button", name="Keep this side").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Nowhere")


def test_an_outline_that_crosses_itself_is_refused_in_words_and_mended(phone):
    page = phone.page
    walk.open_wall(page, "South")
    walk.begin_mark(page)
    walk.choose_shape(page, "Outline")
    walk.tap_wall(page, *BOW_TIE)
    expect(page.get_by_role("alert").filter(has_text=CROSSES).first).to_be_visible()
    walk.choose_kind(page, "Spalling")
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.get_by_role("heading", name="Mark a defect")).to_be_visible()
    page.get_by_role("button", name="Take back one").click()
    expect(page.get_by_role("alert").filter(has_text=CROSSES)).to_have_count(0)
    walk.keep_mark(page)
    walk.expect_sent(page)


def test_a_tap_beside_the_wall_lands_on_its_edge(phone):
    page = phone.page
    walk.open_wall(page, "South")
    walk.begin_mark(page)
    walk.tap_wall(page, (0.01, 0.5))
    where = page.get_by_role("region", name="Where is it?").get_by_role("status").first
    expect(where).to_contain_text("up, 3 m left of the middle")
    walk.choose_kind(page, "Washout")
    walk.keep_mark(page)
    walk.expect_sent(page)


def test_a_survey_in_2099_is_refused_beside_its_day(phone):
    page = phone.page
    page.get_by_role("button", name="Start a survey").click()
    page.get_by_label("Day").fill("2099-01-01")
    page.get_by_role("dialog").get_by_role("button", name="Start", exact=True).click()
    expect(page.get_by_role("alert")).to_contain_text("Give a day between 1900 and tomorrow.")
    expect(page.get_by_role("dialog")).to_be_visible()


def test_a_note_takes_no_more_than_its_field_holds(phone):
    page = phone.page
    walk.open_wall(page, "South")
    walk.begin_mark(page)
    page.get_by_label("Note", exact=True).focus()
    page.keyboard.insert_text("x" * 10_000)
    assert len(page.get_by_label("Note", exact=True).input_value()) == 4000


def _refused_photos(page: Page):
    return page.get_by_role("listitem").filter(has=page.get_by_role("button", name="Send again"))


def test_of_four_files_the_sound_one_arrives_and_each_other_is_named(phone):
    page = phone.page
    walk.open_wall(page, "South")
    walk.begin_mark(page)
    walk.enter_mark(page, Mark("Spalling", [(0.4, 0.5)]))
    false, huge, half = ("list.jpg", text_named_jpg()), ("huge.png", huge_png()), ("half.jpg", truncated_jpeg(1))
    walk.choose_files(page, false, huge, half, ("wall.jpg", jpeg(2)))
    expect(page.get_by_role("alert").filter(has_text=NOT_A_PICTURE)).to_be_visible()
    kept = page.get_by_role("listitem").filter(has=page.get_by_role("button", name=re.compile("^Photo of")))
    expect(kept).to_have_count(3)
    walk.keep_mark(page)
    walk.to_phone_page(page)
    expect(page.get_by_text("2 photos were not taken by the server").first).to_be_visible(timeout=walk.ONCE_ONLINE_MS)
    expect(_refused_photos(page).filter(has_text=DAMAGED)).to_have_count(1)
    expect(_refused_photos(page).filter(has_text=TOO_MANY_PIXELS)).to_have_count(1)
    walk.send_now(page)
    walk.open_wall(page, "South")
    walk.open_defect(page, "Spalling")
    strip = page.get_by_role("region", name="Photos")
    expect(strip.get_by_text(DAMAGED)).to_be_visible()
    expect(strip.get_by_text(TOO_MANY_PIXELS)).to_be_visible()
    expect(strip.get_by_text("Not sent yet")).to_have_count(0)


def _mark_with_photo(device: Device, name: str, content: bytes, *, camera: bool) -> None:
    page = device.page
    walk.open_wall(page, "South")
    walk.begin_mark(page)
    walk.enter_mark(page, Mark("Spalling", [(0.4, 0.5)]))
    if camera:
        walk.allow_place(page)
        walk.take_photo(page, content, name)
    else:
        walk.choose_files(page, (name, content))
        expect(walk.photos(page)).to_have_count(1)
    walk.keep_mark(page)
    walk.expect_sent(page)
    walk.send_now(page)
    walk.open_wall(page, "South")
    walk.open_defect(page, "Spalling")


def test_a_photo_without_camera_facts_gets_the_place_of_the_phone(phone):
    _mark_with_photo(phone, "camera.jpg", jpeg(6), camera=True)
    expect(walk.photos(phone.page)).to_have_attribute("alt", re.compile(r"place from the phone ±7\sm"))


def test_with_the_phones_place_denied_the_camera_file_tells_it(phone):
    phone.context.clear_permissions()
    phone.context.grant_permissions(["notifications"])  # Chromium denies whatever is not granted.
    _mark_with_photo(phone, "camera.jpg", jpeg_with_place(7), camera=True)
    expect(walk.photos(phone.page)).to_have_attribute("alt", re.compile(r"place from the camera file"))
    walk.photos(phone.page).click()
    expect(phone.page.get_by_role("dialog")).to_contain_text("latitude 48.5, longitude -9.25")


def test_half_a_place_in_the_camera_file_is_no_place(phone):
    _mark_with_photo(phone, "half.jpg", jpeg_with_place(8, latitude=False), camera=False)
    walk.photos(phone.page).click()
    expect(phone.page.get_by_role("dialog")).to_contain_text("Invented Camera")
    expect(phone.page.get_by_role("dialog")).to_contain_text("no place known")


def test_a_place_typed_from_a_map_is_said_to_be_set_by_hand(phone):
    page = phone.page
    walk.open_wall(page, "South")
    walk.begin_mark(page)
    walk.enter_mark(page, Mark("Spalling", [(0.4, 0.5)]))
    walk.choose_files(page, ("plain.jpg", jpeg(9)))
    walk.photos(page).click()
    dialog = page.get_by_role("dialog")
    dialog.get_by_role("button", name="Set the place by hand").click()
    dialog.get_by_label("Latitude", exact=True).fill("91")
    expect(dialog.get_by_text("Give a number from 0 to 90.")).to_be_visible()
    dialog.get_by_role("button", name="Take this place").click()
    expect(dialog.get_by_label("Latitude", exact=True)).to_be_focused()
    expect(dialog.get_by_label("Longitude", exact=True)).to_have_accessible_description("Give a number from 0 to 180.")
    dialog.get_by_label("Latitude", exact=True).fill("33,5")
    dialog.get_by_role("radio", name="south").check()
    dialog.get_by_label("Longitude", exact=True).fill("18.25")
    dialog.get_by_role("button", name="Take this place").click()
    expect(dialog).to_contain_text("place set by hand")
    expect(dialog).to_contain_text("latitude -33.5, longitude 18.25")
    dialog.get_by_role("button", name="Close").click()
    walk.keep_mark(page)
    walk.expect_sent(page)
    walk.open_wall(page, "South")
    walk.open_defect(page, "Spalling")
    expect(walk.photos(page)).to_have_attribute("alt", re.compile("place set by hand"))


def test_a_link_works_once(own_server, new_device, phone):
    page = new_device().page
    page.goto(own_server.first_link())
    page.get_by_label("Your name").fill("Second")
    page.get_by_role("button", name="Join").click()
    expect(page.get_by_role("alert")).to_contain_text("This link was used already")


def _defect(site: str, elevation: str, shape: str, points: list[list[float]]) -> dict[str, Any]:
    return make_op("defect", site, set={"elevation_id": elevation, "mark": {"view": "seen", "shape": shape, "points_m": points}})


def test_each_impossible_change_is_refused_alone_and_the_sound_one_stands(phone, grounds):
    site, wall = grounds.site, grounds.elevation
    flat = {"kind": "flat", "width_m": 0, "height_m": 3, "batter_deg": 0}
    bad = {
        "unknown_type": make_op("chimney", site, set={"name": "Tall"}),
        "surface_refused": make_op("elevation", site, set={"structure_id": grounds.structure, "surface": flat}),
        "outline_crosses_itself": _defect(site, wall, "outline", [[1, 1], [3, 2], [3, 1], [1, 2]]),
        "outline_leaves_wall": _defect(site, wall, "outline", [[5, 1], [9, 1], [5, 2]]),
        "date_refused": make_op("survey", site, set={"on": "2099-01-01"}),
        "text_too_long": make_op("note", site, set={"of_type": "structure", "of_id": grounds.structure, "text": "x" * 10_000}),
    }
    sound = _defect(site, wall, "pin", [[2, 1]])
    results = walk.push(phone, [*bad.values(), sound])
    assert [one.get("code") for one in results[:-1]] == list(bad)
    for one in results[:-1]:
        assert one["st"] == "rejected"
        assert re.search(r"\w+ \w+.*[.!]$", one["say"]), one
    assert results[-1]["st"] == "applied"
    assert walk.push(phone, [{"op": make_id(), "type": "site", "nonsense": True}])[0]["code"] == "bad_op"
