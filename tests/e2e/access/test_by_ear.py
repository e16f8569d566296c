"""By ear: the way of a surveyor and of a helper as a screen reader tells it, found by role and name, in both languages."""

import re

import pytest
from playwright.sync_api import Page, expect

from tests.e2e import walk
from tests.e2e.access.looking import LOCALES
from tests.e2e.access.people import Grounds, enter, sync, write_grounds
from tests.e2e.conftest import Device, Server
from tests.make import make_id, make_op

pytestmark = pytest.mark.e2e

SAY = {
    "en": {
        "places": "Places", "walls": "Walls", "tickets": "Tickets", "storms": "Storms", "mixes": "Mixes", "back": "Back",
        "saved": "Saved here|Last sent|waiting", "barn": "Barn", "scale": "South, to scale South, faces S",
        "mark": "Mark a defect", "found": "Found here", "one": "Barn · South, 1 defect", "two": "Barn · South, 2 defects",
        "spalling": "Spalling",
        "washout": "Washout", "chosen": "Chosen mark", "where": "Where is it?", "how": "How do you show it?", "pin": "Pin",
        "kind": "What do you see?", "keep": "Keep", "needs": "Tap the wall where it is", "kept": "Kept", "up": "up",
        "list": "My list", "take": "I'll take it", "taken": "taken", "done": "It is done", "season": "This season",
        "so_far": "So far", "did": "Taken",
    },
    "es": {
        "places": "Lugares", "walls": "Muros", "tickets": "Partes", "storms": "Temporales", "mixes": "Mezclas", "back": "Atrás",
        "saved": "Guardado aquí|Último envío|en espera", "barn": "Barn", "scale": "South, a escala South, mira al S",
        "mark": "Marcar un daño", "found": "Encontrado aquí", "one": "Barn · South, 1 daño", "two": "Barn · South, 2 daños",
        "spalling": "Desconchado", "washout": "Lavado y cárcava", "chosen": "Marca elegida", "where": "¿Dónde está?",
        "how": "¿Cómo lo señalas?", "pin": "Punto", "kind": "¿Qué ves?", "keep": "Guardar", "needs": "Toca el muro donde está",
        "kept": "Guardado", "up": "de altura", "list": "Mi lista", "take": "Me encargo", "taken": "en marcha",
        "done": "Está hecho", "season": "Esta temporada", "so_far": "Hasta ahora", "did": "En marcha",
    },
}  # fmt: skip

WALLS = """
- banner:
  - heading [level=1]
  - link /{saved}/
- main:
  - region "{barn}":
    - heading "{barn}" [level=2]
    - link /{scale}/
- navigation "{places}":
  - link "{walls}"
  - link "{tickets}"
  - link "{storms}"
  - link "{mixes}"
"""
WALL = """
- banner:
  - button "{back}"
  - heading "Barn · South" [level=1]
- main:
  - group "{one}":
    - button /{spalling}, 0[.,]5 m²/
  - region "{found}":
    - heading "{found}" [level=2]
    - list:
      - listitem:
        - button /{spalling} 0[.,]5 m²/
- button "{mark}"
"""
MARK = """
- banner:
  - heading "{mark}" [level=1]
- main:
  - region "{where}":
    - radiogroup "{how}":
      - radio "{pin}" [checked]
    - application
  - heading "{kind}" [level=2]
  - radiogroup "{kind}"
- button /{keep}/
"""
TICKET = """
- banner:
  - heading /{spalling}/ [level=1]
- main:
  - status: /{season}/
- button "{take}"
"""
LIST = """
- banner:
  - heading "{list}" [level=1]
- main:
  - region /Ben/:
    - list:
      - listitem:
        - link /{spalling}/
"""


def hears(page: Page, tree: str, say: dict[str, str]) -> None:
    """The screen says at least this, in this order."""
    expect(page.locator("body")).to_match_aria_snapshot(tree.format(**say))


