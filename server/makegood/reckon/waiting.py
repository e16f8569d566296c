"""`reckon curing` and `reckon gate`: dated steps of a stack of coats, and why not today."""

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, cast

from makegood.domain.catalogue import build_catalogue
from makegood.domain.repair.ways import as_laid
from makegood.errors import BadInput
from makegood.reckon.given import Given, bad, missing
from makegood.reckon.repair import FINISH_KINDS, method_named, read_coats
from makegood.science.curing import CHECK_AFTER_DAYS, CuringCoat, CuringPlan, DatedStep, curing_plan
from makegood.science.estimate import coats_for
from makegood.science.gate import TRENDS, Today, days_left_to_dry, why_not_today
from makegood.science.laid import LaidCoat, laid_coats
from makegood.science.materials.coat import Coat
from makegood.science.materials.shapes import Job, Layer
from makegood.science.range import Range, exactly

STEP_WORDS = {
    "lay": "Lay coat {n}: {mix}",
    "damp_until": "Coat {n} ({mix}): last day to keep it damp",
    "frost_free_until": "Last day that must stay free of frost",
    "check": "Look at the repair again",
}


def curing(given: Given, ics: str | None) -> dict[str, object]:
    """Return dated steps for `start` and a method or coats; write them as a calendar file if one is named."""
    start = given.day("start")
    if start is None:
        raise missing("start", "Give the day the first coat is laid: start.")
    mixes = build_catalogue()["mixes"]
    coats, cure = _coats(given, mixes)
    frost_free_days = given.range("frost_free_days")
    stack = [_curing_coat(coat, mixes[coat.mix], frost_free_days) for coat in laid_coats(_layers(coats), mixes, cure)]
    plan = curing_plan(start, stack, _checks(given))
    words = [_words(step, coats, mixes) for step in plan.steps]
    title = given.text("title") or "Curing"
    if ics is not None:
        _write_calendar(ics, plan, words, title)
    steps = [_step(step, coats, say) for step, say in zip(plan.steps, words, strict=True)]
    own = [] if frost_free_days else _how_known([mixes[coat["mix"]] for coat in coats])
    return {"steps": steps, "calendar": ics, "warnings": [*plan.warnings, *own]}


def _coats(given: Given, mixes: Mapping[str, Any]) -> tuple[list[Coat], list[Mapping[str, Any]]]:
    """The coats asked for, and the waits of their method as it is laid."""
    own, method = read_coats(given), method_named(given)
    if own is None and method is None:
        raise BadInput("missing_field", "Give a method, or coats.", {"method": "missing", "coats": "missing"})
    finish_kind = given.chosen("finish_kind", FINISH_KINDS)
    job: Job = {"finish_kind": finish_kind, "coats": own}
    if method is None:
        return own or [], []
    coats = coats_for(job, method)
    return coats, as_laid(cast(Mapping[str, Any], method), job, _layers(coats), mixes)["cure"]


def _layers(coats: Sequence[Coat]) -> list[Layer]:
    bare = {"part": "coat", "lifts": 1, "wet_l": exactly(0)}
    return [cast(Layer, {"mix": one["mix"], "thickness_mm": one["thickness_mm"], **bare}) for one in coats]


def _curing_coat(coat: LaidCoat, mix: Mapping[str, Any], frost_free_days: Range | None) -> CuringCoat:
    return CuringCoat(
        coat.thickness_mm or 0.0,
        {key: mix[key] for key in ("kind", "rich", "stipple", "coverage_m2_per_l", "coat_mm")},  # type: ignore[arg-type]
        coat.damp_days,
        coat.interval_days,
        frost_free_days or coat.frost_free_days,
    )


def _how_known(mixes: Sequence[Mapping[str, Any]]) -> list[str]:
    bases = {mix["frost_free_days"]["basis"] for mix in mixes}
    return sorted(f"frost_free_days_{basis.replace(' ', '_')}" for basis in bases - {"read"})


def _checks(given: Given) -> list[int]:
    days = given.numbers("check_after_days")
    if days is None:
        return list(CHECK_AFTER_DAYS)
    if not all(0 <= day <= 730 for day in days):
        raise bad("check_after_days", "Give check_after_days as days from 0 to 730.")
    return [round(day) for day in days]


def _words(step: DatedStep, coats: list[Coat], mixes: Mapping[str, Any]) -> str:
    if step.coat is None:
        return STEP_WORDS[step.kind]
    name = mixes[coats[step.coat]["mix"]]["words"]["en"]["name"]
    return STEP_WORDS[step.kind].format(n=step.coat + 1, mix=name)


def _step(step: DatedStep, coats: list[Coat], say: str) -> dict[str, object]:
    return {
        "kind": step.kind, "coat": step.coat, "mix": None if step.coat is None else coats[step.coat]["mix"],
        "earliest": step.earliest.isoformat(), "likely": step.likely.isoformat(),
        "latest": step.latest.isoformat(), "words": say,
    }  # fmt: skip


def _write_calendar(place: str, plan: CuringPlan, words: list[str], title: str) -> None:
    # Only here: the calendar library is slow to load, and most plans are printed.
    from makegood.papers.files.cure_calendar import cure_calendar

    content = cure_calendar(plan, words, title, datetime.now(UTC))
    try:
        Path(place).write_bytes(content)
    except (OSError, ValueError) as why:
        raise BadInput(
            "file_unwritable",
            f"The calendar cannot be written to {place}. Choose another place.",
            {"ics": place},
        ) from why


def gate(given: Given) -> dict[str, object]:
    """Return go, caution or stop with reasons, and how long a soaked wall may still need to dry."""
    trend = given.chosen("trend", TRENDS)
    frost_free_days = given.number("frost_free_days")
    wall_dry = given.flag("wall_dry") if given.value("wall_dry") is not None else None
    verdict = why_not_today(
        Today(
            given.needed("temperature_c"), trend or "steady", given.numbers("nights_c") or [],
            frost_free_days or 0.0, wall_dry, given.flag("wall_frozen"), given.number("rain_in_h"),
            given.flag("covered"), given.flag("sun_on_wall"), given.number("wind_m_s"),
        )
    )  # fmt: skip
    since_wet = given.number("days_since_wet")
    return {
        "verdict": verdict.verdict,
        "reasons": [{"code": one.code, "level": one.level, "message": one.say} for one in verdict.reasons],
        "days_left_to_dry": None if since_wet is None else days_left_to_dry(since_wet),
        "warnings": [] if trend else ["trend_assumed_steady"],
    }
