"""Survival of finishes against an independent library, on random censored data."""

import random
from math import inf, log

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lifelines import KaplanMeierFitter
from lifelines.fitters.npmle import npmle
from lifelines.statistics import logrank_test

from makegood.errors import BadInput
from makegood.science.endurance import (
    interval_curve,
    is_too_few,
    log_rank,
    survival,
    survival_at,
)


def followed(seed: int, count: int) -> tuple[list[float], list[bool]]:
    chance = random.Random(seed)
    durations = [float(round(chance.weibullvariate(50, 1.4)) + 1) for _ in range(count)]
    return durations, [chance.random() < 0.65 for _ in range(count)]


def visits(seed: int, count: int) -> list[tuple[float, float]]:
    chance = random.Random(seed)
    found = []
    for _ in range(count):
        fails, step = chance.weibullvariate(100, 1.5), chance.uniform(10, 60)
        left = fails // step * step
        found.append((left, inf if chance.random() < 0.3 else left + step))
    return found


@pytest.mark.parametrize("seed", range(5))
def test_survival_agrees_with_an_independent_library(seed):
    durations, observed = followed(seed, 80)
    theirs = KaplanMeierFitter().fit(durations, observed)
    ours = survival(durations, observed)
    times = [moment.at for moment in ours.moments]
    expected = theirs.survival_function_at_times(times).to_numpy()
    assert [moment.survival for moment in ours.moments] == pytest.approx(expected, abs=1e-12)
    assert (inf if ours.median is None else ours.median) == theirs.median_survival_time_


@pytest.mark.parametrize("seed", range(5))
def test_log_rank_agrees_with_an_independent_library(seed):
    one, other = followed(seed, 40), followed(seed + 100, 30)
    theirs = logrank_test(one[0], other[0], one[1], other[1])
    ours = log_rank(one, other)
    assert ours.chi2 == pytest.approx(theirs.test_statistic, abs=1e-9)
    assert ours.p == pytest.approx(theirs.p_value, abs=1e-9)
    assert log_rank(other, one).chi2 == pytest.approx(ours.chi2)


@pytest.mark.parametrize("seed", range(3))
def test_interval_masses_agree_with_an_independent_library(seed):
    intervals = visits(seed, 40)
    masses, support = npmle([left for left, _ in intervals], [right for _, right in intervals], tol=1e-9)
    ours = interval_curve(intervals)
    assert ours.support == [tuple(place) for place in support]
    assert (
        likelihood(intervals, ours.support, ours.mass) >= likelihood(intervals, ours.support, masses) - 1e-9
    )
    assert ours.mass == pytest.approx(list(masses), abs=2e-3)


def likelihood(intervals, support, mass) -> float:
    return sum(
        log(sum(m for (a, b), m in zip(support, mass, strict=True) if left <= a and b <= right))
        for left, right in intervals
    )


@pytest.mark.parametrize("seed", range(4))
def test_five_hundred_intervals_reach_the_maximum(seed):
    curve = interval_curve(visits(seed, 500))
    assert curve.converged
    assert curve.gap <= 1e-10
    assert sum(curve.mass) == pytest.approx(1)


small = st.tuples(st.integers(0, 8), st.one_of(st.none(), st.integers(0, 6))).map(
    lambda drawn: (float(drawn[0]), None if drawn[1] is None else float(drawn[0] + drawn[1]))
)


@given(st.lists(small, min_size=1, max_size=25), st.booleans())
@settings(deadline=None)
def test_masses_of_any_intervals_are_shares_at_the_maximum(intervals, sound_at_left):
    curve = interval_curve(intervals, sound_at_left=sound_at_left)
    assert curve.converged
    assert sum(curve.mass) == pytest.approx(1)
    assert min(curve.mass) >= -1e-12
    assert curve.failed == sum(right is not None for _, right in intervals)


@given(st.lists(st.tuples(st.floats(0, 100), st.booleans()), min_size=1, max_size=40))
def test_survival_falls_and_stays_between_nothing_and_all(followed_up):
    curve = survival([at for at, _ in followed_up], [failed for _, failed in followed_up])
    shares = [1.0, *(moment.survival for moment in curve.moments)]
    assert shares == sorted(shares, reverse=True)
    assert min(shares) >= 0
    assert all(moment.standard_error >= 0 for moment in curve.moments)


@given(st.lists(st.tuples(st.integers(1, 30), st.booleans()), min_size=1, max_size=30))
def test_exact_and_open_intervals_give_the_survival_curve(followed_up):
    # With nothing but exact failures and "still sound after", the two methods must agree: (t, inf) for those.
    curve = survival([at for at, _ in followed_up], [failed for _, failed in followed_up])
    intervals = [(float(at), float(at) if failed else None) for at, failed in followed_up]
    masses = interval_curve(intervals, sound_at_left=True)
    assert masses.converged
    for at in range(32):
        failed_by = sum(m for (_, right), m in zip(masses.support, masses.mass, strict=True) if right <= at)
        assert failed_by == pytest.approx(1 - survival_at(curve, at), abs=1e-4)


def test_open_left_end_keeps_touching_visits_apart():
    one_after_the_other = [(0.0, 90.0), (90.0, 180.0)]
    assert interval_curve(one_after_the_other).support == [(90, 90)]
    apart = interval_curve(one_after_the_other, sound_at_left=True)
    assert apart.support == [(0, 90), (90, 180)]
    assert apart.mass == pytest.approx([0.5, 0.5])


def test_nothing_failed_yet():
    curve = survival([5, 6], [False, False])
    assert (curve.moments, curve.median, curve.failed) == ([], None, 0)
    assert survival_at(curve, 100) == 1
    assert interval_curve([(5, None), (6, None)]).support == [(6, inf)]


def test_median_at_exactly_one_half():
    assert survival([1, 2, 3, 4], [True] * 4).median == 2


@pytest.mark.parametrize(
    ("count", "failed", "few"), [(10, 5, False), (9, 5, True), (10, 4, True), (0, 0, True), (100, 50, False)]
)
def test_a_handful_is_not_ranked(count, failed, few):
    assert is_too_few(count, failed) is few


def test_too_few_is_said_of_curves_and_comparisons():
    enough = ([float(n) for n in range(1, 13)], [True] * 12)
    handful = ([3.0, 4.0], [True, True])
    assert not survival(*enough).too_few
    assert survival(*handful).too_few
    assert log_rank(enough, handful).too_few
    assert not log_rank(enough, ([n + 0.5 for n in enough[0]], enough[1])).too_few
    assert interval_curve([(1, 2)]).too_few


@pytest.mark.parametrize(
    ("reckon", "code"),
    [
        (lambda: survival([], []), "no_durations"),
        (lambda: survival([1], [True, False]), "lengths_differ"),
        (lambda: survival([-1], [True]), "duration_refused"),
        (lambda: survival([float("nan")], [True]), "duration_refused"),
        (lambda: log_rank(([1.0], [False]), ([2.0], [False])), "nothing_to_compare"),
        (lambda: interval_curve([]), "no_durations"),
        (lambda: interval_curve([(2, 1)]), "interval_refused"),
        (lambda: interval_curve([(inf, None)]), "interval_refused"),
        (lambda: interval_curve([(float("nan"), 2)]), "interval_refused"),
        (lambda: interval_curve([(1, 2)], [1, 2]), "lengths_differ"),
        (lambda: interval_curve([(1, 2)], [0]), "weight_refused"),
    ],
)
def test_what_cannot_be_reckoned_is_refused(reckon, code):
    with pytest.raises(BadInput) as refused:
        reckon()
    assert refused.value.code == code
