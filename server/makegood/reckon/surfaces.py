"""`reckon area`: true area and edge of an outline on a wall, or of the whole wall."""

from dataclasses import asdict

from makegood.reckon.given import Given, bad, missing
from makegood.science.dome import Flat
from makegood.science.outline import AreaReckoned, reckon_area
from makegood.science.surface import surface_from


def area(given: Given) -> dict[str, object]:
    """Return area_m2, as_drawn_m2, perimeter_m and warnings; see `makegood.science.outline.reckon_area`."""
    return asdict(drawn_area(given))


def drawn_area(given: Given) -> AreaReckoned:
    """Reckon `surface`, `view` and `outline_m`; the view may be left out where it makes no difference."""
    described = given.value("surface")
    if described is None:
        raise missing("surface", "Describe the wall: surface with its kind and sizes.")
    surface, outline, view = surface_from(described), given.value("outline_m"), given.value("view")
    if view is None and (outline is None or isinstance(surface, Flat)):
        view = "seen"
    if not isinstance(view, str):
        raise bad("view", "Say which view was drawn on: seen, unrolled or above.")
    return reckon_area(surface, view, outline)
