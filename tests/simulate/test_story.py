"""2,000 seeds in which every invariant holds; the same seed tells the same story; all kinds of trouble come up."""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests.make import PIN
from tests.simulate.__main__ import run_some, server
from tests.simulate.line import LINES
from tests.simulate.server import ELEVATION, SITES
from tests.simulate.story import Story, play
from tests.simulate.troubles import Troubles
from tests.simulate.world import How

SEEDS, PART = 2000, 100
TOLD = How(steps=400, more={"photograph": 6}, keep_lines=True)
ROOT = Path(__file__).resolve().parents[2]


@pytest.mark.parametrize("first", range(0, SEEDS, PART))
def test_every_invariant_holds(first):
    broken = {one.seed: one.fault for one in run_some(range(first, first + PART)) if one.fault}
    assert not broken, "python -m tests.simulate --seed N tells one line by line"


def _told_by_another_process(seed: int, hash_seed: str) -> str:
    env = {
        **os.environ,
        "PYTHONHASHSEED": hash_seed,
        "PYTHONPATH": os.pathsep.join([str(ROOT / "server"), str(ROOT)]),
    }
    command = [sys.executable, "-m", "tests.simulate", "--seed", str(seed)]
    return (
        subprocess.run(command, cwd=ROOT, env=env, capture_output=True, text=True, check=True)
        .stdout.rsplit(" ", 1)[1]
        .strip()
    )


def test_same_seed_gives_same_trace_twice_and_in_other_processes():
    first, again, other = (play(server(), seed).trace for seed in (7, 7, 8))
    assert first == again != other
    assert {_told_by_another_process(7, hash_seed) for hash_seed in ("1", "2")} == {first}


def test_every_kind_of_trouble_comes_up():
    told = "\n".join(line for seed in range(40) for line in play(server(), seed, TOLD).lines)
    fates = set().union(*LINES.values()) | {"arrives damaged"}
    befalls = {name for name in vars(Troubles) if f"befalls {name} " in told}
    assert not {fate for fate in fates if not re.search(rf"(POST|PUT|PATCH|HEAD|GET) \S+ {fate} ", told)}
    assert len(befalls) == 10, befalls
    assert {
        code
        for code in ("epoch_changed", "not_enrolled", "not_allowed", "illegal_step", "hash_mismatch")
        if code not in told
    } == set()


def test_outbox_of_ten_thousand_ops_is_sent_whole_over_a_bad_line():
    story = Story(server(), 1, How(trouble=0.0))
    story.line = "good"
    story.drain()
    story.phones = story.phones[:2]
    (tab,) = story.phones[0].tabs
    tab.phone.habits.most_ops, tab.phone.habits.page, story.phones[1].habits.page = 200, 500, 500
    story.sync(tab)
    story.drain()
    defects = [
        {"type": "defect", "site": SITES[0], "set": {"elevation_id": ELEVATION, "mark": PIN, "note": str(n)}}
        for n in range(10_000)
    ]
    for first in range(0, len(defects), 1000):
        tab.spawn("put", tab.put_many(defects[first : first + 1000]))
    story.drain()
    assert len(tab.disk.stores.outbox) == 10_000
    story.line = "shaky"
    for _ in range(15):
        story.sync(tab)
        story.drain()
    story.quiet()
    assert story.server.query("SELECT count(*), count(DISTINCT number) FROM defect") == [(10_000, 10_000)]
