"""A case of shared/vectors/ledger.json, turnbull.json or erosion.json as calls of the package."""

from collections.abc import Mapping
from dataclasses import asdict
from datetime import date
from math import isinf
from typing import Any

from makegood.domain.ledger.follow import Done, Followed, Found, Look, RainOn, Scored, Side, Walk, follow
from makegood.domain.ledger.group import group
from makegood.domain.ledger.place import Laid
from makegood.domain.ledger.tried import Panel, tried_mixes
from makegood.science.endurance import interval_curve
from makegood.science.erosion import DatedDepth, Wear, erosion


def day(text: str | None) -> date | None:
    """Return a day, or None."""
    return date.fromisoformat(text) if text else None


def _dated(row: Mapping[str, Any]) -> dict[str, Any]:
    return {name: date.fromisoformat(value) if name == "on" else value for name, value in row.items()}


def side_of(given: Mapping[str, Any]) -> Side:
    """Return a side from a case's `side`."""
    return Side(
        given["surface"],
        tuple(
            Laid(**{**one, "made_on": day(one["made_on"]), "ended_on": day(one["ended_on"])})
            for one in given["finishes"]
        ),
        tuple(Scored(**_dated(one)) for one in given["scores"]),
        tuple(
            Found(one["id"], one["kind"], one["mark"], tuple(Look(**_dated(row)) for row in one["readings"]))
            for one in given["defects"]
        ),
        tuple(Walk(**_dated(one)) for one in given["walks"]),
        tuple(Done(**_dated(one)) for one in given["steps"]),
        {one["id"]: tuple(RainOn(**_dated(rain)) for rain in given["rain"]) for one in given["finishes"]},
    )


def shown(one: Followed) -> dict[str, Any]:
    """Return what is known of a finish as the file writes it."""
    return {
        "id": one.id,
        "verdict": one.verdict,
        "looks": one.looks,
        "days": one.days and one.days._asdict(),
        "l_m2": one.l_m2 and one.l_m2._asdict(),
    }


def run_tried_case(given: Mapping[str, Any]) -> dict[str, Any]:
    """Return which mixes are tried."""
    panels = [Panel(**{**one, "mixes": tuple(one["mixes"])}) for one in given["panels"]]
    return {"tried": tried_mixes(panels, given["structure"], given["needed"])}


def run_ledger_case(given: Mapping[str, Any]) -> dict[str, Any]:
    """Follow the finishes of a side; with `measure`, their group too."""
    found = follow(side_of(given["side"]), given["verdicts"])
    answer: dict[str, Any] = {"finishes": [shown(one) for one in found]}
    if "measure" in given:
        counted = group(found, given["measure"])
        answer["group"] = {**asdict(counted), "gone_between": [span._asdict() for span in counted.gone_between]}
    return answer


def run_turnbull_case(given: Mapping[str, Any]) -> dict[str, Any]:
    """Return support (null for never), masses and counts of intervals."""
    curve = interval_curve([(a, b) for a, b in given["intervals"]], given["weights"], given["sound_at_left"])
    return {
        "support": [[a, None if isinf(b) else b] for a, b in curve.support],
        "mass": curve.mass,
        "followed": curve.followed,
        "failed": curve.failed,
        "too_few": curve.too_few,
    }


def run_erosion_case(given: Mapping[str, Any]) -> dict[str, Any]:
    """Return wear and what is left of dated depths."""
    depths = [DatedDepth(**_dated(one)) for one in given["depths"]]
    found = erosion(depths, given["coat_mm"], given["last_storm_l_m2"])
    return {
        "mean": _wear(found.mean),
        "deepest": _wear(found.deepest),
        "breached": found.breached,
        "warnings": found.warnings,
    }


def _wear(wear: Wear) -> dict[str, Any]:
    return {
        **wear._asdict(),
        "years": wear.years and wear.years._asdict(),
        "doses": wear.doses and wear.doses._asdict(),
    }
