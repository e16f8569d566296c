"""How pressing a defect is, and why: the rules of shared/urgency.json held against what was seen.

The table decides; this module only knows how to read it. The phone judges with the same table
(web/src/model/urgency.ts), and shared/vectors/urgency.json holds both to one answer.
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import NotRequired, TypedDict


@dataclass(frozen=True)
class Facts:
    """What is known of one defect; None where nobody has said.

    cover_mm is the thickness of all coats; finish_kind is lime, earth or none, as repair methods read it.
    """

    kind: str | None
    signs: tuple[str, ...] = ()
    depth_max_mm: float | None = None
    cover_mm: float | None = None
    area_m2: float | None = None
    crack_width_mm: float | None = None
    wall_material: str | None = None
    finish_kind: str | None = None


class When(TypedDict, total=False):
    """The conditions of a rule; all that are given must hold."""

    kinds: list[str]
    wall_materials: list[str]
    signs: list[str]
    all_signs: list[str]
    beyond_cover: bool
    depth_over_mm: float
    area_over_m2: float
    crack_over_mm: float


class UrgencyRule(TypedDict):
    """One line of the table."""

    id: str
    when: When
    gives: str
    engineer_first: NotRequired[bool]


class FallBack(TypedDict):
    """What is said when no rule speaks."""

    id: str
    gives: str


class UrgencyTable(TypedDict):
    """shared/urgency.json; order runs from the most pressing to the least."""

    order: list[str]
    default: FallBack
    rules: list[UrgencyRule]


@dataclass(frozen=True)
class Judgement:
    """An urgency with the ids of the rules that led to it."""

    urgency: str
    reasons: tuple[str, ...]
    engineer_first: bool


def goes_beyond_cover(facts: Facts) -> bool:
    """Say whether the deepest place reaches the wall behind the coats; unknown counts as no."""
    return (
        facts.depth_max_mm is not None
        and facts.cover_mm is not None
        and facts.depth_max_mm >= facts.cover_mm
    )


def _over(value: float | None, limit: float | None) -> bool:
    return limit is None or (value is not None and value > limit)


def _one_of(value: str | None, allowed: Sequence[str] | None) -> bool:
    return allowed is None or value in allowed


def _signs_fit(when: When, signs: Collection[str]) -> bool:
    any_of, all_of = when.get("signs"), when.get("all_signs", [])
    return (any_of is None or any(s in signs for s in any_of)) and all(s in signs for s in all_of)


def speaks(when: When, facts: Facts) -> bool:
    """Say whether every condition given holds for these facts."""
    cover = when.get("beyond_cover")
    return (
        _one_of(facts.kind, when.get("kinds"))
        and _one_of(facts.wall_material, when.get("wall_materials"))
        and _signs_fit(when, facts.signs)
        and (cover is None or goes_beyond_cover(facts) == cover)
        and _over(facts.depth_max_mm, when.get("depth_over_mm"))
        and _over(facts.area_m2, when.get("area_over_m2"))
        and _over(facts.crack_width_mm, when.get("crack_over_mm"))
    )


def judge(facts: Facts, rules: UrgencyTable) -> Judgement:
    """Return the most pressing urgency any rule gives, with its reasons in the order of the table."""
    speaking = [rule for rule in rules["rules"] if speaks(rule["when"], facts)]
    if not speaking:
        return Judgement(rules["default"]["gives"], (rules["default"]["id"],), False)
    urgency = min((rule["gives"] for rule in speaking), key=rules["order"].index)
    reasons = tuple(r["id"] for r in speaking if r["gives"] == urgency or r.get("engineer_first", False))
    return Judgement(urgency, reasons, any(r.get("engineer_first", False) for r in speaking))
