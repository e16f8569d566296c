"""What a hand-out and the calendar say of coats and waiting: the numbers and days of the ticket, lime or earth."""

import pytest

from makegood.domain.repair.waits import coats_of, waits_of
from makegood.papers.pdf.parts import coat_name
from makegood.papers.words.say import Say
from makegood.science.laid import LaidCoat
from makegood.science.range import exactly
from tests.papers.site import make_ground, printed, text_of


def sheet_of(ground, ticket, language="en"):
    """The text of a hand-out with one ticket."""
    told = {"person": "Hal", "on": "2026-11-26", "ticket_ids": [ticket["id"]], "show_place": None, "note": None}
    return text_of(printed(ground, "handout", ground.add("handout", language=language, **told)["id"]))


def plain_ticket(ground):
    """The first ticket, under a method whose waits are known, over one defect of its own."""
    ticket = ground.rows["ticket"][0]
    ticket.update(method="patch_two_coats", coats=None)
    return ticket


@pytest.mark.parametrize(
    ("language", "words"),
    [("en", ("Coat 1: ", "No frost for", "Coats and waiting")), ("es", ("Capa 1: ", "Sin heladas", "Capas y esperas"))],
)
def test_coats_are_numbered_and_frost_is_told_under_the_name_the_steps_use(language, words):
    ground = make_ground()
    told = sheet_of(ground, plain_ticket(ground), language)
    for one in words:
        assert one in told, one
    assert "given below" not in told


def test_earth_is_handed_out_as_earth():
    ground = make_ground()
    ticket = plain_ticket(ground)
    ticket["coats"] = [{"mix": "earth_base_coat", "thickness_mm": 12}, {"mix": "earth_finish", "thickness_mm": 5}]
    repair = ground.book().repair(ticket)
    assert repair is not None
    assert {need["mix"] for need in repair.mixes} == {"earth_base_coat", "earth_finish"}
    told = sheet_of(ground, ticket)
    assert "Lime burns" not in told
    assert "hessian" not in told
    assert "Patch in earth, two coats" in told
    assert "Earth does not set" in told


def test_sheet_and_waits_say_the_same_first_days():
    ground = make_ground()
    ticket = plain_ticket(ground)
    book = ground.book()
    repair = book.repair(ticket)
    assert repair is not None
    told = sheet_of(ground, ticket)
    say = Say()
    waits = waits_of(coats_of(repair, book.catalogue["mixes"]), book.catalogue["mixes"])
    assert waits
    for one in waits:
        assert f"from day {say.days(one.starts_days['low'] + 1, one.starts_days['high'] + 1)}" in told


def test_names_of_coats_fillings_and_what_is_neither():
    def coat(part, n, lift, lifts):
        return LaidCoat("lime_coat", part, n, lift, lifts, None, exactly(0), exactly(0), exactly(0))

    assert coat_name(Say(), coat("coat", 2, 1, 1)) == "Coat 2"
    assert coat_name(Say("es"), coat("dub_out", None, 2, 3)) == "Relleno, tongada 2 de 3"
    assert coat_name(Say(), coat("fill", None, 1, 1)) == ""
