"""By keyboard and by ear: everything a finger does, focus that shows, names that say what is there, and a wall of 2,000 marks."""

import re

import pytest
from playwright.sync_api import Page, expect

from tests.e2e.access.keys import FOCUS, tab_to
from tests.e2e.conftest import DESKTOP, Server
from tests.e2e.crowd import Visitor
from tests.make import make_edit

pytestmark = pytest.mark.e2e

# Between the page's last stop and its first the focus is with the browser itself.
_INSIDE = """() => document.activeElement === document.body
  || document.querySelector("dialog").contains(document.activeElement)"""


@pytest.fixture(scope="module")
def own_demo(tmp_path_factory):
    """A demo site of this module's own, to be changed; one flat wall of it carries 2,000 marks."""
    server = Server(["demo", "--no-browser"], tmp_path_factory.mktemp("own demo") / "server.log")
    server.start()
    yield server
    server.stop()


@pytest.fixture(scope="module")
def visitor(own_demo) -> Visitor:
    return Visitor(own_demo.address)


def side(visitor: Visitor, name: str) -> dict:
    """Return the elevation of this name."""
    return next(one for one in visitor.rows() if one["type"] == "elevation" and one["name"] == name)


def enter(page: Page, server: Server) -> None:
    """Join the demo without touching anything."""
    page.goto(server.address)
    page.locator(".demo-door button").wait_for()
    tab_to(page, page.locator(".demo-door button"))
    page.keyboard.press("Enter")
    page.locator(".structures .card").first.wait_for()


def heading(page: Page, words: str | re.Pattern[str]) -> None:
    """The heading of the new screen has the focus."""
    expect(page.get_by_role("heading", level=1, name=words)).to_be_focused()


def test_mark_a_defect_by_keyboard_alone(own_demo, visitor, new_device):
    page = new_device(DESKTOP).page
    enter(page, own_demo)
    tab_to(page, page.get_by_role("link", name=re.compile("South front")))
    page.keyboard.press("Enter")
    heading(page, re.compile("South front"))
    before = page.locator(".wall-layer [data-node]").count()
    tab_to(page, page.get_by_role("button", name="Mark a defect"))
    page.keyboard.press("Enter")
    heading(page, "Mark a defect")
    tab_to(page, page.get_by_role("radio", name="Pin"))
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    expect(page.get_by_role("radio", name="Outline")).to_be_checked()
    tab_to(page, page.get_by_role("application"))
    for keys in ("", "ArrowRight " * 5, "ArrowUp " * 4):
        for key in keys.split():
            page.keyboard.press(key)
        page.keyboard.press("Enter")
    expect(page.locator(".mark-where").get_by_text("0.1 m²")).to_be_visible()
    expect(page.get_by_role("button", name=re.compile("^Corner 3"))).to_have_count(1)
    tab_to(page, page.locator(".mark-kinds input[type=radio]").first)
    page.keyboard.press("Space")
    tab_to(page, page.get_by_role("button", name="Keep", exact=True))
    page.keyboard.press("Enter")
    heading(page, re.compile("South front"))
    expect(page.locator(".wall-layer [data-node]")).to_have_count(before + 1)
    expect(page.get_by_role("region", name="Chosen mark")).to_contain_text("Washout")
    mend_it(page)


def mend_it(page: Page) -> None:
    """From the chosen mark to a ticket, taken and done."""

    def press(name: str, comes: str) -> None:
        tab_to(page, page.get_by_role("button", name=name, exact=True))
        page.keyboard.press("Enter")
        heading(page, re.compile(comes, re.IGNORECASE))

    press("Open", "washout")
    press("Open a ticket", "New ticket")
    press("Keep this ticket", "^Ticket.*washout")
    tab_to(page, page.get_by_role("button", name="I'll take it"))
    page.keyboard.press("Enter")
    press("It is done", "It is done")
    press("Keep without a photo", "^Ticket.*washout")
    expect(page.get_by_role("region", name="So far").get_by_role("listitem")).to_have_count(3)


def test_the_drawing_and_its_list_say_the_same(own_demo, visitor, new_device):
    page = new_device(DESKTOP).page
    enter(page, own_demo)
    page.goto(f"{own_demo.address}/elevation/{side(visitor, 'North back')['id']}")
    heading(page, re.compile("North back"))
    marks = page.locator(".wall-layer [data-node]")
    marks.first.wait_for()
    drawing = page.get_by_role("group", name=re.compile(rf"North back, {marks.count()} defects"))
    expect(drawing).to_have_count(1)
    names = [str(one.get_attribute("aria-label")) for one in marks.all()]
    assert drawing.get_by_role("button").count() == len(names)
    for one in page.locator("details:not([open]) > summary").all():
        one.press("Enter")
    rows = page.locator(".found .pick-row").all()
    listed = [(one.locator(".number").inner_text(), one.locator(".grow").inner_text().splitlines()) for one in rows]
    said = {name.split(",")[0]: name for name in names}
    assert set(said) == {number for number, _ in listed}
    for number, (kind, size, *_) in listed:
        assert kind in said[number]
        assert size in said[number]


