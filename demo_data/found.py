"""What a survey of the invented site notes of a defect: mark, cause, signs, dated readings."""

from dataclasses import dataclass
from typing import Any

from site_plan import Mark

Measures = dict[str, float]


@dataclass(frozen=True)
class Second:
    """The second look at a defect: how it stands, new measures, how much larger its outline was drawn."""

    state: str
    measures: Measures | None = None
    larger: float = 1.0
    note: str | None = None


@dataclass(frozen=True)
class Defect:
    """One thing wrong. `found` names the survey that found it; `second` is the later look, if any."""

    elevation: str
    kind: str
    mark: Mark
    cause: str | None
    signs: str = ""
    note: str | None = None
    measures: Measures | None = None
    second: Second | None = None
    found: str = "first"


def depths(mean: float, deepest: float, **more: float) -> Measures:
    """Return mean and deepest depth in millimetres, with other measures beside them."""
    return {"depth_mean_mm": mean, "depth_max_mm": deepest, **more}


def width(width_mm: float) -> Measures:
    """Return the width of a crack."""
    return {"crack_width_mm": width_mm}


def late(*given: Any, **more: Any) -> Defect:
    """Return a defect of the second survey."""
    return Defect(*given, found="second", **more)
