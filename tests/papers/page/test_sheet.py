"""Pages: wrapping loses nothing, tags nest, every page is numbered."""

from io import BytesIO

from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from makegood.papers.page.blocks import Column, caution, heading, paragraph, table
from makegood.papers.page.pen import Pen, Stroke, draw
from makegood.papers.page.sheet import Front, Sheet
from tests.papers.site import tags_of


def written(sheet: Sheet) -> bytes:
    """Return the PDF."""
    out = BytesIO()
    sheet.write(out)
    return out.getvalue()


SHEET = Sheet(Front("Wrapping"))


@settings(max_examples=60, deadline=None)
@given(st.text(alphabet="ab é\n", max_size=400), st.floats(6, 150))
def test_lines_fit_and_hold_every_letter(text, width_mm):
    lines = SHEET.lines(text, width_mm)
    assert all(SHEET.text_width(line) <= width_mm + 1e-6 or len(line) == 1 for line in lines)
    assert "".join("".join(lines).split()) == "".join(text.split())


def test_pages_are_numbered_and_rows_taller_than_a_page_go_on():
    sheet = Sheet(Front("Long", page_of="page {n} of {all}", foot="Barn"))
    heading(sheet, "Long", 1)
    table(sheet, [Column("One", 1), Column("Two", 2)], [["a", "word " * 2000], ["b", "last"]])
    caution(sheet, "Care", ["line " * 3000])
    reader = PdfReader(BytesIO(written(sheet)))
    pages = len(reader.pages)
    assert pages > 3
    assert all(f"page {n} of {pages}" in page.extract_text() for n, page in enumerate(reader.pages, 1))
    assert "".join(page.extract_text() for page in reader.pages).count("word") == 2000


def test_tables_hold_rows_and_rows_hold_cells():
    sheet = Sheet(Front("Tags"))
    paragraph(sheet, "Before")
    table(sheet, [Column("One", 1), Column("Two", 1)], [["a", "b"]])
    draw(sheet, (50, 20), "a line going up", lambda pen: pen.line([(0, 0), (50, 20)], Stroke()))
    wanted = ["/Document", "/P", "/Table", "/TR", "/TH", "/TH", "/TR", "/TD", "/TD", "/Figure"]
    tags = tags_of(written(sheet))
    assert [kind for kind, _ in tags] == wanted
    assert tags[-1][1] == "a line going up"


def test_pen_draws_shapes_dots_and_words():
    sheet = Sheet(Front("Pen"))

    def drawing(pen: Pen) -> None:
        ring = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0)]
        pen.shape(ring, "#ffffff", Stroke())
        pen.within(ring, lambda: pen.dot((5, 5), 2, "#000000"))
        pen.text((5, 5), "words", anchor="middle")

    draw(sheet, (10, 10), "a triangle", drawing)
    assert "words" in PdfReader(BytesIO(written(sheet))).pages[0].extract_text()
