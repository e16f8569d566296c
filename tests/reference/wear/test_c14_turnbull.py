"""C14: interval-censored masses on closed intervals.

Support and masses: read, from the published tests of a general-purpose survival library (test_npmle.py).
The masses of the second case: worked out by hand below.
"""

from math import inf

import pytest

from makegood.science.endurance import interval_curve

TEN = [(1, 7), (8, 8), (8, 10), (7, 16), (7, 14), (17, None), (37, 44), (46, None), (46, inf), (45, None)]
SIX = [(0, 1), (4, 6), (2, 6), (0, 3), (2, 4), (5, 7)]


def test_ten_intervals():
    curve = interval_curve(TEN)
    assert curve.support == [(7, 7), (8, 8), (37, 44), (46, inf)]
    assert curve.mass == pytest.approx([1 / 6, 1 / 3, 1 / 8, 3 / 8], abs=1e-8)
    assert curve.converged


def test_six_intervals():
    curve = interval_curve(SIX)
    assert curve.support == [(0, 1), (2, 3), (4, 4), (5, 6)]
    # By hand: masses a, b, c, d; pull on each support is the sum of 1/6 over the chances it helps, and
    # must be 1: a: 1/a + 1/(a+b) = 4 + 2; b: 1/(1-a) + 1/(a+b) + 1/(b+c) = 4/3 + 2 + 8/3; c: 1/(c+d) +
    # 1/(1-a) + 1/(b+c) = 2 + 4/3 + 8/3; d: 1/(c+d) + 1/(1-a) + 1/d = 2 + 4/3 + 8/3; each 6.
    assert curve.mass == pytest.approx([0.25, 0.25, 0.125, 0.375], abs=1e-8)
    assert curve.converged


def test_weights_stand_for_repeated_intervals():
    published = [0.2051282, 0.4102564, 0.0961539, 0.2884615]
    weighted = interval_curve(TEN, [2, 2, 2, 1, 1, 1, 1, 1, 1, 1])
    repeated = interval_curve([*TEN[:3], *TEN])
    assert weighted.mass == pytest.approx(published, rel=1e-4)
    assert repeated.mass == pytest.approx(published, rel=1e-4)


def test_five_overlapping_intervals():
    curve = interval_curve([(6, 7), (7, 8), (8, 10), (7, 16), (5, 20)])
    assert curve.support == [(7, 7), (8, 8)]
    assert curve.mass == pytest.approx([0.5, 0.5], abs=1e-8)
