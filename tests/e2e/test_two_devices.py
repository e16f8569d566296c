"""Two phones change the same thing without signal: nobody's answer vanishes, a person picks, and both phones end alike."""

import re

import pytest
from playwright.sync_api import Page, expect

from tests.e2e import walk

pytestmark = pytest.mark.e2e


@pytest.fixture
def ada(own_server, new_device):
    """The keeper's phone, on a site with one defect."""
    device = new_device()
    walk.enrol(device, own_server.first_link(), "Ada")
    walk.found_site(device, own_server)
    return device


@pytest.fixture
def ben(own_server, new_device, ada):
    """A surveyor's phone with everything on it."""
    device = new_device()
    walk.join_as(ada, device, own_server, "surveyor", "Ben")
    expect(device.page.get_by_role("link", name=re.compile("South, faces"))).to_be_visible()
    return device


def _open(page: Page) -> None:
    walk.open_wall(page, "South")
    walk.found_here(page, "").first.click()
    page.get_by_role("region", name="Chosen mark").get_by_role("button", name="Open").click()


def _rename(page: Page, kind: str) -> None:
    _open(page)
    page.get_by_role("button", name="Change kind, place or signs").click()
    walk.choose_kind(page, kind)
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.get_by_role("heading", level=1)).to_contain_text(kind)


def _note(page: Page, words: str) -> None:
    _open(page)
    page.get_by_role("button", name="Change kind, place or signs").click()
    page.get_by_label("Note", exact=True).fill(words)
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.get_by_text(words, exact=True)).to_be_visible()


def _remove(page: Page) -> None:
    _open(page)
    page.get_by_role("button", name="Delete").click()
    page.get_by_role("dialog").get_by_role("button", name="Delete").click()
    expect(page.get_by_role("status").filter(has_text="Deleted:")).to_be_visible()


def _send_in_turn(own_server, first, second):
    """Both come back to signal; the phone of `first` sends before that of `second`, and both take in what there is."""
    second.fresh_page()
    first.fresh_page()
    own_server.start()
    for device in (first, second):
        walk.cold_start(device, own_server)
        walk.expect_sent(device.page)
    walk.send_now(first.page)


def _clash(page: Page, title: str):
    return page.get_by_role("region", name=f"Two answers: {title}")


def test_two_names_for_one_defect_stand_side_by_side_until_one_is_picked(own_server, ada, ben):
    own_server.stop()
    _rename(ada.page, "Delamination")
    _rename(ben.page, "Crazing")
    _send_in_turn(own_server, ada, ben)

    for device in (ada, ben):
        _open(device.page)
        card = _clash(device.page, "what is seen")
        expect(card).to_contain_text("Delamination")
        expect(card).to_contain_text("by Ada")
        expect(card).to_contain_text("Crazing")
        expect(card).to_contain_text("by Ben")
    _clash(ada.page, "what is seen").get_by_role("button", name="Take this: Delamination").click()
    expect(_clash(ada.page, "what is seen")).to_have_count(0)
    walk.expect_sent(ada.page)
    walk.send_now(ben.page)
    for device in (ada, ben):
        _open(device.page)
        expect(device.page.get_by_role("heading", level=1)).to_contain_text("1 · Delamination")
        expect(_clash(device.page, "what is seen")).to_have_count(0)


def test_different_fields_changed_on_two_phones_both_stand(own_server, ada, ben):
    own_server.stop()
    _rename(ada.page, "Delamination")
    _note(ben.page, "By the downpipe.")
    _send_in_turn(own_server, ben, ada)
    for device in (ada, ben):
        _open(device.page)
        expect(device.page.get_by_role("heading", level=1)).to_contain_text("1 · Delamination")
        expect(device.page.get_by_text("By the downpipe.")).to_be_visible()
        expect(device.page.get_by_text("Two answers")).to_have_count(0)


@pytest.mark.parametrize("remover_first", [True, False])
def test_removed_on_one_phone_and_changed_on_the_other_it_lives_with_both_answers(own_server, ada, ben, remover_first):
    own_server.stop()
    _remove(ada.page)
    _note(ben.page, "It has grown to the left.")
    _send_in_turn(own_server, *((ada, ben) if remover_first else (ben, ada)))
    for device in (ada, ben):
        _open(device.page)
        expect(device.page.get_by_text("It has grown to the left.", exact=True)).to_be_visible()
        card = _clash(device.page, "deleted or not")
        expect(card).to_contain_text("Deleted")
        expect(card).to_contain_text("Stays")
    _clash(ben.page, "deleted or not").get_by_role("button", name="Take this: Deleted").click()
    expect(ben.page.get_by_text("It has grown to the left.", exact=True)).to_have_count(0)
    ben.page.get_by_role("button", name="Undo. Taken: Deleted.").click()
    walk.expect_sent(ben.page)
    walk.send_now(ada.page)
    for device in (ada, ben):
        _open(device.page)
        expect(device.page.get_by_text("It has grown to the left.", exact=True)).to_be_visible()
        expect(_clash(device.page, "deleted or not")).to_contain_text("Stays")


def _rename_building(page: Page, name: str) -> None:
    walk.to_place(page, "Walls")
    page.get_by_role("link", name=re.compile("^Change ")).click()
    page.get_by_label("Name", exact=True).fill(name)
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.get_by_role("heading", name=name)).to_be_visible()


def test_two_names_for_one_building_are_shown_on_the_phones_page_until_one_is_picked(own_server, ada, ben):
    own_server.stop()
    _rename_building(ada.page, "Net store")
    _rename_building(ben.page, "Sail loft")
    for device in (ada, ben):
        device.fresh_page()
    own_server.start()
    walk.cold_start(ada, own_server)
    walk.expect_sent(ada.page)
    walk.cold_start(ben, own_server)
    expect(walk.badge(ben.page)).to_have_text("1 needs you", timeout=walk.ONCE_ONLINE_MS)

    walk.to_phone_page(ada.page)
    ada.page.get_by_role("button", name="Send now").click()
    answers = ada.page.get_by_role("region", name="Two answers")
    for words in ("Net store", "by Ada", "Sail loft", "by Ben"):
        expect(answers).to_contain_text(words)
    answers.get_by_role("button", name=re.compile("Take this: Net store")).click()
    expect(answers).to_have_count(0)
    walk.expect_sent(ada.page)
    walk.send_now(ben.page)
    for device in (ada, ben):
        walk.to_place(device.page, "Walls")
        expect(device.page.get_by_role("heading", name="Net store")).to_be_visible()
        expect(walk.badge(device.page)).not_to_contain_text("needs you")
