"""The rows of one site as papers read them: plain fields, looked up by what hangs on what."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from makegood.domain.catalogue import build_catalogue
from makegood.domain.repair.known import Known, Plain, Wall, facts_of, size_of
from makegood.domain.repair.whole import Repair, reckon_repair
from makegood.domain.row import Row
from makegood.domain.ticket import TicketStep, state_of
from makegood.domain.urgency import Facts, Judgement, judge
from makegood.errors import MakegoodError
from makegood.papers.ledger.entries import Entry, entries, tried_on

# Gives the bytes of a photo's copy: the photo's row, and 400 or 1600 px; None where the copy is not here.
Photos = Callable[[Plain, int], bytes | None]


def plain(row: Row) -> dict[str, Any]:
    """Return a row's fields with what every row has."""
    return {"id": row.id, "made_at": row.made_at, "made_by": row.made_by, "rev": row.rev, **row.fields}


@dataclass(frozen=True)
class SiteBook:
    """What a person may see of a site, by row type; `origin` is the address that codes to scan begin with."""

    site_id: str
    rows: Mapping[str, Sequence[Plain]]
    photos: Photos
    origin: str = ""
    catalogue: Mapping[str, Any] = field(default_factory=build_catalogue)

    def all(self, row_type: str) -> Sequence[Plain]:
        """Return the rows of a type."""
        return self.rows.get(row_type, ())

    @property
    def site(self) -> Plain:
        """The site's own row; bare of everything where it is not to be seen."""
        return next(iter(self.all("site")), {"id": self.site_id, "name": ""})

    @cached_property
    def _by_id(self) -> dict[str, dict[str, Plain]]:
        return {row_type: {one["id"]: one for one in some} for row_type, some in self.rows.items()}

    def one(self, row_type: str, row_id: object) -> Plain | None:
        """Return a row by its id."""
        return self._by_id.get(row_type, {}).get(str(row_id))

    @cached_property
    def _under(self) -> dict[tuple[str, str], list[Plain]]:
        found: dict[tuple[str, str], list[Plain]] = defaultdict(list)
        for row_type, parent in (
            ("reading", "defect_id"), ("step", "ticket_id"), ("finish", "elevation_id"), ("score", "finish_id"),
            ("defect", "elevation_id"), ("elevation", "structure_id"), ("photo", "of_id"), ("note", "of_id"),
        ):  # fmt: skip
            for one in sorted(self.all(row_type), key=_in_time):
                found[row_type, str(one[parent])].append(one)
        return found

    def under(self, row_type: str, parent_id: str) -> Sequence[Plain]:
        """Return the rows that hang on another, oldest first."""
        return self._under.get((row_type, parent_id), ())

    def photos_of(self, row_type: str, row_id: str) -> list[Plain]:
        """Return the photos of a row, oldest first."""
        return [one for one in self.under("photo", row_id) if one["of_type"] == row_type]

    def known(self, defect: Plain) -> Known | None:
        """Return a defect with its readings and wall; None where its side is not to be seen."""
        elevation = self.one("elevation", defect["elevation_id"])
        if elevation is None:
            return None
        standing = [one for one in self.under("finish", elevation["id"]) if one.get("ended_on") is None]
        wall = Wall(elevation, self.one("structure", elevation["structure_id"]), standing, self._tried(elevation["structure_id"]))
        return Known(defect, self.under("reading", defect["id"]), wall)

    @cached_property
    def ledger(self) -> list[Entry]:
        """Every finish with what it was seen to stand."""
        return entries(self)

    def _tried(self, structure_id: str) -> list[str]:
        if structure_id not in self._tried_before:
            self._tried_before[structure_id] = tried_on(self, structure_id)
        return self._tried_before[structure_id]

    @cached_property
    def _tried_before(self) -> dict[str, list[str]]:
        return {}

    def defects_of(self, ticket: Plain) -> list[Known]:
        """Return the defects of a ticket that may be seen."""
        found = (self.one("defect", one) for one in ticket["defect_ids"])
        return [known for one in found if one is not None and (known := self.known(one)) is not None]

    def state(self, ticket: Plain) -> str:
        """Return where a ticket stands."""
        steps = [TicketStep(one["kind"], one["at"], one["id"]) for one in self.under("step", ticket["id"])]
        return state_of(steps, self.catalogue["states"]).state

    def judged(self, known: Known) -> Judgement:
        """Return how pressing a defect is, and why."""
        found = self._judged.get(known.defect["id"])
        if found is None:
            facts = facts_of(known, self.catalogue["mixes"], size_of(known))
            found = judge(Facts(**{**facts, "signs": tuple(facts["signs"])}), self.catalogue["urgency"])
            self._judged[known.defect["id"]] = found
        return found

    @cached_property
    def _judged(self) -> dict[str, Judgement]:
        return {}

    def urgency(self, ticket: Plain) -> str:
        """Return a ticket's urgency: what a person set, else the most pressing of its defects."""
        if ticket.get("urgency"):
            return str(ticket["urgency"])
        order = self.catalogue["urgency"]["order"]
        found = [self.judged(one).urgency for one in self.defects_of(ticket)]
        return min(found, key=order.index, default=order[-1])

    def engineer_first(self, ticket: Plain) -> bool:
        """Tell whether nobody may touch this before an engineer has looked: by its method or by a defect's signs."""
        method = self.catalogue["methods"].get(ticket.get("method"))
        by_method = method is not None and method["engineer_first"]
        return by_method or any(self.judged(one).engineer_first for one in self.defects_of(ticket))

    def repair(self, ticket: Plain) -> Repair | None:
        """Return what a ticket takes; None without a method, or where its numbers cannot be reckoned with."""
        if ticket["id"] not in self._repairs:
            try:
                found = reckon_repair(self.defects_of(ticket), ticket, self.site, self.catalogue)
            except MakegoodError:
                found = None
            self._repairs[ticket["id"]] = found
        return self._repairs[ticket["id"]]

    @cached_property
    def _repairs(self) -> dict[str, Repair | None]:
        return {}

    def method(self, ticket: Plain) -> Plain | None:
        """Return a ticket's method in the words and waits of what it lays; None without one."""
        repair = self.repair(ticket)
        return repair.method if repair else self.catalogue["methods"].get(ticket.get("method"))

    def tickets(self, ids: Iterable[str] | None = None) -> list[Plain]:
        """Return the tickets of these ids in their order, or all by urgency and number."""
        if ids is not None:
            return [one for row_id in ids if (one := self.one("ticket", row_id)) is not None]
        order = self.catalogue["urgency"]["order"]
        return sorted(self.all("ticket"), key=lambda one: (order.index(self.urgency(one)), one.get("number") or 0))

    def family(self, defect: Plain) -> str | None:
        """Return the family of a defect's kind; None while nobody has named it."""
        return self._families.get(defect.get("kind"))

    @cached_property
    def _families(self) -> dict[str | None, str]:
        return {one["id"]: one["family"] for one in self.catalogue["vocabulary"]["kinds"]}


def _in_time(row: Plain) -> tuple[str, str]:
    return str(row.get("at") or row.get("taken_at") or row.get("made_on") or row["made_at"]), row["id"]
