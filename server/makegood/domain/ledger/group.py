"""Finishes of one sort side by side: how many held, through what, and between what the others let go.

The same in web/src/model/lasting/group.ts. Counts always; a curve only where there are enough to draw one.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from makegood.domain.ledger.follow import Followed, Span
from makegood.science.endurance import IntervalCurve, interval_curve, is_too_few

MEASURES = ("l_m2", "days")


@dataclass(frozen=True)
class Group:
    """Counts of a group by one measure, L/m2 or days.

    followed: looked at and measurable; held (worn ones too) and let_go add up to it. held_through: what each of
    those that held was seen to stand at least; most: the longest seen stood. not_looked, not_known (no day of
    laying, or rain not known) are left out of the rest. too_few: no curve and no ranking.
    """

    followed: int
    held: int
    worn: int
    let_go: int
    held_through: float | None
    most: float | None
    gone_between: tuple[Span, ...]
    not_looked: int
    not_known: int
    too_few: bool


def span_of(one: Followed, measure: str) -> Span | None:
    """Return the interval of one finish by a measure; None where it wasn't looked at or cannot be told."""
    if one.verdict in ("not_looked", "no_day"):
        return None
    return one.l_m2 if measure == "l_m2" else one.days


def group(members: Sequence[Followed], measure: str) -> Group:
    """Return the counts of some finishes by `l_m2` or `days`."""
    known = [(one, span) for one in members if (span := span_of(one, measure)) is not None]
    stood = [span.left for _, span in known if span.right is None]
    gone = sorted((span.left, span.right) for _, span in known if span.right is not None)
    not_looked = sum(1 for one in members if one.verdict == "not_looked")
    return Group(
        followed=len(known),
        held=len(stood),
        worn=sum(1 for one, _ in known if one.verdict == "worn"),
        let_go=len(gone),
        held_through=min(stood, default=None),
        most=max((span.left for _, span in known), default=None),
        gone_between=tuple(Span(*span) for span in gone),
        not_looked=not_looked,
        not_known=len(members) - len(known) - not_looked,
        too_few=is_too_few(len(known), len(gone)),
    )


def curve_of(members: Sequence[Followed], measure: str) -> IntervalCurve | None:
    """Return the survival curve of a group, None while there are too few to draw one."""
    spans = [span for one in members if (span := span_of(one, measure)) is not None]
    if is_too_few(len(spans), sum(1 for span in spans if span.right is not None)):
        return None
    return interval_curve(spans, sound_at_left=True)
