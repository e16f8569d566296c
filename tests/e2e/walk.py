"""The steps people take, one function each. Elements are found by role and name, as a person or a screen reader finds them."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any

from playwright.sync_api import Locator, Page, expect

from tests.e2e.conftest import Device, Server
from tests.make import make_id, make_op

ONCE_ONLINE_MS = 60_000
Spot = tuple[float, float]
_PUSH = """async (ops) => {
  const me = await (await fetch("/api/me")).json();
  const headers = {"Content-Type": "application/json", "X-CSRF": me.csrf};
  const body = JSON.stringify({v: 1, epoch: me.epoch, ops});
  const answer = await fetch("/api/sync/push", {method: "POST", headers, body});
  return {status: answer.status, body: await answer.json()};
}"""
_INVITE = """async ([role, handout_id]) => {
  const me = await (await fetch("/api/me")).json();
  const headers = {"Content-Type": "application/json", "X-CSRF": me.csrf};
  const body = JSON.stringify({site_id: me.grants[0].site_id, role, ...(handout_id ? {handout_id} : {})});
  return (await (await fetch("/api/invites", {method: "POST", headers, body})).json()).token;
}"""
_COUNT_TOUCHES = """() => {
  window.touches = {taps: 0, keys: 0};
  addEventListener("click", () => { window.touches.taps += 1; }, true);
  addEventListener("keydown", () => { window.touches.keys += 1; }, true);
}"""


# Joining and sending.


def enrol(device: Device, link: str, person: str) -> None:
    """Open a link, say who one is, and wait until the app would also start without signal."""
    page = device.page
    page.goto(link)
    page.get_by_label("Your name").fill(person)
    page.get_by_role("button", name="Join").click()
    expect(page.get_by_role("navigation", name="Places")).to_be_visible(timeout=ONCE_ONLINE_MS)
    ready_without_signal(page)


def enrol_in_demo(device: Device, server: Server) -> None:
    """Go in by the demo's own door."""
    page = device.page
    page.goto(server.address)
    page.get_by_role("button", name="Look round the invented site").click()
    expect(page.get_by_role("navigation", name="Places")).to_be_visible(timeout=ONCE_ONLINE_MS)
    ready_without_signal(page)


def ready_without_signal(page: Page) -> None:
    """Wait until the service worker holds the whole app."""
    page.evaluate("navigator.serviceWorker.ready.then(() => undefined)")


def join_as(keeper: Device, other: Device, server: Server, role: str, person: str) -> None:
    """Let another device in by a link of the keeper's, without the keeper's screens."""
    enrol(other, invite(keeper, server, role), person)


def invite(keeper: Device, server: Server, role: str, handout: str | None = None) -> str:
    """Return a link into the keeper's site, to all of it or to one hand-out only."""
    token = keeper.page.evaluate(_INVITE, [role, handout])
    return f"{server.address}/join#{token}"


