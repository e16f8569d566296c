"""A sheaf of pages: frame, fonts, tags and the running place on the page. `page/blocks.py` puts text, tables and photos on it.

Millimetres from the upper left corner. Everything drawn stands inside `tagged`, or is page furniture inside `artifact`.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from typing import BinaryIO

from fpdf import FPDF
from fpdf.fonts import TTFFont
from fpdf.structure_tree import StructElem

from makegood.papers.page.plain_text import printable
from makegood.papers.page.tags import TagTree

MARGIN_MM, TOP_MM, FOOT_MM = 16.0, 16.0, 18.0
PT_MM = 25.4 / 72
LINE = 1.32
# The screens' own colours, held together by tests/contract/test_one_look.py.
INK, SOFT, CLAY, INDIGO, SAGE, LIMEWASH = "#211d18", "#50483c", "#7a3115", "#26365f", "#2f4d2b", "#f8f5ee"
CLAY_WASH, FAINT = "#f4e4d9", "#d9d0c0"
_FONTS = {
    ("sans", ""): ("font_source_sans_pro", "SourceSansPro-Regular.ttf"),
    ("sans", "B"): ("font_source_sans_pro", "SourceSansPro-Semibold.ttf"),
    ("serif", ""): ("font_source_serif_pro", "SourceSerifPro-Semibold.ttf"),
}
_SIZES = {"metric": "A4", "us": "Letter"}


@dataclass(frozen=True)
class Style:
    """How text looks: font, size [pt], colour."""

    size_pt: float = 9.5
    bold: bool = False
    colour: str = INK
    serif: bool = False

    @property
    def line_mm(self) -> float:
        """From one line to the next."""
        return self.size_pt * PT_MM * LINE

    @property
    def font(self) -> tuple[str, str]:
        """Family and cut."""
        return ("serif", "") if self.serif else ("sans", "B" if self.bold else "")


BODY, SMALL, BOLD = Style(), Style(8, colour=SOFT), Style(bold=True)


@dataclass(frozen=True)
class Front:
    """What every page of a paper says: title, language, measures, foot line and "page {n} of {all}"."""

    title: str
    language: str = "en"
    measures: str = "metric"
    foot: str = ""
    page_of: str = "{n} / {all}"


class Sheet:
    """Pages of one paper. Not for two papers at once."""

    def __init__(self, front: Front) -> None:
        self.front = front
        self.pdf = FPDF(unit="mm", format=_SIZES[front.measures])
        self.pdf.set_auto_page_break(False)
        self.pdf.set_margins(MARGIN_MM, TOP_MM)
        self.pdf.set_lang(front.language)
        self.tags = TagTree()
        self.pdf.struct_builder = self.tags
        for (family, cut), (package, name) in _FONTS.items():
            self.pdf.add_font(family, cut, _font_file(package, name))
        self._glyphs = {one: _glyphs(self.pdf.fonts["".join(one)]) for one in _FONTS}
        self._widths: dict[tuple[str, str], dict[str, float]] = {one: {} for one in _FONTS}
        self.pdf.set_title(self.printable(front.title))
        self.pdf.set_creator("Makegood")
        self.pdf.alias_nb_pages("")
        self.y = 0.0
        self.new_page()

    @property
    def width(self) -> float:
        """Between the margins."""
        return float(self.pdf.w) - 2 * MARGIN_MM

    @property
    def bottom(self) -> float:
        """Where the page's room ends."""
        return float(self.pdf.h) - FOOT_MM

    @property
    def room(self) -> float:
        """What is left below the running place."""
        return self.bottom - self.y

    def new_page(self) -> None:
        """Begin a page."""
        self.pdf.add_page()
        self.y = TOP_MM

    def need(self, height_mm: float) -> None:
        """Turn the page if less than this is left; what is taller than a page stays where it is."""
        if height_mm > self.room and self.y > TOP_MM:
            self.new_page()

    def space(self, height_mm: float) -> None:
        """Leave some room."""
        self.y = min(self.y + height_mm, self.bottom)

    @contextmanager
    def tagged(self, kind: str, under: StructElem | None = None, alt: str | None = None) -> Iterator[None]:
        """Mark what is drawn within as one paragraph, cell or figure; it must stay on this page."""
        page = self.pdf.page
        mark, place = self.tags.leaf(kind, page, under, None if alt is None else self.printable(alt))
        self.pdf.pages[page].struct_parents = place
        self.pdf._out(f"/{kind} <</MCID {mark}>> BDC")
        yield
        if self.pdf.page != page:
            raise AssertionError("a tag may not run over a page's end")
        self.pdf._out("EMC")

    @contextmanager
    def artifact(self) -> Iterator[None]:
        """Mark what is drawn within as page furniture, which is not read aloud."""
        self.pdf._out("/Artifact BMC")
        yield
        self.pdf._out("EMC")

    def printable(self, text: str, style: Style = BODY) -> str:
        """Return text as this style's font can draw it."""
        return printable(text, self._glyphs[style.font])

    def put(self, x: float, y: float, text: str, style: Style = BODY) -> None:
        """Draw one line of text with its foot at y."""
        if not text:
            return
        self.pdf.set_font(*style.font, size=style.size_pt)
        self.pdf.set_text_color(style.colour)
        self.pdf.text(x, y, text)

    def text_width(self, text: str, style: Style = BODY) -> float:
        """Return how wide a line is [mm]."""
        known = self._widths[style.font]
        if any(sign not in known for sign in set(text)):
            font = self.pdf.fonts["".join(style.font)]
            known.update({sign: font.get_text_width(sign, 1, None)[1] for sign in set(text) - set(known)})
        return sum(map(known.__getitem__, text)) * style.size_pt * PT_MM

    def lines(self, text: str, width_mm: float, style: Style = BODY) -> list[str]:
        """Break text into lines that fit; a word too long for a line is cut."""
        found: list[str] = []
        for part in self.printable(text, style).split("\n"):
            found += self._wrapped(part, width_mm, style)
        return found

    def _wrapped(self, text: str, width_mm: float, style: Style) -> Iterator[str]:
        line, used, blank = "", 0.0, self.text_width(" ", style)
        for word in text.split(" "):
            wide = self.text_width(word, style)
            if line and used + blank + wide > width_mm:
                yield line
                line, used = "", 0.0
            while wide > width_mm and len(word) > 1:
                fits = max(1, len(self._fitting(word, width_mm, style)))
                yield word[:fits]
                word = word[fits:]
                wide = self.text_width(word, style)
            line, used = (f"{line} {word}", used + blank + wide) if line else (word, wide)
        yield line

    def _fitting(self, text: str, width_mm: float, style: Style) -> str:
        used = 0.0
        for k, sign in enumerate(text):
            used += self.text_width(sign, style)
            if used > width_mm:
                return text[:k]
        return text

    def cut(self, text: str, width_mm: float, style: Style = BODY) -> str:
        """Return one line that fits, with "…" where something was left out."""
        line = self.printable(text, style).replace("\n", " ")
        if self.text_width(line, style) <= width_mm:
            return line
        return self._fitting(line, width_mm - self.text_width("…", style), style) + "…"

    def rule(self, y: float, colour: str, width_mm: float = 0.2) -> None:
        """Draw a thin line across the page."""
        ink = " ".join(f"{int(colour[k : k + 2], 16) / 255:.3f}" for k in (1, 3, 5))
        at = f"{MARGIN_MM / PT_MM:.2f} {(self.pdf.h - y) / PT_MM:.2f} m {(MARGIN_MM + self.width) / PT_MM:.2f}"
        # Whole, as the library leaves out what it believes to be set: not so on a page that is gone back to.
        self.pdf._out(f"q {ink} RG {width_mm / PT_MM:.2f} w {at} {(self.pdf.h - y) / PT_MM:.2f} l S Q")

    def write(self, out: BinaryIO) -> None:
        """Number the pages and write the finished PDF."""
        pages = len(self.pdf.pages)
        for n in range(1, pages + 1):
            self.pdf.page = n
            self.pdf.current_font_is_set_on_page = False
            with self.artifact():
                self._foot(self.front.page_of.format(n=n, all=pages))
        out.write(self.pdf.output())

    def _foot(self, page_of: str) -> None:
        self.rule(self.bottom + 3.5, FAINT)
        words = self.cut(f"{self.front.title} · {self.front.foot}", self.width - 32, SMALL)
        self.put(MARGIN_MM, self.bottom + 8, words, SMALL)
        right = MARGIN_MM + self.width - self.text_width(page_of, SMALL)
        self.put(right, self.bottom + 8, page_of, SMALL)


def _glyphs(font: object) -> frozenset[int]:
    return frozenset(font.cmap) if isinstance(font, TTFFont) else frozenset(range(32, 127))


@cache
def _font_file(package: str, name: str) -> Path:
    found = find_spec(package)
    if found is None or found.origin is None:
        raise FileNotFoundError(f"the font package {package} is not installed")
    return Path(found.origin).parent / "files" / name