def test_arrows_go_from_mark_to_mark_and_enter_opens(own_demo, visitor, new_device):
    page = new_device(DESKTOP).page
    enter(page, own_demo)
    page.goto(f"{own_demo.address}/elevation/{side(visitor, 'West end')['id']}")
    heading(page, re.compile("West end"))
    tab_to(page, page.locator('.wall-layer [data-node][tabindex="0"]'))
    met = set()
    for way in ("ArrowLeft",) * 6 + ("ArrowRight", "ArrowUp", "ArrowDown") * 6:
        page.keyboard.press(way)
        stop = page.evaluate(FOCUS)
        assert stop["ringed"]
        assert stop["seen"], stop
        met.add(page.evaluate("() => document.activeElement.dataset.node"))
    assert len(met) >= 3
    name = str(page.evaluate("() => document.activeElement.getAttribute('aria-label')"))
    page.keyboard.press("Enter")
    expect(page.get_by_role("button", name=name)).to_have_attribute("aria-pressed", "true")
    expect(page.get_by_role("region", name="Chosen mark")).to_contain_text(name.split(",")[0])
    wide = page.locator(".wall-layer").get_attribute("viewBox")
    page.keyboard.press("+")
    expect(page.locator(".wall-layer")).not_to_have_attribute("viewBox", str(wide))
    page.keyboard.press("0")
    expect(page.locator(".wall-layer")).to_have_attribute("viewBox", str(wide))


def test_a_question_keeps_the_focus_and_escape_closes_it(own_demo, visitor, new_device):
    page = new_device(DESKTOP).page
    enter(page, own_demo)
    page.goto(f"{own_demo.address}/mark/new?elevation={side(visitor, 'East end')['id']}&points=1,1")
    heading(page, "Mark a defect")
    opener = page.locator("main").get_by_role("button", name="Throw the entry away")
    tab_to(page, opener)
    page.keyboard.press("Enter")
    question = page.get_by_role("dialog")
    expect(question).to_have_accessible_name(re.compile(r"\?$"))
    for _ in range(6):
        assert page.evaluate(_INSIDE)
        page.keyboard.press("Tab")
    page.keyboard.press("Escape")
    expect(question).to_have_count(0)
    expect(opener).to_be_focused()


def test_the_wall_does_not_jump_when_others_change_it(own_demo, visitor, new_device):
    page = new_device().page
    enter(page, own_demo)
    elevation = side(visitor, "Sea face")
    page.goto(f"{own_demo.address}/elevation/{elevation['id']}")
    heading(page, re.compile("Sea face"))
    page.get_by_role("button", name="Larger").click()
    expect(page.get_by_role("button", name="Whole wall")).to_be_enabled()
    shown = str(page.locator(".wall-layer").get_attribute("viewBox"))
    visitor.push([make_edit("elevation", visitor.site, elevation["id"], elevation["rev"], name="Tide face")])
    page.evaluate("() => dispatchEvent(new Event('online'))")
    expect(page.get_by_role("heading", level=1)).to_contain_text("Tide face")
    expect(page.locator(".wall-layer")).to_have_attribute("viewBox", shown)


def test_two_thousand_marks_stay_usable(own_demo, visitor, new_device):
    elevation = side(visitor, "West front")
    visitor.crowd(elevation, marks=2000, readings=0)
    page = new_device().page
    enter(page, own_demo)
    page.goto(f"{own_demo.address}/elevation/{elevation['id']}")
    crowds = page.locator(".wall-layer .crowd")
    crowds.first.wait_for()
    assert crowds.count() + page.locator(".wall-layer .mark").count() < 500
    counted = sum(int(words) for words in crowds.locator("text").all_text_contents())
    assert counted + page.locator(".wall-layer .mark").count() >= 2000
    frame = page.locator(".wall-frame")
    for _ in range(3):
        frame.get_by_role("button", name="Larger").click()
    shown = page.locator(".wall-layer").get_attribute("viewBox")
    box = frame.bounding_box() or {}
    page.mouse.move(box["x"] + 200, box["y"] + 120)
    page.mouse.down()
    page.mouse.move(box["x"] + 80, box["y"] + 100, steps=6)
    expect(page.locator(".wall-layer")).to_have_attribute("style", re.compile("translate"))
    page.mouse.up()
    expect(page.locator(".wall-layer")).not_to_have_attribute("viewBox", str(shown))
    mark = page.locator(".wall-layer .mark").first
    name = str(mark.get_attribute("aria-label"))
    mark.press("Enter")
    expect(page.get_by_role("region", name="Chosen mark")).to_contain_text(name.split(",")[0])
