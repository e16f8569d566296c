"""What a device that came in by a hand-out's link sees: its open hand-outs, their tickets, and what hangs on those."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field

from makegood.domain.row import Key

# Types whose rows decide what a hand-out covers; the others only hang on them.
COVERING = ("handout", "ticket", "defect", "elevation", "structure", "finish")


@dataclass(frozen=True)
class Handed:
    """An open hand-out: its tickets in order, and whether the keeper shows the exact place."""

    ticket_ids: tuple[str, ...]
    show_place: bool = False


@dataclass(frozen=True)
class Ties:
    """What hangs on what around some hand-outs, by id; a deleted ticket is there with no defects."""

    handouts: Mapping[str, Handed] = field(default_factory=dict)
    defects_of_ticket: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    elevation_of_defect: Mapping[str, str] = field(default_factory=dict)
    structure_of_elevation: Mapping[str, str] = field(default_factory=dict)
    elevation_of_finish: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Scope:
    """The ids a limited device sees, by row type."""

    rows: Mapping[str, frozenset[str]]
    show_place: bool = False

    def holds(self, key: Key) -> bool:
        """Tell whether a row is seen."""
        return key.id in self.rows.get(key.type, ())

    def holds_parent(self, row_type: str, row_id: object, makes: Collection[str]) -> bool:
        """Tell whether a new row may hang on this one: seen, and of a type named in `makes`."""
        return row_type in makes and row_id in self.rows.get(row_type, ())


def scope_of(site_id: str, handout_ids: Iterable[str], ties: Ties) -> Scope:
    """Return what these hand-outs cover on a site; those that are not among the ties have ended."""
    handouts = {one: ties.handouts[one] for one in handout_ids if one in ties.handouts}
    named = {ticket for handed in handouts.values() for ticket in handed.ticket_ids}
    tickets = named & ties.defects_of_ticket.keys()
    defects = {one for ticket in tickets for one in ties.defects_of_ticket[ticket]}
    defects &= ties.elevation_of_defect.keys()
    elevations = {ties.elevation_of_defect[one] for one in defects} & ties.structure_of_elevation.keys()
    rows = {
        "site": {site_id},
        "handout": set(handouts),
        "ticket": tickets,
        "defect": defects,
        "elevation": elevations,
        "structure": {ties.structure_of_elevation[one] for one in elevations},
        "finish": {one for one, wall in ties.elevation_of_finish.items() if wall in elevations},
    }
    shows = any(handed.show_place for handed in handouts.values())
    return Scope({name: frozenset(ids) for name, ids in rows.items()}, shows)


def needs_fresh_start(before: Scope, after: Scope, new: Collection[Key], site_id: str) -> bool:
    """Tell whether a device has to fetch everything anew: something left its sight, or came into it that was there.

    `new` are rows made just now; they come by their revision and need no fresh start.
    """
    if before.show_place != after.show_place:
        return True
    for row_type in COVERING:
        old, now = before.rows[row_type], after.rows[row_type]
        made = {key.id for key in new if key.type == row_type and key.site_id == site_id}
        if old - now or now - old - made:
            return True
    return False
