"""How many hours a repair takes, visit by visit.

Model: the first visit prepares (setting up, then a rate by area, length, number or ticket); each coat or lift
is a visit of its own: litres laid at the mix's laying rate and mixed by hand or mixer. Every return sets up
anew. Source: own derivation; all rates are assumed, see shared/work_rates.json.
"""

from collections.abc import Sequence
from typing import TypedDict

from makegood.science.planning.shapes import Portion, Visit, Waits
from makegood.science.range import Range, plus, scaled, times, total

ANYBODY = "anyone"


class Size(TypedDict):
    """How much there is of a ticket: area to coat [m2], length [m], number; 0 is not known or none."""

    area_m2: float
    length_m: float
    count: float


class MethodRates(TypedDict):
    """Hours of preparation, or of the whole work where nothing is laid; None does not count."""

    per_m2: Range | None
    per_m: Range | None
    per_each: Range | None
    per_ticket: Range | None


class Rates(TypedDict):
    """What holds for every method: setting up [h], mixing by vessel [h/L], spread of the laying rate, and the
    skill that preparing asks for where laying asks for more.
    """

    prepare_skill: str
    set_up_h: Range
    mixing_h_per_l: dict[str, Range]
    laying_factor: Range


class Laid(TypedDict):
    """One mix going on in a visit: litres with loss, and what one person lays of it in an hour."""

    mix: str
    litres: Range
    laying_l_per_h: float


class CoatVisit(TypedDict):
    """One coat or lift of a ticket: the mixes of its parts, and the waiting times of the slowest."""

    laid: list[Laid]
    coat: Waits


class Ways(TypedDict):
    """How this ticket is worked on: the skill its method asks for, and with a mixer or by hand."""

    skill: str
    mixer: bool


def size_hours(size: Size, method: MethodRates) -> Range | None:
    """Hours by size alone; None where the method goes by a size that nobody has told. Source: assumed rates."""
    measures = {"per_m2": size["area_m2"], "per_m": size["length_m"], "per_each": size["count"]}
    found = [method["per_ticket"]] if method["per_ticket"] else []
    rates = {"per_m2": method["per_m2"], "per_m": method["per_m"], "per_each": method["per_each"]}
    for name, rate in rates.items():
        if rate is None:
            continue
        if measures[name] <= 0:
            return None
        found.append(scaled(rate, measures[name]))
    return total(found) if found else None


def visits_of(
    size: Size, coats: Sequence[CoatVisit], method: MethodRates, rates: Rates, ways: Ways
) -> list[Visit]:
    """Return the visits of one ticket in order; none where its size is not known.

    coats: innermost first. Hours are of work, all people together [h]. Source: own derivation.
    """
    by_size = size_hours(size, method)
    if by_size is None:
        return []
    simple = not coats or ways["skill"] == ANYBODY
    first: Visit = {
        "kind": "prepare" if coats else "work",
        "skill": ways["skill"] if simple else rates["prepare_skill"],
        "hours": plus(rates["set_up_h"], by_size),
        "portions": [],
        "coat": None,
    }
    return [first, *(_lay(coat, place > 0, rates, ways) for place, coat in enumerate(coats))]


def _lay(coat: CoatVisit, comes_back: bool, rates: Rates, ways: Ways) -> Visit:
    mixing = rates["mixing_h_per_l"]["mixer" if ways["mixer"] else "by_hand"]
    parts = [times(one["litres"], _per_litre(one, rates, mixing)) for one in coat["laid"]]
    hours = total([rates["set_up_h"], *parts] if comes_back else parts)
    portions: list[Portion] = [{"mix": one["mix"], "litres": one["litres"]["likely"]} for one in coat["laid"]]
    return {
        "kind": "lay", "skill": ways["skill"], "hours": hours, "portions": portions, "coat": coat["coat"],
    }  # fmt: skip


def _per_litre(one: Laid, rates: Rates, mixing: Range) -> Range:
    return plus(scaled(rates["laying_factor"], 1 / one["laying_l_per_h"]), mixing)
