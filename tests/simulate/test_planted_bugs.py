"""Each planted bug is caught within so many seeds; one that is not means that the simulation has gone blind."""

import pytest

from tests.simulate.__main__ import server
from tests.simulate.bugs import BUGS, planted
from tests.simulate.story import play

MOST_SEEDS = 300


@pytest.mark.parametrize("name", BUGS)
def test_planted_bug_is_caught(name):
    with planted(name) as how:
        assert any(play(server(), seed, how).fault for seed in range(MOST_SEEDS)), f"{name} went by unseen"


@pytest.mark.parametrize("how", list(dict.fromkeys(bug.how for bug in BUGS.values())), ids=str)
def test_the_same_stories_without_a_bug_hold(how):
    broken = {seed: fault for seed in range(8) if (fault := play(server(), seed, how).fault)}
    assert not broken


def test_twelve_bugs_at_least():
    assert len(BUGS) >= 12