def push(device: Device, ops: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Send ops straight to the server as this device; return its result for each."""
    answer = device.page.evaluate(_PUSH, ops)
    assert answer["status"] == 200, answer
    results: list[dict[str, Any]] = answer["body"]["results"]
    return results


@dataclass(frozen=True)
class Grounds:
    """A site that is there already: ids of its only structure and wall, and of its defects and tickets."""

    site: str
    structure: str
    elevation: str
    defects: list[str]
    tickets: list[str]


def found_site(
    device: Device, server: Server, defects: int = 1, tickets: int = 0, method: str = "patch_two_coats"
) -> Grounds:
    """Make a site with one flat wall as the keeper's device would, past its screens; then open the app on it."""
    site, structure, elevation = make_id(), make_id(), make_id()
    ops = [
        make_op("site", site),
        make_op("structure", site, structure),
        make_op("elevation", site, elevation, set={"structure_id": structure}),
    ]
    marked = [make_id() for _ in range(defects)]
    for n, defect in enumerate(marked):
        pin = {"view": "seen", "shape": "pin", "points_m": [[1.0 + n, 1.2]]}
        ops.append(make_op("defect", site, defect, set={"elevation_id": elevation, "kind": "spalling", "mark": pin}))
        measured = {"area_m2": 0.5, "depth_max_mm": 25, "depth_mean_mm": 15, "state": "new"}
        ops.append(make_op("reading", site, set={"defect_id": defect, **measured}))
    opened = [make_id() for _ in range(tickets)]
    ops += [make_op("ticket", site, one, set={"defect_ids": marked[:1], "method": method}) for one in opened]
    refused = [one for one in push(device, ops) if one["st"] != "applied"]
    assert not refused, refused
    device.page.goto(server.address)
    expect(device.page.get_by_role("link", name=re.compile("South, faces"))).to_be_visible(timeout=ONCE_ONLINE_MS)
    return Grounds(site, structure, elevation, marked, opened)


def badge(page: Page) -> Locator:
    """The words at the top of each screen on what is saved where."""
    return page.get_by_role("banner").get_by_role("link", name=re.compile("Saved here|waiting|Last sent|need"))


def expect_sent(page: Page) -> None:
    """Wait until everything has gone up by itself."""
    expect(badge(page)).to_contain_text("Last sent", timeout=ONCE_ONLINE_MS)


def expect_waiting(page: Page) -> None:
    """The words at the top say that something has not been sent."""
    expect(badge(page)).to_contain_text("waiting")


def to_phone_page(page: Page) -> None:
    """Tap the words at the top."""
    badge(page).click()
    expect(page.get_by_role("heading", name="This device", exact=True)).to_be_visible()


def send_now(page: Page) -> None:
    """Send and take in at once, on the Phone page, then go to the walls."""
    to_phone_page(page)
    button = page.get_by_role("button", name="Send now")
    expect(button).to_be_enabled()
    with page.expect_response(lambda answer: "/api/sync/pull" in answer.url and answer.ok):
        button.click()
    expect(button).to_be_enabled()
    expect(page.get_by_text("The server answers.")).to_be_visible()
    to_place(page, "Walls")


def cold_start(device: Device, server: Server) -> Page:
    """Kill the app and open it again as from the home screen."""
    page = device.fresh_page()
    page.goto(server.address)
    expect(page.get_by_role("navigation", name="Places")).to_be_visible()
    return page


def to_place(page: Page, name: str) -> None:
    """Go to one of the four places at the foot of the screen."""
    page.get_by_role("navigation", name="Places").get_by_role("link", name=name).click()


# Setting up walls.


@dataclass(frozen=True)
class Side:
    """What a person says of a new side; `sizes` by the names of their fields."""

    name: str
    shape: str
    sizes: dict[str, str]
    faces: str = "S"
    dome: str | None = None


def name_site(page: Page, name: str) -> None:
    """Name the first site."""
    page.get_by_role("button", name="Name the site").click()
    page.get_by_label("Name", exact=True).fill(name)
    page.get_by_role("button", name="Keep the site").click()
    expect(page.get_by_role("heading", name=name)).to_be_visible()


def add_structure(page: Page, name: str, material: str) -> None:
    """Add a building; the form of its first side opens."""
    page.get_by_role("button", name="Add a building or wall").click()
    page.get_by_label("Name", exact=True).fill(name)
    page.get_by_role("radio", name=material, exact=True).check()
    page.get_by_role("button", name="Keep and draw its sides").click()


def draw_side(page: Page, side: Side) -> None:
    """Fill in the form of a side and keep it; its own page opens."""
    expect(page.get_by_role("heading", name="New side")).to_be_visible()
    page.get_by_label("Name", exact=True).fill(side.name)
    page.get_by_role("radio", name=side.shape, exact=True).check()
    if side.dome:
        page.get_by_role("radio", name=side.dome, exact=True).check()
    for label, value in side.sizes.items():
        page.get_by_label(label, exact=True).fill(value)
    page.get_by_role("radio", name=side.faces, exact=True).check()
    page.get_by_role("button", name="Keep this side").click()
    expect(page.get_by_role("button", name="Mark a defect")).to_be_visible()


def add_side(page: Page, side: Side) -> None:
    """Add a further side to the only structure."""
    to_place(page, "Walls")
    page.get_by_role("link", name="Add a side").click()
    draw_side(page, side)


def add_finish(page: Page, name: str, coats: Iterable[tuple[str, str]]) -> None:
    """Note a finish of this side: its coats from the wall outwards, each mix with its thickness."""
    page.get_by_role("link", name="Add a finish").click()
    page.get_by_label("Name", exact=True).fill(name)
    for n, (mix, thickness) in enumerate(coats, start=1):
        page.get_by_role("button", name="Add a coat").click()
        page.get_by_label(f"Coat {n}", exact=True).select_option(mix)
        page.get_by_label(f"Coat {n}, thickness").fill(thickness)
    page.get_by_role("button", name="Keep the finish").click()
    expect(page.get_by_role("link", name=re.compile(name))).to_be_visible()


def open_wall(page: Page, side: str) -> None:
    """Go to the page of a side from the walls."""
    to_place(page, "Walls")
    page.get_by_role("link", name=re.compile(f"{side}, faces")).click()
    expect(page.get_by_role("heading", level=1, name=re.compile(side))).to_be_visible()


# Surveys, marks, photos.


def start_survey(page: Page) -> None:
    """Begin a survey from the walls."""
    to_place(page, "Walls")
    page.get_by_role("button", name="Start a survey").click()
    page.get_by_role("dialog").get_by_role("button", name="Start", exact=True).click()
    expect(page.get_by_role("region", name="Survey").get_by_role("link", name=re.compile("Survey of"))).to_be_visible()


def begin_mark(page: Page) -> None:
    """From a wall, begin to mark a defect."""
    page.get_by_role("button", name="Mark a defect").click()
    expect(page.get_by_role("heading", name="Mark a defect")).to_be_visible()


def tap_wall(page: Page, *spots: Spot) -> None:
    """Tap the wall at these shares of the drawing's width (from the left) and height (from the top)."""
    drawing = page.get_by_role("application")
    drawing.scroll_into_view_if_needed()
    box = drawing.bounding_box()
    assert box
    for across, down in spots:
        page.touchscreen.tap(box["x"] + across * box["width"], box["y"] + down * box["height"])


def choose_shape(page: Page, shape: str) -> None:
    """Say whether the mark is a pin, a line or an outline."""
    page.get_by_role("radio", name=shape, exact=True).check()


def choose_kind(page: Page, kind: str) -> None:
    """Say what is seen, by its tile; the tiles of the rarer kinds are opened first."""
    tile = page.get_by_role("radio", name=re.compile(f"^{kind}"))
    if not tile.count():
        page.get_by_role("button", name=re.compile("^Show all")).click()
    tile.check()


def choose_size(page: Page, size: str) -> None:
    """Give a measure by its tile."""
    page.get_by_role("button", name=re.compile(f"^{size}")).first.click()


@dataclass(frozen=True)
class Mark:
    """What a person enters for a defect."""

    kind: str
    spots: Sequence[Spot]
    shape: str = "Pin"
    sizes: Sequence[str] = ()
    signs: Sequence[str] = field(default=())


def mark_defect(page: Page, mark: Mark) -> None:
    """Mark a defect on the wall that is open and keep it."""
    begin_mark(page)
    enter_mark(page, mark)
    keep_mark(page)


def enter_mark(page: Page, mark: Mark) -> None:
    """Fill in the screen of a mark, without keeping it."""
    if mark.shape != "Pin":
        choose_shape(page, mark.shape)
    tap_wall(page, *mark.spots)
    choose_kind(page, mark.kind)
    for size in mark.sizes:
        choose_size(page, size)
    for sign in mark.signs:
        page.get_by_role("checkbox", name=sign).check()


def keep_mark(page: Page) -> None:
    """Keep the mark; the wall comes back with it chosen."""
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.get_by_role("region", name="Chosen mark")).to_be_visible()


