"""What is known of one defect, from its mark, its readings and the wall under it; the phone's twin is model/defect.ts.

Rows come as plain mappings of their fields; readings oldest first.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from makegood.domain.ledger.place import lies, middle
from makegood.errors import MakegoodError
from makegood.science.materials.shapes import Job
from makegood.science.outline import reckon_area, reckon_length

Plain = Mapping[str, Any]


@dataclass(frozen=True)
class Wall:
    """The side a defect lies on, its building, the finishes that stand on it, the newest last; mixes tried on that building."""

    elevation: Plain
    structure: Plain | None
    finishes: Sequence[Plain] = ()
    tried: Sequence[str] = ()


@dataclass(frozen=True)
class Known:
    """A defect with its readings, oldest first, and its wall."""

    defect: Plain
    readings: Sequence[Plain]
    wall: Wall

    @property
    def mark(self) -> Plain:
        """The mark of the latest reading that drew one, else the defect's own."""
        drawn: Plain | None = self.latest("mark")
        return self.defect["mark"] if drawn is None else drawn

    def latest(self, name: str) -> Any:
        """Return the latest answer to a question; a reading that was silent leaves the earlier answer standing."""
        answers = (one.get(name) for one in reversed(self.readings))
        return next((answer for answer in answers if answer is not None), None)


@dataclass(frozen=True)
class Size:
    """True sizes, None where nothing tells them; the area as drawn; warning codes."""

    area_m2: float | None = None
    as_drawn_m2: float | None = None
    perimeter_m: float | None = None
    length_m: float | None = None
    warnings: tuple[str, ...] = field(default=())


def size_of_mark(mark: Plain, surface: object) -> Size:
    """Return the size a mark shows on its wall; one that does not fit the wall any more shows none."""
    try:
        if mark["shape"] == "outline":
            found = reckon_area(surface, mark["view"], mark["points_m"])
            return Size(found.area_m2, found.as_drawn_m2, found.perimeter_m, None, tuple(found.warnings))
        if mark["shape"] == "line":
            line = reckon_length(surface, mark["view"], mark["points_m"])
            return Size(length_m=line.length_m, warnings=tuple(line.warnings))
    except MakegoodError as refusal:
        return Size(warnings=(refusal.code,))
    return Size()


def size_of(known: Known) -> Size:
    """Return a defect's size: drawn where it was drawn, else as the latest reading gave it."""
    drawn = size_of_mark(known.mark, known.wall.elevation["surface"])
    area_m2 = known.latest("area_m2") if drawn.area_m2 is None else drawn.area_m2
    length_m = known.latest("length_m") if drawn.length_m is None else drawn.length_m
    return Size(area_m2, drawn.as_drawn_m2, drawn.perimeter_m, length_m, drawn.warnings)


def finish_under(mark: Plain, finishes: Sequence[Plain]) -> Plain | None:
    """Return the newest finish whose region holds the mark's middle, else the newest over the whole side."""
    spot = middle(mark)
    newest_first = list(reversed(finishes))
    for one in newest_first:
        region = one.get("region")
        if region is not None and region["view"] == mark["view"] and lies(spot, region["points_m"]):
            return one
    return next((one for one in newest_first if one.get("region") is None), None)


def finish_kind_of(coats: Sequence[Plain], mixes: Mapping[str, Plain]) -> str:
    """Return lime, earth or none, as repair methods read a finish."""
    kinds = [mixes[coat["mix"]]["kind"] for coat in coats if coat["mix"] in mixes]
    laid = [kind for kind in kinds if kind != "wash"]
    if not laid:
        return "lime" if coats else "none"
    return "earth" if laid[-1] == "earth" else "lime"


def facts_of(known: Known, mixes: Mapping[str, Plain], size: Size) -> dict[str, Any]:
    """Return the facts that urgency and method ask for."""
    finish = finish_under(known.mark, known.wall.finishes)
    coats = finish["coats"] if finish else []
    return {
        "kind": known.defect.get("kind"),
        "signs": list(known.defect.get("signs") or []),
        "depth_max_mm": known.latest("depth_max_mm"),
        "cover_mm": sum(coat["thickness_mm"] for coat in coats) if finish else None,
        "area_m2": size.area_m2,
        "crack_width_mm": known.latest("crack_width_mm"),
        "wall_material": known.wall.structure["wall_material"] if known.wall.structure else None,
        "finish_kind": finish_kind_of(coats, mixes) if finish else "none",
    }


def job_of(known: Known, mixes: Mapping[str, Plain]) -> Job:
    """Return the repair job of one defect, as the estimate takes it."""
    size = size_of(known)
    facts = facts_of(known, mixes, size)
    return {
        "area_m2": size.area_m2, "perimeter_m": size.perimeter_m, "length_m": size.length_m,
        "count": known.latest("count"), "depth_mean_mm": known.latest("depth_mean_mm"),
        "depth_max_mm": facts["depth_max_mm"], "crack_width_mm": facts["crack_width_mm"],
        "cover_mm": facts["cover_mm"], "wall_material": facts["wall_material"],
        "finish_kind": facts["finish_kind"],
        "panel_mixes": list(known.wall.tried),
    }  # fmt: skip
