"""The hand-out: own language, batch cards, waiting, codes that read back, no exact place unless the keeper shows it."""

from io import BytesIO

import cv2
import numpy as np
import pypdfium2
import pytest
from pypdf import PdfReader, PdfWriter

from makegood.errors import NotFound
from makegood.papers.ask import Ask, begin
from makegood.papers.pdf.handout import batch_cards
from tests.papers.site import NOW, make_ground, printed, text_of


def sheet_for(ground, **how):
    """Hand out all tickets."""
    tickets = [one["id"] for one in ground.rows["ticket"]]
    told = {"person": "Hal", "on": "2026-11-26", "ticket_ids": tickets, "language": "en", "show_place": None, "note": None, **how}
    return ground.add("handout", **told)["id"]


def test_codes_open_their_tickets():
    ground = make_ground()
    pdf = pypdfium2.PdfDocument(printed(ground, "handout", sheet_for(ground)))
    read = set()
    for page in pdf:
        picture = np.array(page.render(scale=3).to_pil().convert("L"))
        found, _, _ = cv2.QRCodeDetector().detectAndDecode(picture)
        read.add(found)
    assert read - {""} == {f"http://barn.test/ticket/{one['id']}" for one in ground.rows["ticket"]}


def test_sheet_tells_steps_batches_waiting_and_hazards():
    ground = make_ground()
    words = text_of(printed(ground, "handout", sheet_for(ground)))
    for told in ("For Hal, 26 Nov 2026", "Ticket 11", "What to do", "Bring", "One bucket is 12 L.", "bucket", "keep damp",
                 "Lime burns.", "Usual cautions, not a safety plan", "Done by", "Signed"):  # fmt: skip
        assert told in words, told


def test_batch_card_holds_what_the_sums_say():
    ground = make_ground()
    book = ground.book()
    repair = book.repair(ground.rows["ticket"][0])
    assert repair is not None
    words = text_of(printed(ground, "handout", sheet_for(ground)))
    for need in repair.mixes:
        name = book.catalogue["mixes"][need["mix"]]["words"]["en"]["name"]
        count = need["batches"]["count"]
        assert (f"{name}: one batch of" if count == 1 else f"{name}: {count} batches of") in words


def test_engineer_first_stands_there_as_do_not_touch():
    ground = make_ground()
    only = [ground.rows["ticket"][1]["id"]]
    words = text_of(printed(ground, "handout", sheet_for(ground, ticket_ids=only)))
    assert "Engineer first: do not touch" in words
    assert "Done by" not in words
    assert "Batches" not in words


def test_language_is_the_handouts_own():
    ground = make_ground()
    pdf = printed(ground, "handout", sheet_for(ground, language="es"))
    assert PdfReader(BytesIO(pdf)).trailer["/Root"]["/Lang"] == "es"
    assert "Qué hacer" in text_of(pdf)


def test_exact_place_only_where_the_keeper_shows_it():
    ground = make_ground()
    assert "48.62" not in text_of(printed(ground, "handout", sheet_for(ground)))
    assert "48.62031, -9.35127" in text_of(printed(ground, "handout", sheet_for(ground, show_place=True)))


def test_unknown_handout_is_refused():
    with pytest.raises(NotFound) as refusal:
        printed(make_ground(), "handout", "no-such")
    assert refusal.value.code == "handout_unknown"


def test_pages_can_be_taken_apart():
    ground = make_ground()
    writer = PdfWriter(clone_from=BytesIO(printed(ground, "handout", sheet_for(ground))))
    assert len(writer.pages) >= 4


@pytest.mark.parametrize("room_mm", range(20, 130, 10))
def test_no_batch_card_runs_over_the_end_of_a_page(room_mm):
    ground = make_ground()
    book, ask = ground.book(), Ask("en", "metric", None, NOW)
    repair = book.repair(ground.rows["ticket"][0])
    sheet = begin(book, ask, "Batches")
    sheet.space(sheet.room - room_mm)
    batch_cards(sheet, book, ask.say, repair)
    out = BytesIO()
    sheet.write(out)
    pages = pypdfium2.PdfDocument(out.getvalue())
    texts = [" ".join(page.get_textpage().get_text_range().split()) for page in pages]
    assert len(repair.mixes) > 1
    for need in repair.mixes:
        mix = book.catalogue["mixes"][need["mix"]]
        [page] = [text for text in texts if f"{mix['words']['en']['name']}: one batch of" in text]
        card = page.split(f"{mix['words']['en']['name']}: one batch of", 1)[1]
        for material in mix["per_l"]:
            assert book.catalogue["materials"][material]["words"]["en"] in card, (room_mm, material)
