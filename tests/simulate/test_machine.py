"""Hypothesis as the teller: it chooses what happens, step by step, and shortens what breaks an invariant."""

import pytest
from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, rule, run_state_machine_as_test

from tests.simulate.__main__ import server
from tests.simulate.bugs import planted
from tests.simulate.judge.bench import Broken
from tests.simulate.line import LINES
from tests.simulate.story import Story

PLACE = st.integers(0, 3)


class Phones(RuleBasedStateMachine):
    """Phones, people, a line and a server; in the end all must come together."""

    @initialize(seed=st.integers(0, 2**32))
    def begin(self, seed: int) -> None:
        """Set the scene."""
        self.story = Story(server(), seed)

    @rule(steps=st.integers(1, 40))
    def go_on(self, steps: int) -> None:
        """Let what has begun go on for a while."""
        for _ in range(steps):
            self.story.judge.step += 1
            self.story.go_on()

    @rule(deeds=st.integers(1, 5))
    def act(self, deeds: int) -> None:
        """Let people do something."""
        for _ in range(deeds):
            self.story.act()

    @rule(place=PLACE)
    def sync(self, place: int) -> None:
        """Have a phone send and fetch."""
        tabs = self.story.tabs()
        self.story.sync(tabs[place % len(tabs)])

    @rule(line=st.sampled_from(sorted(LINES)))
    def change_line(self, line: str) -> None:
        """Make the line better or worse."""
        self.story.line = line

    @rule()
    def befall(self) -> None:
        """Let something happen that nobody wished for."""
        self.story.befall()

    def teardown(self) -> None:
        """Whatever has happened: quiet must bring them together."""
        if hasattr(self, "story"):
            self.story.quiet()


HOW = settings(
    max_examples=100,
    stateful_step_count=50,
    deadline=None,
    derandomize=True,
    suppress_health_check=list(HealthCheck),
    database=None,
)
Phones.TestCase.settings = HOW
TestPhones = Phones.TestCase


@pytest.mark.parametrize("bug", ["ack_on_send", "lww_row"])
def test_machine_finds_a_planted_bug(bug):
    with planted(bug), pytest.raises(Broken):
        run_state_machine_as_test(
            Phones, settings=settings(HOW, max_examples=500, phases=[Phase.generate], report_multiple_bugs=False)
        )
