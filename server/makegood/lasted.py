"""The command `makegood lasted`: tables of what lasted from several sites, read side by side."""

from collections import defaultdict
from collections.abc import Sequence

from makegood.domain.ledger.exported import Line, read_lasted, sort_key
from makegood.domain.ledger.group import Group, curve_of, group
from makegood.reckon.given import read_text

UNITS = {"l_m2": "L/m2", "days": "days"}


def compare(files: Sequence[str], by: str, measure: str, only_panels: bool) -> list[str]:
    """Return the comparison as lines of text: each sort with its sites, counts and intervals; no ranking.

    Raises: BadInput and NotFound for a file that cannot be read.
    """
    lines = [line for file in files for line in read_lasted(read_text(file).splitlines(), file)]
    kept = [line for line in lines if line.sample_panel or not only_panels]
    sorts: dict[str, list[Line]] = defaultdict(list)
    for line in kept:
        sorts[sort_key(line, by)].append(line)
    sites = sorted({line.site for line in lines})
    head = [f"{len(kept)} finishes of {len(sites)} sites: {', '.join(map(_plain, sites))}", ""]
    told = [text for key in sorted(sorts) for text in _sort(key, sorts[key], measure)]
    return [*head, *told, "Rain counts only from storms that were logged. A hint, no ranking: read the counts."]


def _sort(key: str, members: Sequence[Line], measure: str) -> list[str]:
    told = [_plain(key), f"  together: {_said(group([one.followed for one in members], measure), measure)}"]
    by_site: dict[str, list[Line]] = defaultdict(list)
    for one in members:
        by_site[one.site].append(one)
    if len(by_site) > 1:
        for site, own in sorted(by_site.items()):
            told.append(f"  {_plain(site)}: {_said(group([one.followed for one in own], measure), measure)}")
    curve = curve_of([one.followed for one in members], measure)
    if curve is not None:
        share = 1.0
        for (left, right), mass in zip(curve.support, curve.mass, strict=True):
            share -= mass
            if right != float("inf"):
                told.append(f"  {100 * share:.0f} % sound after {left:g} to {right:g} {UNITS[measure]}")
    return [*told, ""]


def _said(counted: Group, measure: str) -> str:
    unit = UNITS[measure]
    said = [f"{counted.held} of {counted.followed} held" if counted.followed else "nothing to count yet"]
    if counted.held_through is not None:
        said.append(f"each through {counted.held_through:g} {unit} or more")
    said += [f"one let go between {left:g} and {right:g} {unit}" for left, right in counted.gone_between]
    said += [f"{counted.worn} worn"] if counted.worn else []
    said += [f"{counted.not_looked} never looked at"] if counted.not_looked else []
    said += [f"{counted.not_known} not countable"] if counted.not_known else []
    return "; ".join(said)


def _plain(text: str) -> str:
    """A name out of somebody's file, without what a terminal would obey."""
    return "".join(sign if sign.isprintable() else " " for sign in text) or "no name"
