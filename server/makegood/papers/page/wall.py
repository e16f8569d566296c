"""One side of a building drawn to scale: edge, openings, marks with their hatch and number, a scale bar and a legend."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from math import floor, log10, pi
from typing import Any

from makegood.domain.building import opening_ring
from makegood.domain.ledger.place import in_view
from makegood.papers.page.hatch import colour_of, fill_hatched, pin
from makegood.papers.page.pen import Pen, Point, Stroke, draw
from makegood.papers.page.sheet import INK, MARGIN_MM, SMALL, Sheet, Style
from makegood.science.dome import Flat
from makegood.science.surface import Surface, silhouette_points, surface_from

TALLEST_MM = 95.0
_COAT, _HOLE, _GROUND, _PANE = "#e4d6bf", "#bba789", "#fbf8f0", "#fffdf8"
_PIECES = 8
_LEAST = {"pin": 1, "line": 2, "outline": 3}
FT_M = 0.3048


@dataclass(frozen=True)
class DrawnMark:
    """One mark: what is written beside it, its family, and whether it is the one meant."""

    mark: Mapping[str, Any]
    label: str
    family: str | None
    meant: bool = False


@dataclass(frozen=True)
class DrawnWall:
    """What a drawing shows: the elevation's row, its marks, the measures of the scale bar, and the picture in words."""

    elevation: Mapping[str, Any]
    marks: Sequence[DrawnMark]
    measures: str
    alt: str


def carried(surface: Surface, mark: Mapping[str, Any], view: str) -> list[Point] | None:
    """Return a mark's points as they lie in a view [m]; None where too little of it shows there."""
    points = [(float(x), float(y)) for x, y in mark["points_m"]]
    if isinstance(surface, Flat) or mark["view"] == view:
        return points
    if view == "above" and not surface.shows_above:
        return None
    ends = points if mark["shape"] == "outline" else points[:-1]
    dense = [
        (a[0] + (b[0] - a[0]) * k / _PIECES, a[1] + (b[1] - a[1]) * k / _PIECES)
        for i, a in enumerate(ends)
        for b in (points[(i + 1) % len(points)],)
        for k in range(_PIECES)
    ]
    dense += [] if mark["shape"] == "outline" else points[-1:]
    shown = [one for point in dense if (one := in_view(surface, point, mark["view"], view)) is not None]
    if view == "unrolled" and _jumps(shown, pi * surface.foot_radius, mark["shape"] == "outline"):
        return None
    return shown if len(shown) >= _LEAST[mark["shape"]] else None


def _jumps(points: Sequence[Point], half_m: float, closed: bool) -> bool:
    """Whether neighbours lie more than half the wall apart: the seam at the back lies between them."""
    before = [points[-1] if closed else points[0], *points[:-1]] if points else []
    return any(abs(a[0] - b[0]) > half_m for a, b in zip(points, before, strict=True))


def views_for(wall: DrawnWall) -> list[str]:
    """Return the views that together show every mark: from the front, and those that show what it hides."""
    surface = surface_from(wall.elevation["surface"])
    views = ["seen"]
    hidden = [one for one in wall.marks if carried(surface, one.mark, "seen") is None]
    for view in ("unrolled", "above"):
        still = [one for one in hidden if carried(surface, one.mark, view) is None]
        if len(still) < len(hidden):
            views.append(view)
        hidden = still
    return views


def draw_wall(sheet: Sheet, wall: DrawnWall, view: str, tallest_mm: float = TALLEST_MM) -> None:
    """Draw one view of a side as large as the page's width and `tallest_mm` allow."""
    surface = surface_from(wall.elevation["surface"])
    edge = silhouette_points(surface, view, 64)
    x0, x1 = min(x for x, _ in edge), max(x for x, _ in edge)
    y0, y1 = min(y for _, y in edge), max(y for _, y in edge)
    scale = min((sheet.width - 14) / (x1 - x0), tallest_mm / (y1 - y0))
    scene = _Scene(wall, surface, view, scale, (x0, y0))
    size = ((x1 - x0) * scale + 14, (y1 - y0) * scale + 16)
    draw(sheet, size, wall.alt, lambda pen: scene.paint(pen, edge))


