"""A line that loses answers and damages photos: everything arrives once and whole, with the place the phone gave it."""

import hashlib
import re

import pytest
from playwright.sync_api import expect

from tests.e2e import walk
from tests.e2e.line.bad_line import BadLine
from tests.e2e.pictures import jpeg
from tests.e2e.walk import Mark

pytestmark = pytest.mark.e2e

_ROWS = """async () => {
  const me = await (await fetch("/api/me")).json();
  const headers = {"Content-Type": "application/json", "X-CSRF": me.csrf};
  const body = JSON.stringify({v: 1, epoch: me.epoch, since: {}, limit: 500});
  return (await (await fetch("/api/sync/pull", {method: "POST", headers, body})).json()).rows;
}"""
_ORIGINAL = """async (path) => {
  const digest = await crypto.subtle.digest("SHA-256", await (await fetch(path)).arrayBuffer());
  return [...new Uint8Array(digest)].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}"""


@pytest.fixture
def line(own_server):
    """The only way from the phone to the server."""
    with BadLine(own_server.port).up() as there:
        yield there


@pytest.fixture
def phone(own_server, line, new_device):
    """The keeper's phone, on a site with one wall, joined over the bad line."""
    device = new_device()
    walk.enrol(device, own_server.first_link().replace(own_server.address, line.address), "Ada")
    walk.found_site(device, line, defects=0)
    return device


def _rows(page, row_type):
    """Return the server's rows of a type, as this phone may pull them."""
    return [row for row in page.evaluate(_ROWS) if row["type"] == row_type and not row.get("deleted")]


def test_an_answer_lost_on_the_way_back_makes_no_second_row(phone, line):
    page = phone.page
    walk.open_wall(page, "South")
    before = len(line.statuses("POST", "/api/sync/push"))
    line.drop_answers("POST", "/api/sync/push", times=2)
    walk.mark_defect(page, Mark("Spalling", [(0.4, 0.5)]))
    expect(walk.badge(page)).to_contain_text("waiting")
    page = walk.cold_start(phone, line)
    walk.expect_sent(page)
    assert len(line.statuses("POST", "/api/sync/push")) >= before + 2
    assert [row["d"]["kind"] for row in _rows(page, "defect")] == ["spalling"]
    walk.open_wall(page, "South")
    expect(walk.found_here(page, "Spalling")).to_have_count(1)


def test_a_photo_with_a_flipped_bit_is_refused_and_sent_again_whole(phone, line):
    page, content = phone.page, jpeg(11)
    walk.open_wall(page, "South")
    walk.begin_mark(page)
    walk.enter_mark(page, Mark("Spalling", [(0.4, 0.5)]))
    walk.allow_place(page)
    walk.take_photo(page, content)
    line.damage("PUT", "/api/blobs/", times=2)
    walk.keep_mark(page)
    walk.expect_sent(page)
    assert line.statuses("PUT", "/api/blobs/").count(460) == 2
    (photo,) = _rows(page, "photo")
    assert photo["d"]["stored"] is True
    assert photo["d"]["sha256"] == hashlib.sha256(content).hexdigest()
    path = f"/api/photos/{photo['site']}/{photo['id']}/original"
    assert page.evaluate(_ORIGINAL, path) == photo["d"]["sha256"]


def test_a_photo_without_a_word_about_its_place_has_the_phones_and_its_preview_goes_first(phone, line):
    page = phone.page
    walk.open_wall(page, "South")
    walk.begin_mark(page)
    walk.enter_mark(page, Mark("Spalling", [(0.4, 0.5)]))
    walk.allow_place(page)
    walk.take_photo(page, jpeg(12))
    walk.keep_mark(page)
    walk.expect_sent(page)
    (photo,) = _rows(page, "photo")
    told = photo["d"]
    assert (told["lat"], told["lon"], told["accuracy_m"], told["position_source"]) == (48.62, -9.35, 7, "phone")
    assert told["file_facts"]["lat"] is None
    sent = [path for (method, path, status) in line.answers if (method, status) == ("PUT", 201)]
    assert [path.split("?")[0].rsplit("/", 1)[1] for path in sent] == [told["preview"], told["sha256"]]


def test_originals_wait_for_wifi_while_their_previews_are_shown_elsewhere(phone, line, new_device):
    page = phone.page
    walk.to_phone_page(page)
    page.get_by_role("radio", name="only over Wi-Fi").check()
    walk.open_wall(page, "South")
    walk.begin_mark(page)
    walk.enter_mark(page, Mark("Spalling", [(0.4, 0.5)]))
    walk.allow_place(page)
    walk.take_photo(page, jpeg(13))
    walk.keep_mark(page)
    held = page.get_by_role("banner").get_by_role("link", name="originals wait for Wi-Fi")
    expect(held).to_be_visible(timeout=walk.ONCE_ONLINE_MS)
    (photo,) = _rows(page, "photo")
    assert photo["d"]["stored"] is None

    other = new_device()
    walk.join_as(phone, other, line, "surveyor", "Ben")
    expect(other.page.get_by_role("link", name=re.compile("South, faces"))).to_be_visible()
    walk.open_wall(other.page, "South")
    walk.open_defect(other.page, "Spalling")
    expect(walk.photos(other.page)).to_have_count(1)
    walk.expect_drawn(walk.photos(other.page).first)

    held.click()
    page.get_by_role("button", name="Send originals now").click()
    walk.expect_sent(page)
    assert [row["d"]["stored"] for row in _rows(page, "photo")] == [True]
