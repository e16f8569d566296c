"""Runs many seeds: `python -m tests.simulate --seeds 100000 --workers 2`; `--seed 4711` tells one of them line by line."""

import argparse
import logging
import sys
import time
from collections.abc import Iterator
from functools import cache
from multiprocessing import Pool

from tests.simulate.server import Server, make_server
from tests.simulate.story import play
from tests.simulate.world import How, Outcome

_AT_ONCE = 50
_SAY_EVERY_S = 20.0


@cache
def server() -> Server:
    """Return this process's server."""
    logging.disable(logging.CRITICAL)
    return make_server()


def run_some(seeds: range) -> list[Outcome]:
    """Run a few seeds in this process."""
    return [play(server(), seed) for seed in seeds]


def outcomes(start: int, seeds: int, workers: int) -> Iterator[Outcome]:
    """Run seeds in several processes; outcomes come in order."""
    some = [
        range(first, min(first + _AT_ONCE, start + seeds)) for first in range(start, start + seeds, _AT_ONCE)
    ]
    if workers == 1:
        for part in some:
            yield from run_some(part)
        return
    with Pool(workers) as pool:
        for part_outcomes in pool.imap(run_some, some):
            yield from part_outcomes


def say(line: str) -> None:
    """Print one line at once."""
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


def tell_one(seed: int) -> int:
    """Run one seed and print all of it."""
    outcome = play(server(), seed, How(keep_lines=True))
    for line in outcome.lines:
        say(line[:2000])
    say(f"seed {seed}: {outcome.fault or 'every invariant held'}; trace {outcome.trace}")
    return 1 if outcome.fault else 0


def main() -> int:
    """Run what the command line asks for; 1 if any invariant was broken."""
    parser = argparse.ArgumentParser(prog="python -m tests.simulate", description=__doc__)
    parser.add_argument("--seeds", type=int, default=2000, help="how many")
    parser.add_argument("--start", type=int, default=0, help="the first one")
    parser.add_argument("--workers", type=int, default=2, help="processes")
    parser.add_argument("--seed", type=int, help="tell this one line by line")
    asked = parser.parse_args()
    if asked.seed is not None:
        return tell_one(asked.seed)
    began = said = time.monotonic()
    done = requests = 0
    broken: list[Outcome] = []
    for outcome in outcomes(asked.start, asked.seeds, asked.workers):
        done, requests = done + 1, requests + outcome.requests
        if outcome.fault:
            broken.append(outcome)
            say(f"seed {outcome.seed}: {outcome.fault}")
        if time.monotonic() - said > _SAY_EVERY_S:
            said = time.monotonic()
            say(f"{done} seeds, {done / (said - began):.1f} a second, {len(broken)} broken")
    took = time.monotonic() - began
    say(
        f"{done} seeds in {took:.0f} s ({done / took:.1f} a second), {requests} requests to the server, {len(broken)} broken"
    )
    return 1 if broken else 0


if __name__ == "__main__":
    sys.exit(main())
