"""A pen for drawings and plots: points and lengths in millimetres of paper, y up from the drawing's lower left corner."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from makegood.papers.page.sheet import MARGIN_MM, SMALL, Sheet, Style

Point = tuple[float, float]
_PT = 72 / 25.4


@dataclass(frozen=True)
class Stroke:
    """A line: colour, width [mm], dashes [mm]."""

    colour: str = "#211d18"
    width_mm: float = 0.3
    dash_mm: tuple[float, ...] = ()


class Pen:
    """Draws inside one frame of a sheet; made by `draw`."""

    def __init__(self, sheet: Sheet, left_mm: float, foot_mm: float) -> None:
        self._sheet = sheet
        self._left = left_mm
        self._foot = foot_mm

    def _at(self, point: Point) -> str:
        x = (self._left + point[0]) * _PT
        y = (float(self._sheet.pdf.h) - self._foot + point[1]) * _PT
        return f"{x:.2f} {y:.2f}"

    def _path(self, points: Sequence[Point], closed: bool) -> str:
        first, *others = points
        path = f"{self._at(first)} m " + " ".join(f"{self._at(one)} l" for one in others)
        return f"{path} h" if closed else path

    def shape(self, points: Sequence[Point], fill: str | None = None, stroke: Stroke | None = None) -> None:
        """Draw a closed shape."""
        paint = {(True, True): "B", (True, False): "f", (False, True): "S"}.get((fill is not None, stroke is not None))
        if paint is None or len(points) < 2:
            return
        parts = ["q", f"{_rgb(fill)} rg" if fill else "", _stroke(stroke) if stroke else ""]
        self._sheet.pdf._out(" ".join([*parts, self._path(points, True), paint, "Q"]))

    def line(self, points: Sequence[Point], stroke: Stroke | None = None) -> None:
        """Draw a line through points."""
        if len(points) > 1:
            self._sheet.pdf._out(f"q 1 J 1 j {_stroke(stroke or Stroke())} {self._path(points, False)} S Q")

    def dot(self, at: Point, radius_mm: float, colour: str) -> None:
        """Draw a filled circle."""
        k, (x, y), r = 0.5523 * radius_mm, at, radius_mm
        turns = [((x + r, y + k), (x + k, y + r), (x, y + r)), ((x - k, y + r), (x - r, y + k), (x - r, y)),
                 ((x - r, y - k), (x - k, y - r), (x, y - r)), ((x + k, y - r), (x + r, y - k), (x + r, y))]  # fmt: skip
        path = " ".join(f"{self._at(a)} {self._at(b)} {self._at(c)} c" for a, b, c in turns)
        self._sheet.pdf._out(f"q {_rgb(colour)} rg {self._at((x + r, y))} m {path} f Q")

    def within(self, points: Sequence[Point], draw: Callable[[], None]) -> None:
        """Draw only inside a closed shape."""
        self._sheet.pdf._out(f"q {self._path(points, True)} W n")
        draw()
        self._sheet.pdf._out("Q")

    def text(self, at: Point, text: str, style: Style = SMALL, anchor: str = "left") -> None:
        """Write one line; `anchor` says which end of it stands at the point: left, middle or right."""
        line = self._sheet.printable(text, style)
        share = {"left": 0.0, "middle": 0.5, "right": 1.0}[anchor]
        x = self._left + at[0] - share * self._sheet.text_width(line, style)
        self._sheet.put(x, self._foot - at[1], line, style)

    def width_of(self, text: str, style: Style = SMALL) -> float:
        """Return how wide a line is [mm]."""
        return self._sheet.text_width(self._sheet.printable(text, style), style)


def draw(sheet: Sheet, size_mm: Point, alt: str, drawing: Callable[[Pen], None], left_mm: float | None = None) -> None:
    """Draw a picture of this size at the running place, tagged as a figure that `alt` tells in words; the hook for plots."""
    width_mm, height_mm = size_mm
    sheet.need(height_mm + 2)
    left = MARGIN_MM + (sheet.width - width_mm) / 2 if left_mm is None else left_mm
    with sheet.tagged("Figure", alt=alt):
        drawing(Pen(sheet, left, sheet.y + height_mm))
    sheet.space(height_mm + 2)


def _rgb(colour: str) -> str:
    return " ".join(f"{int(colour[k : k + 2], 16) / 255:.3f}" for k in (1, 3, 5))


def _stroke(stroke: Stroke) -> str:
    dash = " ".join(f"{one * _PT:.2f}" for one in stroke.dash_mm)
    return f"{_rgb(stroke.colour)} RG {stroke.width_mm * _PT:.2f} w [{dash}] 0 d"
