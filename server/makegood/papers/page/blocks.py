"""Headings, paragraphs, lists, tables, cautions, photos, codes to scan and lines to sign, each at the sheet's running place."""

from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO

import segno
from fpdf.structure_tree import StructElem

from makegood.papers.page.pen import Pen, Stroke, draw
from makegood.papers.page.sheet import (
    BODY,
    CLAY,
    CLAY_WASH,
    INDIGO,
    INK,
    LIMEWASH,
    MARGIN_MM,
    SMALL,
    SOFT,
    Sheet,
    Style,
)

_HEADINGS = {1: Style(20, serif=True), 2: Style(14, serif=True), 3: Style(11, bold=True)}
_CELL_MM = 1.2
LONGEST_CELL_LINES = 60


@dataclass(frozen=True)
class Column:
    """One column of a table: what stands above it, its share of the width, and whether it holds numbers."""

    title: str
    share: float
    numbers: bool = False


@dataclass(frozen=True)
class Picture:
    """A photo as it is put on paper: JPEG bytes, what it shows in words, and the line below it."""

    jpeg: bytes
    alt: str
    caption: str
    width_px: int
    height_px: int


def heading(sheet: Sheet, text: str, level: int = 2, sub: str = "", keep_mm: float = 24.0) -> None:
    """Write a heading and list it in the outline; `keep_mm` of what follows stays on its page."""
    style = _HEADINGS[level]
    lines = sheet.lines(text, sheet.width, style)
    sheet.need(len(lines) * style.line_mm + keep_mm)
    sheet.space({1: 0, 2: 5, 3: 3}[level])
    with sheet.tagged(f"H{level}"):
        if level < 3:
            sheet.pdf.start_section(sheet.cut(text, 400, BODY), level=0, strict=False)
        _write(sheet, lines, style)
    if sub:
        paragraph(sheet, sub, SMALL)
    sheet.space(1.5)


def _write(sheet: Sheet, lines: Sequence[str], style: Style, left: float = MARGIN_MM) -> None:
    for line in lines:
        sheet.y += style.line_mm
        sheet.put(left, sheet.y - style.line_mm * 0.25, line, style)


def paragraph(sheet: Sheet, text: str, style: Style = BODY, indent: float = 0.0, bullet: str = "") -> None:
    """Write running text; it goes on over the page's end, however long it is."""
    lines = sheet.lines(text, sheet.width - indent, style)
    while lines:
        fit = int(sheet.room / style.line_mm)
        if fit < 1 or (fit < 2 and len(lines) > 1):
            sheet.new_page()
            continue
        with sheet.tagged("P"):
            if bullet:
                sheet.put(MARGIN_MM, sheet.y + style.line_mm * 0.75, bullet, style)
            _write(sheet, lines[:fit], style, MARGIN_MM + indent)
        lines, bullet = lines[fit:], ""
    sheet.space(0.8)


def listed(sheet: Sheet, lines: Sequence[str], numbered: bool = False, style: Style = BODY) -> None:
    """Write a list, with dots or numbers."""
    for n, line in enumerate(lines, start=1):
        paragraph(sheet, line, style, indent=5.5, bullet=f"{n}." if numbered else "•")


def facts(sheet: Sheet, pairs: Sequence[tuple[str, str]]) -> None:
    """Write what is known in two columns: name and answer; empty answers are left out."""
    table(sheet, [Column("", 0.3), Column("", 0.7)], [[name, answer] for name, answer in pairs if answer], False)


def table(sheet: Sheet, columns: Sequence[Column], rows: Sequence[Sequence[str]], titled: bool = True) -> None:
    """Write a table; its head is repeated on each page, a row taller than a page goes on over its end."""
    if not rows:
        return
    tag = sheet.tags.grow("Table", sheet.pdf.page)
    total = sum(one.share for one in columns)
    widths = [sheet.width * one.share / total for one in columns]
    grid = _Grid(sheet, columns, widths, tag)
    if titled:
        sheet.need(16)
        grid.head()
    for n, row in enumerate(rows):
        grid.row(row, n, titled)
    sheet.space(2)


