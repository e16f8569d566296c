"""Several estimates to one shopping list: merged first, rounded up once, so that small patches do not each
buy a bag.

The list takes the high side of the need and never runs short of it. Source: own derivation. Twin of
web/src/model/materials/shopping.ts.
"""

from collections.abc import Iterable, Mapping
from typing import TypedDict

from makegood.errors import BadInput
from makegood.science.materials.batch import whole_units
from makegood.science.materials.shapes import MaterialNeed
from makegood.science.range import Range, plus


class Bag(TypedDict):
    """What a site buys a material in [kg], and the price of one; None is unknown."""

    bag_kg: float
    price: float | None


class Bought(TypedDict):
    """How a material is sold: its unit, its usual bag [kg] and its bulk density [kg/L]; None where there is
    none.
    """

    unit: str
    bag_kg: float | None
    bulk_kg_l: Range | None


class Purchase(TypedDict):
    """What to buy of one material: `buy` and `left` in its unit, whole bags or pieces, price, weight to carry
    [kg].
    """

    need: MaterialNeed
    bag_kg: float | None
    bags: int | None
    buy: float
    left: float
    price: float | None
    carry_kg: float


class Rounded(TypedDict):
    """One line of `round_up_once`: the merged amount, the whole units, and what they come to."""

    amount: float
    units: int | None
    buy: float


def merge_needs(needs: Iterable[Mapping[str, MaterialNeed]]) -> dict[str, MaterialNeed]:
    """Add up what several repairs need, material by material, unrounded."""
    merged: dict[str, MaterialNeed] = {}
    for one in needs:
        for material, need in one.items():
            before = merged.get(material)
            merged[material] = _both_needs(before, need) if before else need
    return merged


def shopping_list(
    merged: Mapping[str, MaterialNeed], materials: Mapping[str, Bought], own: Mapping[str, Bag]
) -> dict[str, Purchase]:
    """Turn merged needs into whole bags: of the site's own size where it has one, else of the usual size."""
    return {key: _purchase(need, materials[key], own.get(key)) for key, need in merged.items()}


def round_up_once(
    jobs: Iterable[Mapping[str, float]], round_up_to: Mapping[str, float]
) -> dict[str, Rounded]:
    """Add up bare amounts of several jobs and round each material up once.

    jobs: amount by material, in any unit that is the same for all jobs, >= 0; round_up_to: the unit of sale
    by material, > 0; a material without one is not rounded. Raises BadInput bad_value. Source: own
    derivation.
    """
    merged: dict[str, float] = {}
    for job in jobs:
        for material, amount in job.items():
            if not amount >= 0:
                raise BadInput(
                    "bad_value",
                    f"Give the amount of {material} as a number that is not negative.",
                    {material: "amount"},
                )
            merged[material] = merged.get(material, 0.0) + amount
    return {
        material: _rounded(material, amount, round_up_to.get(material)) for material, amount in merged.items()
    }


def _rounded(material: str, amount: float, unit: float | None) -> Rounded:
    if unit is None:
        return {"amount": amount, "units": None, "buy": amount}
    if not unit > 0:
        raise BadInput("bad_value", f"Give the unit of {material} as more than 0.", {material: "unit"})
    units = whole_units(amount, unit)
    return {"amount": amount, "units": units, "buy": units * unit}


def _both(one: Range | None, other: Range | None) -> Range | None:
    return plus(one, other) if one and other else one or other


def _both_needs(one: MaterialNeed, other: MaterialNeed) -> MaterialNeed:
    return {
        "unit": other["unit"],
        "amount": plus(one["amount"], other["amount"]),
        "l": _both(one["l"], other["l"]),
        "damp_l": _both(one["damp_l"], other["damp_l"]),
    }


def _purchase(need: MaterialNeed, material: Bought, own: Bag | None) -> Purchase:
    bag_kg = (own["bag_kg"] if own else material["bag_kg"]) if need["unit"] == "kg" else None
    unit = bag_kg or (1.0 if need["unit"] == "each" else None)
    bags = whole_units(need["amount"]["high"], unit) if unit else None
    buy = need["amount"]["high"] if bags is None or unit is None else bags * unit
    price = own["price"] * bags if own and own["price"] is not None and bags is not None else None
    bulk = material["bulk_kg_l"]
    carry_kg = {"kg": buy, "l": buy * (bulk["likely"] if bulk else 1.0)}.get(need["unit"], 0.0)
    return {
        "need": need, "bag_kg": bag_kg, "bags": bags, "buy": buy, "left": buy - need["amount"]["likely"],
        "price": price, "carry_kg": carry_kg,
    }  # fmt: skip
