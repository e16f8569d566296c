"""Hatches and pins of the families of damage, as the phone draws them: what tells marks apart without colour."""

from collections.abc import Mapping, Sequence
from math import cos, radians, sin
from typing import Any

from makegood.domain.vocabulary import shared
from makegood.papers.page.pen import Pen, Point, Stroke

# The phone's hatches are in CSS pixels; on paper one of them is this many millimetres.
PX_MM = 0.25
_PLAIN = "#50483c"
_PINS: Mapping[str, Sequence[Point]] = {
    "crack_deformation": [(0, 10), (6, 0), (0, -10), (-6, 0)],
    "detachment": [(-7, 7), (7, 7), (7, -7), (-7, -7)],
    "loss": [(-9, 7), (9, 7), (0, -9)],
    "discoloration": [(0, 10), (4.5, 2), (7, -3), (5, -8), (0, -10), (-5, -8), (-7, -3), (-4.5, 2)],
    "growth": [(-3, 9), (3, 9), (3, 3), (9, 3), (9, -3), (3, -3), (3, -9), (-3, -9), (-3, -3), (-9, -3), (-9, 3), (-3, 3)],
}  # fmt: skip


def family_look(family: str | None) -> Mapping[str, Any] | None:
    """Return colour, tint and hatch of a family; None where nobody has named the kind."""
    found: Mapping[str, Any] | None = shared("drawings")["families"].get(family)
    return found


def colour_of(family: str | None) -> str:
    """Return the colour of a family's lines."""
    look = family_look(family)
    return str(look["colour"]) if look else _PLAIN


def tint_of(family: str | None, over: str = "#e4d6bf") -> str:
    """Return a family's tint mixed with the wall's colour, as paper has no glass."""
    look = family_look(family)
    if look is None:
        return over
    tint = str(look["tint"])
    share = int(tint[7:9], 16) / 255
    mixed = (
        round(int(tint[k : k + 2], 16) * share + int(over[k : k + 2], 16) * (1 - share)) for k in (1, 3, 5)
    )
    return "#" + "".join(f"{one:02x}" for one in mixed)


def fill_hatched(pen: Pen, ring: Sequence[Point], family: str | None, over: str = "#e4d6bf") -> None:
    """Fill a closed shape with its family's tint and hatch, and draw its edge."""
    look = family_look(family)
    if look is not None:
        pen.shape(ring, fill=tint_of(family, over))
        pen.within(ring, lambda: _hatch(pen, ring, look))
    edge = Stroke(colour_of(family), 0.5, () if look else (1.2, 0.9))
    pen.shape(ring, stroke=edge)


def _hatch(pen: Pen, ring: Sequence[Point], look: Mapping[str, Any]) -> None:
    hatch = look["hatch"]
    step = hatch["spacing"] * PX_MM
    # Screen angles run clockwise, the pen's against the clock.
    turn = radians(-hatch["angle_deg"])
    along, across = (cos(turn), sin(turn)), (-sin(turn), cos(turn))
    far = [(x * along[0] + y * along[1], x * across[0] + y * across[1]) for x, y in ring]
    u0, u1 = min(u for u, _ in far), max(u for u, _ in far)
    v0, v1 = min(v for _, v in far), max(v for _, v in far)

    def at(u: float, v: float) -> Point:
        return u * along[0] + v * across[0], u * along[1] + v * across[1]

    v = v0 - v0 % step
    while v <= v1:
        _hatch_row(pen, hatch, (u0, u1, v), at, look["colour"])
        v += step


def _hatch_row(pen: Pen, hatch: Mapping[str, Any], row: tuple[float, float, float], at: Any, colour: str) -> None:
    u0, u1, v = row
    if hatch["kind"] == "dots":
        step = hatch["spacing"] * PX_MM
        u = u0 - u0 % step
        while u <= u1:
            pen.dot(at(u, v), hatch["dot_radius"] * PX_MM, colour)
            u += step
        return
    dash = tuple(one * PX_MM for one in hatch.get("dash", ()))
    stroke = Stroke(colour, hatch["width"] * PX_MM, dash)
    if hatch["kind"] != "waves":
        pen.line([at(u0, v), at(u1, v)], stroke)
        return
    length, high = hatch["wave_length"] * PX_MM, hatch["wave_height"] * PX_MM
    first = u0 - u0 % length
    count = int((u1 - first) / length * 8) + 2
    pen.line([at(first + k * length / 8, v + high * sin(k * 0.7853981634)) for k in range(count)], stroke)


def pin(pen: Pen, at: Point, family: str | None, scale: float = PX_MM) -> None:
    """Draw a family's pin."""
    shape = _PINS.get(family or "")
    if shape is None:
        pen.dot(at, 8.5 * scale, "#ffffff")
        pen.dot(at, 7 * scale, _PLAIN)
        return
    ring = [(at[0] + x * scale, at[1] + y * scale) for x, y in shape]
    pen.shape(ring, fill=colour_of(family), stroke=Stroke("#ffffff", 0.3))