@dataclass(frozen=True)
class _Grid:
    """One table as it is written."""

    sheet: Sheet
    columns: Sequence[Column]
    widths: Sequence[float]
    tag: StructElem

    def head(self) -> None:
        style = Style(8, bold=True, colour=SOFT)
        cells = [self._split(one.title, k, style) for k, one in enumerate(self.columns)]
        tall = max(map(len, cells)) * style.line_mm + _CELL_MM
        self._cells(cells, style, "TH")
        self.sheet.y += tall
        with self.sheet.artifact():
            self.sheet.rule(self.sheet.y, INK, 0.3)
        self.sheet.y += 0.3

    def row(self, texts: Sequence[str], n: int, titled: bool) -> None:
        cells = [self._split(text, k, BODY) for k, text in enumerate(texts)]
        while any(cells):
            tallest = max(map(len, cells))
            fit = int((self.sheet.room - 2 * _CELL_MM) / BODY.line_mm)
            if fit < min(tallest, LONGEST_CELL_LINES // 3):
                self.sheet.new_page()
                if titled:
                    self.head()
                fit = int((self.sheet.room - 2 * _CELL_MM) / BODY.line_mm)
            now = min(fit, tallest)
            self._band(n, now)
            self._cells([cell[:now] for cell in cells], BODY, "TD")
            self.sheet.y += now * BODY.line_mm + 2 * _CELL_MM
            cells = [cell[now:] for cell in cells]

    def _split(self, text: str, k: int, style: Style) -> list[str]:
        return self.sheet.lines(text, self.widths[k] - 2 * _CELL_MM, style)

    def _band(self, n: int, lines: int) -> None:
        if n % 2 == 0:
            with self.sheet.artifact():
                self.sheet.pdf.set_fill_color(LIMEWASH)
                height = lines * BODY.line_mm + 2 * _CELL_MM
                self.sheet.pdf.rect(MARGIN_MM, self.sheet.y, self.sheet.width, height, style="F")

    def _cells(self, cells: Sequence[Sequence[str]], style: Style, kind: str) -> None:
        branch = self.sheet.tags.grow("TR", self.sheet.pdf.page, self.tag)
        left = MARGIN_MM
        for column, width, lines in zip(self.columns, self.widths, cells, strict=True):
            with self.sheet.tagged(kind, branch):
                for k, line in enumerate(lines):
                    across = width - 2 * _CELL_MM - self.sheet.text_width(line, style) if column.numbers else 0.0
                    y = self.sheet.y + _CELL_MM + style.line_mm * (k + 0.75)
                    self.sheet.put(left + _CELL_MM + across, y, line, style)
            left += width


def caution(sheet: Sheet, title: str, lines: Sequence[str], strong: bool = False) -> None:
    """Write a caution with a bar at its side; `strong` is for what must not be touched."""
    bold = Style(10.5 if strong else 9.5, bold=True, colour=CLAY)
    inner = sheet.width - 8
    wrapped = [(line, bold) for line in sheet.lines(title, inner, bold)]
    wrapped += [(line, BODY) for text in lines for line in sheet.lines(text, inner)]
    while wrapped:
        sheet.need(min(sum(style.line_mm for _, style in wrapped) + 4, 60))
        fit = max(1, int((sheet.room - 4) / bold.line_mm))
        _boxed(sheet, wrapped[:fit], strong)
        wrapped = wrapped[fit:]


def _boxed(sheet: Sheet, lines: Sequence[tuple[str, Style]], strong: bool) -> None:
    height = sum(style.line_mm for _, style in lines) + 3
    with sheet.artifact():
        sheet.pdf.set_fill_color(CLAY_WASH if strong else LIMEWASH)
        sheet.pdf.rect(MARGIN_MM, sheet.y, sheet.width, height, style="F")
        sheet.pdf.set_fill_color(CLAY)
        sheet.pdf.rect(MARGIN_MM, sheet.y, 1.6, height, style="F")
    with sheet.tagged("P"):
        y = sheet.y + 1
        for line, style in lines:
            y += style.line_mm
            sheet.put(MARGIN_MM + 5, y - style.line_mm * 0.2, line, style)
    sheet.space(height + 2)


def photos(sheet: Sheet, pictures: Sequence[Picture], across: int = 2, tallest_mm: float = 78.0) -> None:
    """Put photos side by side, their JPEG bytes as they are, each with the line that says when and where."""
    gap = 5.0
    width = (sheet.width - gap * (across - 1)) / across
    for start in range(0, len(pictures), across):
        some = pictures[start : start + across]
        sizes = [_fitted(one, width, tallest_mm) for one in some]
        captions = [sheet.lines(one.caption, width, SMALL) for one in some]
        tall = max(height for _, height in sizes) + max(map(len, captions)) * SMALL.line_mm
        sheet.need(tall + 3)
        for k, (one, size, lines) in enumerate(zip(some, sizes, captions, strict=True)):
            _photo(sheet, one, (MARGIN_MM + k * (width + gap), sheet.y), size, lines)
        sheet.space(tall + 3)


def _fitted(one: Picture, width: float, tallest: float) -> tuple[float, float]:
    high = width * one.height_px / one.width_px
    return (width, high) if high <= tallest else (width * tallest / high, tallest)


def _photo(sheet: Sheet, one: Picture, at: tuple[float, float], size: tuple[float, float], lines: Sequence[str]) -> None:
    with sheet.tagged("Figure", alt=one.alt):
        sheet.pdf.image(BytesIO(one.jpeg), x=at[0], y=at[1], w=size[0], h=size[1])
    with sheet.tagged("Caption"):
        for k, line in enumerate(lines):
            sheet.put(at[0], at[1] + size[1] + (k + 0.85) * SMALL.line_mm, line, SMALL)


def code(sheet: Sheet, link: str, says: str, size_mm: float = 26.0) -> None:
    """Draw a code that opens a link when it is scanned, with the link beside it in words."""
    rows = [list(row) for row in segno.make(link, error="m", micro=False).matrix]
    cell = size_mm / (len(rows) + 8)

    def drawing(pen: Pen) -> None:
        pen.shape([(0, 0), (size_mm, 0), (size_mm, size_mm), (0, size_mm)], fill="#ffffff")
        for r, row in enumerate(rows):
            y = size_mm - (r + 5) * cell
            for first, last in _runs(row):
                x0, x1 = (first + 4) * cell, (last + 4) * cell
                pen.shape([(x0, y), (x1, y), (x1, y + cell), (x0, y + cell)], fill="#000000")
        pen.text((size_mm + 3, size_mm / 2 + 2), says, Style(9.5, bold=True, colour=INDIGO))
        pen.text((size_mm + 3, size_mm / 2 - 3), link, SMALL)

    draw(sheet, (size_mm, size_mm), f"{says}: {link}", drawing, MARGIN_MM)


def _runs(row: Sequence[int]) -> list[tuple[int, int]]:
    runs: list[tuple[int, int]] = []
    for k, dark in enumerate(row):
        if dark and runs and runs[-1][1] == k:
            runs[-1] = (runs[-1][0], k + 1)
        elif dark:
            runs.append((k, k + 1))
    return runs


def to_sign(sheet: Sheet, names: Sequence[str]) -> None:
    """Draw a line to sign on for each name, side by side."""
    width = (sheet.width - 6 * (len(names) - 1)) / len(names)

    def drawing(pen: Pen) -> None:
        for k, name in enumerate(names):
            left = k * (width + 6)
            pen.line([(left, 5), (left + width, 5)], Stroke(SOFT, 0.25))
            pen.text((left, 1), name)

    draw(sheet, (sheet.width, 15), " · ".join(names), drawing)
