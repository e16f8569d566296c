"""Counts of a group, and its curve against a general-purpose survival library."""

import random
from math import inf

import pytest
from lifelines.fitters.npmle import npmle

from makegood.domain.ledger.follow import Followed, Span
from makegood.domain.ledger.group import curve_of, group, span_of

HAIR = 1e-6


def seen(verdict, left=None, right=None, days=(100.0, None)):
    span = None if left is None else Span(left, right)
    return Followed("f", verdict, 1, Span(*days), span)


def test_three_of_four_panels_held_through_140():
    four = [seen("held", 140.0), seen("worn", 151.0), seen("held", 140.0), seen("let_go", 12.0, 31.0)]
    counted = group(four, "l_m2")
    assert (counted.held, counted.followed, counted.held_through, counted.most) == (3, 4, 140.0, 151.0)
    assert counted.gone_between == ((12.0, 31.0),)
    assert counted.worn == 1
    assert counted.too_few
    assert curve_of(four, "l_m2") is None


def test_what_cannot_be_counted_is_told_apart():
    counted = group([seen("not_looked", 0.0), seen("no_day"), seen("let_go", None, None), seen("held", 5.0)], "l_m2")
    assert (counted.followed, counted.not_looked, counted.not_known) == (1, 1, 2)


def test_days_and_rain_are_counted_apart():
    one = seen("let_go", None, None, (10.0, 20.0))
    assert span_of(one, "days") == (10.0, 20.0)
    assert group([one], "days").let_go == 1
    assert group([one], "l_m2").let_go == 0


def test_nothing_at_all():
    counted = group([], "days")
    assert (counted.followed, counted.held_through, counted.most, counted.too_few) == (0, None, None, True)


@pytest.mark.parametrize("seed", range(12))
def test_curve_agrees_with_lifelines_on_random_panels(seed):
    rng = random.Random(seed)
    members = []
    for _ in range(rng.randint(25, 60)):
        looks = sorted(rng.sample(range(1, 240), 4))
        gone_at = rng.expovariate(1 / 90)
        after = next((look for look in looks if look >= gone_at), None)
        before = max((look for look in looks if look < gone_at), default=0)
        members.append(seen("held", float(looks[-1])) if after is None else seen("let_go", float(before), float(after)))
    curve = curve_of(members, "l_m2")
    spans = [one.l_m2 for one in members]
    # The library takes closed intervals: a hair keeps a sound look out of the interval that begins with it.
    theirs, support = npmle(
        [span.left + HAIR for span in spans], [inf if span.right is None else span.right for span in spans], tol=1e-9
    )
    assert curve.converged
    assert [left for left, _ in curve.support] == pytest.approx([left for left, _ in support], abs=2 * HAIR)
    assert [right for _, right in curve.support] == [right for _, right in support]
    assert curve.mass == pytest.approx(list(theirs), abs=3e-3)
