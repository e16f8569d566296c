"""`reckon shopping`: several jobs to one list, merged first and rounded up once."""

from collections.abc import Mapping

from makegood.domain.catalogue import build_catalogue
from makegood.errors import BadInput
from makegood.reckon.given import Given, bad, missing
from makegood.reckon.repair import flat_need
from makegood.science.materials.batch import whole_units
from makegood.science.materials.shapes import MaterialNeed
from makegood.science.materials.shopping import Bag, Purchase, merge_needs, round_up_once, shopping_list
from makegood.science.range import spread


def shopping(given: Given) -> dict[str, object]:
    """Return what to buy for `estimates` (as `reckon estimate` prints them) or for `jobs` of bare amounts."""
    jobs, estimates = given.parts("jobs"), given.parts("estimates")
    if (jobs is None) == (estimates is None):
        raise missing("jobs", "Give either jobs, each with amounts by material, or estimates.")
    units = _amounts(given.part("round_up_to") or Given({}))
    if estimates is None and jobs is not None and not any("materials" in job.names() for job in jobs):
        rounded = round_up_once([_amounts(job) for job in jobs], units)
        return {
            "materials": {key: {**one, "round_up_to": units.get(key)} for key, one in rounded.items()},
            "warnings": [f"not_used: round_up_to.{key}" for key in units if key not in rounded],
        }
    return _for_estimates(estimates or jobs or [], units, _bags(given))


def _amounts(given: Given) -> dict[str, float]:
    return {name: given.needed(name) for name in given.names() if given.value(name) is not None}


def _bags(given: Given) -> dict[str, Bag]:
    bags = given.part("bags")
    found: dict[str, Bag] = {}
    for material in bags.names() if bags else []:
        one = bags.part(material) if bags else None
        if one is None:
            continue
        bag: Bag = {"bag_kg": one.needed("bag_kg"), "price": one.number("price")}
        if bag["bag_kg"] <= 0 or (bag["price"] or 0) < 0:
            raise BadInput("bags_refused", "Give each bag a weight above zero.", {"bags": material})
        found[material] = bag
    return found


def _for_estimates(
    estimates: list[Given], units: dict[str, float], bags: dict[str, Bag]
) -> dict[str, object]:
    materials = build_catalogue()["materials"]
    merged = merge_needs([_needs(one) for one in estimates])
    unknown = [key for key in merged if key not in materials]
    if unknown:
        say = "These materials are not in the catalogue; give bare amounts as jobs instead."
        raise BadInput("unknown_material", say, {"materials": ", ".join(unknown)})
    bought = {
        key: _in_units(one, units.get(key)) for key, one in shopping_list(merged, materials, bags).items()
    }
    priced = [one["price"] for one in bought.values() if one["price"] is not None]
    return {
        "materials": {key: _line(one) for key, one in bought.items()},
        "price": sum(priced) if priced else None,
        "carry_kg": sum(one["carry_kg"] for one in bought.values()),
        "warnings": [
            *(["some_prices_unknown"] if 0 < len(priced) < len(bought) else []),
            *(f"not_used: round_up_to.{key}" for key in units if key not in bought),
            *(f"not_used: bags.{key}" for key in bags if key not in bought),
        ],
    }


def _needs(one: Given) -> dict[str, MaterialNeed]:
    """The materials of one printed estimate; the rest of it is not looked at."""
    one.names()
    materials = one.part("materials")
    if materials is None:
        raise missing("materials", "Give each estimate as `makegood reckon estimate` prints it.")
    return {name: _need(name, materials.part(name) or Given({})) for name in materials.names()}


def _need(name: str, given: Given) -> MaterialNeed:
    unit, ends = given.text("unit"), [given.needed(end) for end in ("low", "likely", "high")]
    if unit is None:
        raise missing("unit", f"Say in which unit {name} is given.")
    if not 0 <= ends[0] <= ends[1] <= ends[2]:
        raise bad(name, "Give low, likely and high in that order, from 0 up.")
    return {"unit": unit, "amount": spread(*ends), "l": given.range("l"), "damp_l": given.range("damp_l")}


def _in_units(one: Purchase, size: float | None) -> Purchase:
    """The same purchase in a unit of sale of the person's own, in the material's unit."""
    if size is None:
        return one
    if not size > 0:
        raise bad("round_up_to", "Give each unit of sale as more than 0.")
    need = one["need"]["amount"]
    count = whole_units(need["high"], size)
    buy = count * size
    carry_kg = one["carry_kg"] * buy / one["buy"] if one["buy"] else 0.0
    by_weight = one["need"]["unit"] == "kg"
    return {
        **one, "bag_kg": size if by_weight else None, "bags": count, "buy": buy, "left": buy - need["likely"],
        "price": one["price"] if size == one["bag_kg"] else None, "carry_kg": carry_kg,
    }  # fmt: skip


def _line(one: Purchase) -> Mapping[str, object]:
    return {**flat_need(one["need"]), **{key: value for key, value in one.items() if key != "need"}}
