"""The sums both sides share give the numbers of shared/vectors here; vitest holds the phone to them."""

import importlib
import json
import re
from collections.abc import Callable, Mapping
from dataclasses import asdict, is_dataclass
from datetime import date
from itertools import product
from pathlib import Path
from typing import Any

import pytest

from makegood.errors import MakegoodError
from makegood.paths import shared_dir
from tests.contract.ledger_case import run_erosion_case, run_ledger_case, run_tried_case, run_turnbull_case
from tests.contract.merge_case import run_merge_case
from tests.contract.rain_case import run_dose_case, run_rain_case

DEVELOPERS = Path(__file__).resolve().parents[2] / "DEVELOPERS.md"


def _shared(name: str) -> Any:
    return json.loads((shared_dir() / name).read_text(encoding="utf-8"))


def _function(path: str) -> Callable[..., Any]:
    # Imported only when its case runs, so that one broken module fails its own cases and no others.
    module, name = path.rsplit(".", 1)
    return getattr(importlib.import_module(f"makegood.{module}"), name)


def _area(given: Mapping[str, Any]) -> Any:
    return _function("science.outline.reckon_area")(given["surface"], given["view"], given.get("outline_m"))


def _length(given: Mapping[str, Any]) -> Any:
    return _function("science.outline.reckon_length")(given["surface"], given["view"], given["line_m"])


def _rectify(given: Mapping[str, Any]) -> Any:
    return {"homography": list(_function("science.rectify.homography")(given["photo"], given["wall"]))}


def _urgency(given: Mapping[str, Any]) -> Any:
    facts = _function("domain.urgency.Facts")(**{**given, "signs": tuple(given["signs"])})
    return _function("domain.urgency.judge")(facts, _shared("urgency.json"))


def _ticket_state(given: Mapping[str, Any]) -> Any:
    steps = [_function("domain.ticket.TicketStep")(**step) for step in given["steps"]]
    return _function("domain.ticket.state_of")(steps, _shared("ticket_states.json"))


def _estimate(given: Mapping[str, Any]) -> Any:
    frozen = _shared("vectors/estimate.json")["catalogue"]
    method = frozen["methods"][given["method"]]
    return _function("science.estimate.estimate")(given["job"], method, frozen["mixes"], frozen["materials"])


def _suggest(given: Mapping[str, Any]) -> Any:
    return {"method": _function("domain.method.suggest")(given, _shared("methods.json")["suggest"])}


def _scales(given: Mapping[str, Any]) -> Any:
    if "wind_m_s" in given:
        return {"force": _function("science.scales.beaufort")(given["wind_m_s"])}
    classed = _function("science.scales.classify")(given["scale"], given["figure"])
    return {"place": classed.place, "name": classed.name}


def _curing(given: Mapping[str, Any]) -> Any:
    coats = [_function("science.curing.CuringCoat")(**coat) for coat in given["coats"]]
    checks = [given["check_after_days"]] if "check_after_days" in given else []
    plan = _function("science.curing.curing_plan")(date.fromisoformat(given["start"]), coats, *checks)
    steps = [step._asdict() for step in plan.steps]
    for step, when in product(steps, ("earliest", "likely", "latest")):
        step[when] = step[when].isoformat()
    return {"steps": steps, "warnings": plan.warnings}


def _laid(given: Mapping[str, Any]) -> Any:
    coats = _function("science.laid.laid_coats")(given["layers"], given["mixes"], given["cure"])
    earth = _function("science.laid.lays_earth")([layer["mix"] for layer in given["layers"]], given["mixes"])
    return {"earth": earth, "coats": [asdict(coat) for coat in coats]}


def _gate(given: Mapping[str, Any]) -> Any:
    if "days_since_wet" in given:
        return _function("science.gate.days_left_to_dry")(given["days_since_wet"])
    verdict = _function("science.gate.why_not_today")(_function("science.gate.Today")(**given["today"]))
    reasons = [{"code": reason.code, "level": reason.level} for reason in verdict.reasons]
    return {"verdict": verdict.verdict, "reasons": reasons}


def _work_day(given: Mapping[str, Any]) -> Any:
    if "plan" in given:
        return _function("science.planning.work_day.plan_work")(given["plan"])
    return {"visits": _function("science.planning.hours.visits_of")(**given["hours"])}


# file: how its `in` becomes a call; the answer is a dict or a dataclass with the fields of `out`.
CALLS: dict[str, Callable[[Mapping[str, Any]], Any]] = {
    "area.json": _area,
    "length.json": _length,
    "rectify.json": _rectify,
    "urgency.json": _urgency,
    "ticket_state.json": _ticket_state,
    "scales.json": _scales,
    "curing.json": _curing,
    "laid.json": _laid,
    "gate.json": _gate,
    "work_day.json": _work_day,
    "estimate.json": _estimate,
    "suggest.json": _suggest,
    "merge.json": run_merge_case,
    "ledger.json": run_ledger_case,
    "tried.json": run_tried_case,
    "turnbull.json": run_turnbull_case,
    "erosion.json": run_erosion_case,
    "driving_rain.json": run_rain_case,
    "dose.json": run_dose_case,
}


def _files() -> list[str]:
    """The files of DEVELOPERS.md 3.5."""
    section = DEVELOPERS.read_text(encoding="utf-8").split("### 3.5", 1)[1].split("\n#", 1)[0]
    return re.findall(r"^\| (\w+\.json) \|", section, re.M)


def _cases() -> list[Any]:
    found = []
    for file in _files():
        path = shared_dir() / "vectors" / file
        vectors = json.loads(path.read_text(encoding="utf-8")) if path.exists() else {"cases": []}
        found += [pytest.param(file, vectors, c, id=f"{file}: {c['name']}") for c in vectors["cases"]]
    return found


def _same(got: Any, expected: Any, relative: float, where: str) -> None:
    if isinstance(expected, Mapping):
        assert set(got) == set(expected), where
        for name in expected:
            _same(got[name], expected[name], relative, f"{where}.{name}")
    elif isinstance(expected, list):
        assert len(got) == len(expected), where
        for k, (one, other) in enumerate(zip(got, expected, strict=True)):
            _same(one, other, relative, f"{where}[{k}]")
    elif isinstance(expected, float) and not isinstance(got, bool):
        assert got == pytest.approx(expected, rel=relative, abs=1e-12), where
    else:
        assert got == expected, where


@pytest.mark.parametrize("file", _files())
def test_every_vector_file_is_there_and_has_cases(file: str) -> None:
    assert _shared(f"vectors/{file}")["cases"]
    assert file in CALLS


def test_the_contract_names_vector_files() -> None:
    assert "area.json" in _files()
    assert set(CALLS) <= set(_files())


@pytest.mark.parametrize(("file", "vectors", "case"), _cases())
def test_vector(file: str, vectors: Mapping[str, Any], case: Mapping[str, Any]) -> None:
    call = CALLS[file]
    if "error" in case:
        with pytest.raises(MakegoodError) as refusal:
            call(case["in"])
        assert refusal.value.code == case["error"]
        return
    got = call(case["in"])
    _same(
        asdict(got) if is_dataclass(got) and not isinstance(got, type) else got,
        case["out"],
        vectors["tolerance"],
        case["name"],
    )
