"""`reckon yield`: what volume a mix makes of what is put into it."""

from collections.abc import Mapping

from makegood.reckon.given import Given, bad, missing
from makegood.science.mix import reckon_yield


def yield_of(given: Given) -> dict[str, object]:
    """Return volume_l, voids_filled, dry_loose_factor, warnings; see `makegood.science.mix.reckon_yield`."""
    solids = given.sequence("solids")
    if not solids:
        raise missing("solids", "Name the solids of the mix, at least one.")
    described = [one for one in solids if isinstance(one, Mapping)]
    if len(described) < len(solids):
        raise bad("solids", "Give each solid as a description in braces, with its amounts.")
    return {**reckon_yield(described, given.number("water_l") or 0.0, given.number("air") or 0.0)}