def found_here(page: Page, kind: str) -> Locator:
    """The lines of the wall's list for defects of this kind."""
    return page.get_by_role("region", name="Found here").get_by_role("button", name=re.compile(kind))


def open_defect(page: Page, kind: str) -> None:
    """Open the page of the first defect of this kind on the wall that is open."""
    found_here(page, kind).first.click()
    page.get_by_role("region", name="Chosen mark").get_by_role("button", name="Open").click()
    expect(page.get_by_role("heading", level=1, name=re.compile(kind, re.IGNORECASE))).to_be_visible()


def allow_place(page: Page) -> None:
    """Say yes, once for this phone, to photos with their place."""
    page.get_by_role("button", name="Camera").click()
    page.get_by_role("button", name="With place").click()
    expect(page.get_by_text("Ready. Tap Camera.")).to_be_visible()


def photos(page: Page) -> Locator:
    """The photos shown on this screen."""
    return page.get_by_role("img", name=re.compile("^Photo of"))


def expect_drawn(photo: Locator) -> None:
    """The photo is there as a picture, not only as a row."""
    expect(photo).to_have_js_property("complete", True)
    assert photo.evaluate("(image) => image.naturalWidth") > 0


def take_photo(page: Page, content: bytes, name: str = "camera.jpg") -> None:
    """Take a photo with the camera: press the button, hand over the file the camera made."""
    before = photos(page).count()
    with page.expect_file_chooser() as opened:
        page.get_by_role("button", name="Camera").click()
    opened.value.set_files({"name": name, "mimeType": "image/jpeg", "buffer": content})
    expect(photos(page)).to_have_count(before + 1)


