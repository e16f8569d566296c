"""Which mixes count as tried on a building: enough sample panels of them were looked at and held.

The same in web/src/model/lasting/due.ts; shared/vectors/tried.json holds both to one answer.
"""

from collections import Counter
from collections.abc import Iterable
from typing import NamedTuple

_STOOD = ("held", "worn")


class Panel(NamedTuple):
    """One finish: the building it is on, its mixes, whether it is a sample panel, and what its looks say."""

    structure: str | None
    mixes: tuple[str, ...]
    sample_panel: bool
    verdict: str


def tried_mixes(panels: Iterable[Panel], structure: str | None, needed: int) -> list[str]:
    """Return the mixes, by name, of which at least `needed` panels on this structure stood; a mix counts once in a panel."""
    counts = Counter(
        mix
        for one in panels
        if one.sample_panel and one.structure == structure and one.verdict in _STOOD
        for mix in set(one.mixes)
    )
    return sorted(mix for mix, count in counts.items() if count >= needed)
