"""C13: the 6-MP remission times, Kaplan-Meier with Greenwood and log-rank.

Data, medians, S(10) and its error of the placebo group: read (Introductory Biostatistics, ex. 11.1, and
two lecture texts). Other survival figures and the chi-square: calculated from the same data with the
textbook formulas.
"""

import pytest

from makegood.science.endurance import log_rank, survival, survival_at

FAILED = [6, 6, 6, 7, 10, 13, 16, 22, 23]
STILL_SOUND = [6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35]
TREATED = (FAILED + STILL_SOUND, [True] * len(FAILED) + [False] * len(STILL_SOUND))
PLACEBO_WEEKS = [1, 1, 2, 2, 3, 4, 4, 5, 5, 8, 8, 8, 8, 11, 11, 12, 12, 15, 17, 22, 23]
PLACEBO = (PLACEBO_WEEKS, [True] * len(PLACEBO_WEEKS))


def test_treated_group():
    curve = survival(*TREATED)
    expected = {6: 0.8571, 7: 0.8067, 10: 0.7529, 13: 0.6902, 16: 0.6275, 22: 0.5378, 23: 0.4482}
    assert {moment.at: round(moment.survival, 4) for moment in curve.moments} == expected
    at_ten = next(moment for moment in curve.moments if moment.at == 10)
    assert at_ten.standard_error == pytest.approx(0.0963, abs=1e-4)
    assert (curve.median, curve.followed, curve.failed) == (23, 21, 9)


def test_placebo_group():
    curve = survival(*PLACEBO)
    assert curve.median == 8
    assert survival_at(curve, 10) == pytest.approx(8 / 21, abs=1e-12)
    at_eight = next(moment for moment in curve.moments if moment.at == 8)
    assert at_eight.standard_error == pytest.approx(0.106, abs=5e-4)


def test_log_rank():
    compared = log_rank(TREATED, PLACEBO)
    assert compared.chi2 == pytest.approx(16.793, abs=1e-3)
    assert compared.p < 1e-4