@dataclass(frozen=True)
class _Scene:
    """One drawing: metres to millimetres."""

    wall: DrawnWall
    surface: Surface
    view: str
    scale: float
    corner: tuple[float, float]

    def at(self, point: Sequence[float]) -> Point:
        return (point[0] - self.corner[0]) * self.scale + 7, (point[1] - self.corner[1]) * self.scale + 9

    def paint(self, pen: Pen, edge: Sequence[Point]) -> None:
        ring = [self.at(one) for one in edge]
        pen.shape(ring, fill=_COAT)
        pen.within(ring, lambda: self._openings(pen))
        placed = [(one, carried(self.surface, one.mark, self.view)) for one in self.wall.marks]
        shown = [(one, [self.at(point) for point in points]) for one, points in placed if points]
        for one, points in sorted(shown, key=lambda pair: -_spread(pair[1])):
            self._mark(pen, one, points)
        pen.shape(ring, stroke=Stroke(INK, 0.45))
        feet = [x for x, _ in ring]
        if self.view != "above":
            pen.line([(min(feet) - 5, 9), (max(feet) + 5, 9)], Stroke(INK, 0.6))
        taken: list[Point] = []
        for one, points in shown:
            self._label(pen, one, points, taken)
        self._scale_bar(pen)

    def _openings(self, pen: Pen) -> None:
        for opening in self.wall.elevation.get("openings") or []:
            ring = opening_ring(opening)
            if self.view != "seen":
                found = carried(self.surface, {"view": "seen", "shape": "outline", "points_m": ring}, self.view)
                if found is None:
                    continue
                ring = found
            window = opening["kind"] == "window"
            pen.shape([self.at(one) for one in ring], _PANE if window else _HOLE, Stroke(INK, 0.3))
            if window and self.view == "seen":
                self._glazing(pen, opening)

    def _glazing(self, pen: Pen, opening: Mapping[str, Any]) -> None:
        """Draw the bars of a window, which tell it from a door without colour, as on the phone."""
        x, y, wide, high = (float(opening[name]) for name in ("x_m", "y_m", "width_m", "height_m"))
        pen.line([self.at((x + wide / 2, y)), self.at((x + wide / 2, y + high))], Stroke(INK, 0.25))
        pen.line([self.at((x, y + high / 2)), self.at((x + wide, y + high / 2))], Stroke(INK, 0.25))

    def _mark(self, pen: Pen, one: DrawnMark, points: Sequence[Point]) -> None:
        if one.mark["shape"] == "outline":
            fill_hatched(pen, points, one.family)
        elif one.mark["shape"] == "line":
            pen.line(points, Stroke(_GROUND, 1.5))
            pen.line(points, Stroke(colour_of(one.family), 0.8))
        else:
            pin(pen, points[0], one.family)
        if one.meant:
            x, y = _middle(points)
            r = max(_spread(points) / 2 + 2.5, 4)
            pen.shape([(x - r, y - r), (x + r, y - r), (x + r, y + r), (x - r, y + r)], None, Stroke("#26365f", 0.7, (2, 1.2)))

    def _label(self, pen: Pen, one: DrawnMark, points: Sequence[Point], taken: list[Point]) -> None:
        style = Style(8.5, bold=True)
        wide = pen.width_of(one.label, style) + 2.4
        x, y = max(points, key=lambda point: point[1])
        y += 3.6
        while any(abs(x - a) < wide and abs(y - b) < 4.6 for a, b in taken) and len(taken) < 200:
            y += 4.7
        taken.append((x, y))
        left, foot = x - wide / 2, y - 2
        box = [(left, foot), (left + wide, foot), (left + wide, foot + 4.2), (left, foot + 4.2)]
        pen.shape(box, "#ffffff", Stroke("#26365f" if one.meant else INK, 0.6 if one.meant else 0.25))
        pen.text((x, foot + 1.1), one.label, style, "middle")

    def _scale_bar(self, pen: Pen) -> None:
        unit_m, name = (FT_M, "ft") if self.wall.measures == "us" else (1.0, "m")
        most = 40 / self.scale / unit_m
        ten: float = 10.0 ** floor(log10(most))
        length = max(step * ten for step in (1, 2, 5) if step * ten <= most)
        wide = length * unit_m * self.scale
        pen.line([(7, 3), (7 + wide, 3)], Stroke(INK, 0.5))
        for x in (7, 7 + wide):
            pen.line([(x, 2), (x, 4)], Stroke(INK, 0.5))
        pen.text((9 + wide, 2), f"{length:g} {name}", SMALL)


def _middle(points: Sequence[Point]) -> Point:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


def _spread(points: Sequence[Point]) -> float:
    return max(max(x for x, _ in points) - min(x for x, _ in points), max(y for _, y in points) - min(y for _, y in points))


def legend(sheet: Sheet, families: Sequence[str], name_of: Callable[[str], str], title: str) -> None:
    """Draw what the hatches and pins mean, one family after another."""
    if not families:
        return
    names = [name_of(one) for one in families]
    wide = sheet.width / 2

    def drawing(pen: Pen) -> None:
        rows = (len(families) + 1) // 2
        for k, family in enumerate(families):
            left, foot = (k % 2) * wide, (rows - 1 - k // 2) * 6.5
            fill_hatched(pen, [(left, foot), (left + 10, foot), (left + 10, foot + 5), (left, foot + 5)], family)
            pin(pen, (left + 14, foot + 2.5), family)
            pen.text((left + 19, foot + 1.4), names[k], Style(9))

    draw(sheet, (sheet.width, 6.5 * ((len(families) + 1) // 2)), f"{title}: {', '.join(names)}", drawing, MARGIN_MM)