def arrives(page: Page, words: str) -> None:
    """One heading of the first rank, which has the focus and names the page."""
    heading = page.get_by_role("heading", level=1)
    expect(heading).to_have_count(1)
    expect(heading).to_be_focused()
    expect(heading).to_contain_text(words)
    expect(page).to_have_title(f"{heading.inner_text()} · Makegood")


def mark_by_ear(page: Page, say: dict[str, str]) -> None:
    """From the walls to a kept mark; what is missing and what was kept is said."""
    page.get_by_role("link", name=say["scale"]).press("Enter")
    arrives(page, "South")
    hears(page, WALL, say)
    page.get_by_role("button", name=say["mark"]).press("Enter")
    arrives(page, say["mark"])
    hears(page, MARK, say)
    page.get_by_role("button", name=say["keep"]).press("Enter")
    expect(page.get_by_role("alert").filter(has_text=say["needs"])).to_be_visible()
    drawing = page.get_by_role("application")
    expect(drawing).to_be_focused()
    expect(drawing).to_have_accessible_description(re.compile(say["needs"]))
    drawing.press("ArrowUp")
    drawing.press("Enter")
    where = page.get_by_role("region", name=say["where"])
    expect(where.get_by_role("status").first).to_contain_text(say["up"])
    expect(page.get_by_role("alert").filter(has_text=say["needs"])).to_have_count(0)
    page.get_by_role("radio", name=re.compile(f"^{say['washout']}")).press("Space")
    page.get_by_role("button", name=say["keep"], exact=True).press("Enter")
    arrives(page, "South")
    expect(page.get_by_role("status").filter(has_text=say["kept"])).to_be_visible()
    expect(page.get_by_role("region", name=say["chosen"])).to_contain_text(say["washout"])
    drawn = page.get_by_role("group", name=say["two"]).get_by_role("button")
    listed = page.get_by_role("region", name=say["found"]).get_by_role("listitem").get_by_role("button")
    expect(drawn).to_have_count(2)
    expect(listed).to_have_count(2)


def work_by_ear(page: Page, say: dict[str, str]) -> None:
    """From the list to a ticket that is taken; the new state is said, and the focus stays with the deeds."""
    hears(page, LIST, say)
    page.get_by_role("listitem").get_by_role("link").first.press("Enter")
    arrives(page, say["spalling"])
    hears(page, TICKET, say)
    page.get_by_role("button", name=say["take"]).press("Enter")
    expect(page.get_by_role("status").filter(has_text=say["taken"])).to_be_visible()
    expect(page.get_by_role("region", name=say["so_far"]).get_by_role("listitem").filter(has_text=say["did"])).to_have_count(1)
    page.keyboard.press("Tab")
    expect(page.get_by_role("button", name=say["done"])).to_be_focused()
    page.keyboard.press("Enter")
    arrives(page, say["done"])


def set_up(server: Server, keeper: Device, language: str) -> Grounds:
    """The keeper's site with a little on it."""
    enter(keeper, server.first_link(), "Ada")
    site = make_id()
    walk.push(keeper, [make_op("site", site)])
    here = write_grounds(keeper, site, language)
    sync(keeper.page)
    return here


@pytest.mark.parametrize("language", LOCALES)
def test_a_surveyor_and_a_helper_find_their_way_by_ear(own_server, new_device, language):
    keeper, surveyor, helper = (new_device(locale=LOCALES[language]) for _ in range(3))
    say = SAY[language]
    here = set_up(own_server, keeper, language)
    enter(surveyor, walk.invite(keeper, own_server, "surveyor"), "Sol")
    surveyor.page.get_by_role("link", name=say["scale"]).wait_for()
    hears(surveyor.page, WALLS, say)
    mark_by_ear(surveyor.page, say)
    enter(helper, walk.invite(keeper, own_server, "helper", here.handout), "Ben")
    helper.page.get_by_role("listitem").first.wait_for()
    work_by_ear(helper.page, say)
