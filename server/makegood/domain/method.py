"""Which repair method to suggest for a defect: a table read from the top, the first line that fits wins."""

from collections.abc import Mapping, Sequence
from typing import TypedDict

EVERY_KIND = "*"


class Facts(TypedDict, total=False):
    """What is known of a defect; absent or None is unknown, and an unknown never meets a need."""

    kind: str | None
    signs: list[str]
    depth_max_mm: float | None
    cover_mm: float | None
    area_m2: float | None
    crack_width_mm: float | None
    wall_material: str | None
    finish_kind: str | None


class Needs(TypedDict, total=False):
    """What a line of the table asks for beyond the kind."""

    sign: str
    depth_over_mm: float
    depth_upto_mm: float
    crack_over_mm: float
    area_over_m2: float
    beyond_cover: bool
    finish_kind: str
    wall_material: list[str]


class Rule(TypedDict):
    """One line of the table."""

    id: str
    kinds: list[str]
    needs: Needs
    method: str


def suggest(facts: Facts, rules: Sequence[Rule]) -> str:
    """Return the id of the method the table suggests; the last line of the table fits everything."""
    for rule in rules:
        if _is_of_kind(facts.get("kind"), rule["kinds"]) and _meets(facts, rule["needs"]):
            return rule["method"]
    raise LookupError("the suggestion table has no last line that fits everything")


def _is_of_kind(kind: str | None, kinds: Sequence[str]) -> bool:
    return EVERY_KIND in kinds or kind in kinds


def _meets(facts: Facts, needs: Needs) -> bool:
    depth_mm, cover_mm = facts.get("depth_max_mm"), facts.get("cover_mm")
    met: Mapping[str, bool] = {
        "sign": needs.get("sign") in (facts.get("signs") or []),
        "depth_over_mm": _over(depth_mm, needs.get("depth_over_mm")),
        "depth_upto_mm": depth_mm is not None and not _over(depth_mm, needs.get("depth_upto_mm")),
        "crack_over_mm": _over(facts.get("crack_width_mm"), needs.get("crack_over_mm")),
        "area_over_m2": _over(facts.get("area_m2"), needs.get("area_over_m2")),
        "beyond_cover": _is_beyond(depth_mm, cover_mm) == needs.get("beyond_cover"),
        "finish_kind": facts.get("finish_kind") == needs.get("finish_kind"),
        "wall_material": facts.get("wall_material") in needs.get("wall_material", []),
    }
    return all(met[need] for need in needs)


def _over(value: float | None, limit: float | None) -> bool:
    return value is not None and limit is not None and value > limit


def _is_beyond(depth_mm: float | None, cover_mm: float | None) -> bool | None:
    """Whether the damage reaches through the coats into the wall; None if that is not known."""
    return None if depth_mm is None or cover_mm is None else depth_mm >= cover_mm
