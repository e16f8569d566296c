"""The helper, in Spanish, on a cheap slow phone: opens the list by link, does the first ticket on it."""

import re

from tests.e2e.pictures import jpeg
from tests.walks.walker import Person, Walker

HELPER = Person("helper (es)", 360, 740, slower=4, locale="es-ES")


def joins(helper: Walker, link: str) -> None:
    """Comes in by the link of the hand-out."""
    with helper.journey("open the list by link"):
        helper.goes_to(link)
        helper.writes(helper.page.get_by_label("Tu nombre"), "Nuria")
        helper.presses("Entrar")
        helper.sees(helper.page.get_by_role("heading", level=1, name="Mi lista"))


def takes(helper: Walker) -> None:
    """Opens the first ticket of the list, reads how it is done, takes it."""
    page = helper.page
    with helper.journey("take a ticket and read its steps"):
        helper.presses(re.compile("^Siguiente"))
        helper.sees(page.get_by_role("heading", level=1, name=re.compile("^Parte")))
        helper.presses("Me encargo")
        helper.looks_for(page.locator(".work-steps"), "the steps of the work")


def mixes(helper: Walker) -> None:
    """Finds the card of one batch."""
    with helper.journey("read the card of one batch"):
        helper.taps(helper.page.locator("details.batch > summary").first)


def finishes(helper: Walker) -> None:
    """Says that it is done: a photo, what was used, keep."""
    page = helper.page
    with helper.journey("done: photo, amounts used"):
        helper.presses(re.compile("^Está hecho|^Hecho"))
        helper.taps(page.get_by_role("button", name="Cámara"))
        helper.presses("Con lugar")
        helper.takes_photo(page.get_by_role("button", name="Cámara"), jpeg(5))
        used = page.get_by_role("region", name="Lo que se gastó")
        helper.writes(used.get_by_role("textbox").first, "2")
        helper.presses(re.compile("^Guardar$"))


def goes_on(helper: Walker) -> None:
    """Comes from the finished ticket to the next on the list."""
    with helper.journey("go on to the next ticket"):
        onward = helper.page.get_by_role("button", name=re.compile("^Siguiente"))
        while not onward.count():
            helper.presses("Atrás")
        helper.taps(onward)