def choose_files(page: Page, *files: tuple[str, bytes]) -> None:
    """Choose files instead of the camera; what becomes of them is for the test to look at."""
    with page.expect_file_chooser() as opened:
        page.get_by_role("button", name="Choose a file").click()
    opened.value.set_files([{"name": name, "mimeType": _media_type(name), "buffer": content} for name, content in files])


def _media_type(name: str) -> str:
    return "image/png" if name.endswith(".png") else "image/jpeg"


def count_touches(page: Page) -> None:
    """From here on count what the person presses and types."""
    page.evaluate(_COUNT_TOUCHES)


def touches(page: Page) -> dict[str, int]:
    """Return taps and key presses since `count_touches`."""
    found: dict[str, int] = page.evaluate("window.touches")
    return found


# Tickets.


def step(page: Page, deed: str, note: str = "") -> None:
    """Do the next step of the ticket that is open: its button, a note, keep."""
    page.get_by_role("button", name=deed).click()
    expect(page.get_by_role("heading", level=1, name=deed)).to_be_visible()
    if note:
        page.get_by_role("textbox").last.fill(note)
    page.get_by_role("button", name=re.compile("^Keep")).click()
    expect(page.get_by_role("region", name="So far")).to_contain_text(note)


def open_ticket(page: Page, name: str | re.Pattern[str]) -> None:
    """Open a ticket from the list."""
    to_place(page, "Tickets")
    page.get_by_role("link", name=name).click()
    expect(page.get_by_role("heading", level=1, name=name)).to_be_visible()


def history(page: Page) -> list[str]:
    """Return the words of each line of the ticket's history, oldest first."""
    card = page.get_by_role("region", name="So far")
    expect(card.get_by_role("listitem").first).to_be_visible()
    return [line.split("\n")[0].strip() for line in card.get_by_role("strong").all_inner_texts()]
