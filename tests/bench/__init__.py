"""Sizes and speeds, each beside a peer or a limit: `python -m tests.bench`.

To add lines, write `tests/bench/<name>.py` with `def cases() -> Iterable[Line]`; it is found by itself.
"""

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Line:
    """One measured figure beside what it is held against, in one unit; `kind` is "peer" or "limit".

    `upto`: the greatest ratio that is fine, None where the ratio is only shown. `note` stands in for a figure
    that could not be taken, and says how to take it.
    """

    name: str
    measured: float | None
    against: float | None
    unit: str
    kind: str = "limit"
    upto: float | None = 1.0
    note: str = ""

    @property
    def ratio(self) -> float | None:
        """Measured over what it is held against."""
        return self.measured / self.against if self.measured is not None and self.against else None

    @property
    def fine(self) -> bool | None:
        """Whether the ratio is no more than it may be; None if nothing was measured or nothing is asked."""
        return None if self.ratio is None or self.upto is None else self.ratio <= self.upto


def best_s(deed: Callable[[], object], times: int = 3) -> float:
    """Return the shortest of several runs [s], the one that other work disturbed least."""
    runs = []
    for _ in range(times):
        begun = time.perf_counter()
        deed()
        runs.append(time.perf_counter() - begun)
    return min(runs)


def best_in_turn_s(deeds: Sequence[Callable[[], object]], times: int) -> list[float]:
    """Return the shortest of several runs of each deed [s]; they take turns, so that other work disturbs all alike."""
    rounds = [[best_s(deed, 1) for deed in deeds] for _ in range(times)]
    return [min(runs) for runs in zip(*rounds, strict=True)]
