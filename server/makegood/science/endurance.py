"""How long finishes hold, from what was seen on visits: survival curves that keep apart what isn't known.

Durations may be days or driving-rain dose [L/m2]; the sums don't mind, as long as one unit is kept.
A finish found failed between two visits gives an interval; one still sound at the last visit is open to
the right.
Sources: Kaplan and Meier 1958, Greenwood 1926, Mantel 1966, Peto 1973, Turnbull 1976 (from memory), held
by the published examples in tests/reference/wear/test_c13_kaplan_meier.py and test_c14_turnbull.py.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from itertools import accumulate, pairwise
from math import erfc, inf, isfinite, log, sqrt
from typing import NamedTuple

from makegood.errors import BadInput

# Below either, finishes are listed with their counts and not ranked. Own choice, no source.
FEWEST_FOLLOWED = 10
FEWEST_FAILED = 5

# An end of an interval: where it lies, and its order among ends at the same place. A closed left end comes
# before a right one, so intervals that only touch share that point; an open left end comes after it.
_End = tuple[float, int]
_LEFT, _RIGHT, _AFTER = 0, 1, 2

_GAP = 1e-10
_MOST_ROUNDS = 5_000
_MOST_HALVINGS = 20


class Moment(NamedTuple):
    """One time at which something failed: who was still followed, who failed, share still sound after it."""

    at: float
    followed: int
    failed: int
    survival: float
    standard_error: float


class Survival(NamedTuple):
    """A survival curve with its counts; `median` is None while more than half are still sound.

    `too_few`: under 10 followed or under 5 failed, so no ranking.
    """

    moments: list[Moment]
    median: float | None
    followed: int
    failed: int
    too_few: bool


class LogRank(NamedTuple):
    """Whether two groups differ: failures seen and expected in the first, chi-square (1 degree), its p."""

    seen: float
    expected: float
    chi2: float
    p: float
    too_few: bool


class IntervalCurve(NamedTuple):
    """Where the failures must lie: intervals of support, the share of failures in each, summing to 1.

    Within one interval nothing is known of when. `gap` bounds how far the log-likelihood, per finish, may lie
    under its maximum; `converged` says it got below 1e-10.
    """

    support: list[tuple[float, float]]
    mass: list[float]
    followed: float
    failed: float
    too_few: bool
    gap: float
    converged: bool


def survival(durations: Sequence[float], observed: Sequence[bool]) -> Survival:
    """Return the Kaplan-Meier curve with Greenwood's standard error.

    durations: time or dose until failure or until last seen sound [any unit, >= 0]; observed: True where
    it failed. At equal times failures come before those last seen sound. The median is the first time at
    which no more than half are sound.
    Raises: BadInput `no_durations`, `lengths_differ`, `duration_refused`.
    Source: Kaplan and Meier 1958; Greenwood 1926 (from memory), held by C13.
    """
    _check(durations, observed)
    ordered = sorted(durations)
    share, spread = 1.0, 0.0
    moments = []
    for at in sorted({t for t, failed in zip(durations, observed, strict=True) if failed}):
        followed = len(ordered) - bisect_left(ordered, at)
        failed = sum(1 for t, gone in zip(durations, observed, strict=True) if gone and t == at)
        share *= 1 - failed / followed
        # The last of all to fail leaves nothing sound: the curve is 0 and so is its error by Greenwood.
        spread += failed / (followed * (followed - failed)) if followed > failed else 0.0
        moments.append(Moment(at, followed, failed, share, share * sqrt(spread)))
    failures = sum(map(bool, observed))
    return Survival(
        moments,
        # A hair is allowed, for a share of exactly one half that rounding lifted.
        next((moment.at for moment in moments if moment.survival <= 0.5 + 1e-12), None),
        len(durations),
        failures,
        is_too_few(len(durations), failures),
    )


def survival_at(curve: Survival, at: float) -> float:
    """Return the share still sound just after a time or dose, 1 before the first failure."""
    return next((moment.survival for moment in reversed(curve.moments) if moment.at <= at), 1.0)


def is_too_few(followed: float, failed: float) -> bool:
    """Return whether there is too little to rank by: under 10 followed or under 5 failed (own choice)."""
    return followed < FEWEST_FOLLOWED or failed < FEWEST_FAILED


def log_rank(
    first: tuple[Sequence[float], Sequence[bool]], second: tuple[Sequence[float], Sequence[bool]]
) -> LogRank:
    """Compare two groups, each (durations, observed), by the log-rank test with hypergeometric variance.

    Raises: as `survival`; BadInput `nothing_to_compare` when no failure lets them be told apart.
    Source: Mantel 1966 (from memory), held by C13 (chi-square 16.793).
    """
    for durations, observed in (first, second):
        _check(durations, observed)
    ones, both = sorted(first[0]), sorted([*first[0], *second[0]])
    ones_failed = sorted(t for t, failed in zip(*first, strict=True) if failed)
    all_failed = sorted([*ones_failed, *(t for t, failed in zip(*second, strict=True) if failed)])
    expected = variance = 0.0
    for at in sorted(set(all_failed)):
        n, n1 = len(both) - bisect_left(both, at), len(ones) - bisect_left(ones, at)
        d = bisect_right(all_failed, at) - bisect_left(all_failed, at)
        expected += d * n1 / n
        if n > 1:
            variance += d * (n1 / n) * (1 - n1 / n) * (n - d) / (n - 1)
    if variance <= 0:
        raise BadInput(
            "nothing_to_compare", "Wait until something failed while both groups were being followed."
        )
    chi2 = (len(ones_failed) - expected) ** 2 / variance
    few = is_too_few(len(first[0]), len(ones_failed)) or is_too_few(
        len(second[0]), len(all_failed) - len(ones_failed)
    )
    return LogRank(len(ones_failed), expected, chi2, erfc(sqrt(chi2 / 2)), few)


def interval_curve(
    intervals: Sequence[tuple[float, float | None]],
    weights: Sequence[float] | None = None,
    sound_at_left: bool = False,
) -> IntervalCurve:
    """Return the most likely spread of failures over intervals that may overlap.

    right None or infinite: still sound at `left`. left 0: failed at the first visit. left = right: seen to
    fail. weights: how many finishes share each interval [> 0], 1 if not given. sound_at_left: the finish was
    still sound at `left` itself, as on visits, so (left, right]; otherwise closed, [left, right]. It matters
    when one finish is found failed on the very visit at which another is found sound.
    Support after Peto and Turnbull; mass by self-consistency steps taken in turn with convex minorant steps,
    until the log-likelihood provably lies within 1e-10 of its maximum.
    Raises: BadInput `no_durations`, `lengths_differ`, `interval_refused`, `weight_refused`.
    Source: Turnbull 1976 (from memory), held by C14.
    """
    closed = [(left, inf if right is None else right) for left, right in intervals]
    counts = [1.0] * len(closed) if weights is None else [float(weight) for weight in weights]
    _check_intervals(closed, counts)
    ends = [(_left_end(left, right, sound_at_left), (right, _RIGHT)) for left, right in closed]
    support = _support(ends)
    lefts, rights = [left for left, _ in support], [right for _, right in support]
    spans = [(bisect_left(lefts, left), bisect_right(rights, right)) for left, right in ends]
    followed = sum(counts)
    mass, gap = _most_likely(_Seen(spans, [count / followed for count in counts], len(support)))
    failed = sum(count for (_, right), count in zip(closed, counts, strict=True) if right < inf)
    places = [(left, right) for (left, _), (right, _) in support]
    return IntervalCurve(places, mass, followed, failed, is_too_few(followed, failed), gap, gap <= _GAP)


def _check(durations: Sequence[float], observed: Sequence[bool]) -> None:
    if not durations:
        raise BadInput("no_durations", "Give at least one finish that was followed.", {"durations": "empty"})
    if len(durations) != len(observed):
        raise BadInput(
            "lengths_differ", "Say for each duration whether it ended in failure.", {"observed": "count"}
        )
    if not all(isfinite(t) and t >= 0 for t in durations):
        raise BadInput("duration_refused", "Give durations of zero or more.", {"durations": "below zero"})


def _check_intervals(closed: Sequence[tuple[float, float]], counts: Sequence[float]) -> None:
    if not closed:
        raise BadInput("no_durations", "Give at least one finish that was followed.", {"intervals": "empty"})
    if len(closed) != len(counts):
        raise BadInput("lengths_differ", "Give one weight for each interval.", {"weights": "count"})
    if not all(isfinite(left) and left <= right for left, right in closed):
        raise BadInput(
            "interval_refused",
            "Give the last sound visit first, then the first failed one.",
            {"intervals": "order"},
        )
    if not all(isfinite(count) and count > 0 for count in counts):
        raise BadInput("weight_refused", "Give weights above zero.", {"weights": "zero or below"})


def _left_end(left: float, right: float, sound_at_left: bool) -> _End:
    return (left, _AFTER if sound_at_left and left < right else _LEFT)


def _support(ends: Sequence[tuple[_End, _End]]) -> list[tuple[_End, _End]]:
    """Return each left end that is followed by a right end with no other end between, in rising order."""
    in_order = sorted({end for pair in ends for end in pair})
    return [(a, b) for a, b in pairwise(in_order) if a[1] != _RIGHT and b[1] == _RIGHT]


class _Seen(NamedTuple):
    """What the visits say: for each interval the supports [begin, end) it covers and its share of weight."""

    spans: list[tuple[int, int]]
    shares: list[float]
    supports: int

    def within(self, mass: Sequence[float]) -> list[float]:
        sums = [0.0, *accumulate(mass)]
        return [sums[end] - sums[begin] for begin, end in self.spans]

    def likelihood(self, mass: Sequence[float]) -> float:
        chances = self.within(mass)
        if min(chances) <= 0:
            return -inf
        return sum(share * log(chance) for share, chance in zip(self.shares, chances, strict=True))

    def pull(self, mass: Sequence[float]) -> list[float]:
        """Return how much the likelihood gains by mass on each support; at the best no more than 1."""
        change = [0.0] * (self.supports + 1)
        for (begin, end), share, chance in zip(self.spans, self.shares, self.within(mass), strict=True):
            change[begin] += share / chance
            change[end] -= share / chance
        return list(accumulate(change[:-1]))


def _most_likely(seen: _Seen) -> tuple[list[float], float]:
    """Return the masses and the bound on what the likelihood still lacks.

    The likelihood is concave, so it lacks at most the greatest pull less 1. Each round takes one
    self-consistency step and one step of the iterative convex minorant, which may empty a support and fill
    it again; the second is shortened until it does not lower the likelihood (Wellner and Zhan 1997, from
    memory).
    """
    mass = [1 / seen.supports] * seen.supports
    best, best_gap = mass, inf
    for _ in range(_MOST_ROUNDS):
        pull = seen.pull(mass)
        gap = max(pull) - 1
        if gap < best_gap:
            best, best_gap = mass, gap
        if gap <= _GAP:
            break
        mass = [m * p for m, p in zip(mass, pull, strict=True)]
        mass = _toward(seen, mass, _minorant(seen, mass))
    return best, max(best_gap, 0.0)


def _minorant(seen: _Seen, mass: Sequence[float]) -> list[float]:
    """Return the masses that maximise a quadratic with the likelihood's slope and curvature by bound."""
    slope, curve = [0.0] * (seen.supports + 1), [0.0] * (seen.supports + 1)
    for (begin, end), share, chance in zip(seen.spans, seen.shares, seen.within(mass), strict=True):
        slope[end] += share / chance
        slope[begin] -= share / chance
        for bound in (begin, end):
            curve[bound] += share / chance**2
    failed_by = list(accumulate(mass))
    # Each support ends before a left end or after a right end, so every bound inside has curvature.
    inside = range(1, seen.supports)
    aims = [failed_by[j - 1] + slope[j] / curve[j] for j in inside]
    rising = [min(1.0, max(0.0, level)) for level in _isotonic(aims, [curve[j] for j in inside])]
    return [after - before for before, after in pairwise([0.0, *rising, 1.0])]


def _isotonic(aims: Sequence[float], weights: Sequence[float]) -> list[float]:
    """Return the never falling sequence nearest to the aims in weighted squares, by pooling neighbours."""
    pools: list[tuple[float, float, int]] = []
    for aim, weight in zip(aims, weights, strict=True):
        pool = (aim, weight, 1)
        while pools and pools[-1][0] > pool[0]:
            level, before, length = pools.pop()
            both = before + pool[1]
            pool = ((level * before + pool[0] * pool[1]) / both, both, length + pool[2])
        pools.append(pool)
    return [level for level, _, length in pools for _ in range(length)]


def _toward(seen: _Seen, mass: Sequence[float], aim: Sequence[float]) -> list[float]:
    floor, part = seen.likelihood(mass), 1.0
    for _ in range(_MOST_HALVINGS):
        tried = [m + part * (to - m) for m, to in zip(mass, aim, strict=True)]
        if seen.likelihood(tried) >= floor:
            return tried
        part /= 2
    return list(mass)
