"""Writes shared/vectors/ledger.json, turnbull.json and erosion.json: `python -m tests.contract.make_ledger_vectors`.

Each ledger case carries its answer, worked out by hand; the package must give it, or nothing is written. The
masses of turnbull.json and the rates of erosion.json are the package's own, which C12 to C14 and lifelines hold.
"""

import json
import random
from pathlib import Path
from typing import Any

from tests.contract.ledger_case import run_erosion_case, run_ledger_case, run_turnbull_case
from tests.contract.ledger_written import CASES, VERDICTS

VECTORS = Path(__file__).resolve().parents[2] / "shared" / "vectors"
LEDGER_NOTE = (
    "What is known of each finish of one side. Days are counted from the day it was laid; l_m2 is the driving "
    "rain on this side from then on. A null right end: not let go as far as anybody looked."
)
TURNBULL_NOTE = "Interval-censored masses; a null end is never. sound_at_left: (left, right], as on visits."
EROSION_NOTE = "Dated depths of one face; l_m2 is driving rain since the look before."


def ledger() -> dict[str, Any]:
    """Return ledger.json."""
    cases = []
    for name, side, expected in CASES:
        given = {"side": side, "verdicts": VERDICTS, "measure": "l_m2"}
        got = run_ledger_case(given)
        if got["finishes"] != expected:
            raise SystemExit(f"{name}: {got['finishes']} is not {expected}")
        cases.append({"name": name, "in": given, "out": got})
    return {"note": LEDGER_NOTE, "tolerance": 1e-9, "cases": cases}


def turnbull() -> dict[str, Any]:
    """Return turnbull.json: the published intervals and seeded ones."""
    ten = [[1, 7], [8, 8], [8, 10], [7, 16], [7, 14], [17, None], [37, 44], [46, None], [46, None], [45, None]]
    six = [[0, 1], [4, 6], [2, 6], [0, 3], [2, 4], [5, 7]]
    given = [
        ("the ten of C14", ten, None, False),
        ("the six of C14", six, None, False),
        ("one still sound", [[3, None]], None, True),
        ("one seen to fail", [[4, 4]], None, True),
        ("all failed at the first look", [[0, 5]] * 4, None, True),
        ("weights", ten, [2, 2, 2, 1, 1, 1, 1, 1, 1, 1], False),
        ("one found failed on the day another is found sound", [[0, 5], [5, None], [5, 9], [2, 5]], None, True),
    ]
    rng = random.Random(6)
    for n in range(30):
        many = rng.randint(2, 40)
        spans: list[list[float | None]] = []
        for _ in range(many):
            left = rng.choice([0, rng.randint(0, 60), round(rng.uniform(0, 60), 3)])
            spans.append([left, None if rng.random() < 0.4 else round(left + rng.choice([0, 5, rng.uniform(1, 40)]), 3)])
        given.append((f"seeded {n + 1}", spans, None, n % 2 == 0))
    cases = []
    for name, intervals, weights, sound in given:
        asked = {"intervals": intervals, "weights": weights, "sound_at_left": sound}
        cases.append({"name": name, "in": asked, "out": run_turnbull_case(asked)})
    refused = [("none", [], None, "no_durations"), ("backwards", [[5, 2]], None, "interval_refused"),
               ("no weight", [[1, 2]], [0], "weight_refused"), ("lengths", [[1, 2]], [1, 1], "lengths_differ")]  # fmt: skip
    for name, bad, weights, code in refused:
        cases.append({"name": name, "in": {"intervals": bad, "weights": weights, "sound_at_left": False}, "error": code})
    return {"note": TURNBULL_NOTE, "tolerance": 1e-9, "cases": cases}


def _depths(*looks: tuple[str, float, float, float | None]) -> list[dict[str, Any]]:
    return [{"on": on, "mean_mm": mean, "deepest_mm": deepest, "l_m2": rain} for on, mean, deepest, rain in looks]


def wear() -> dict[str, Any]:
    """Return erosion.json."""
    worn = _depths(("2023-06-01", 0, 0, None), ("2026-06-01", 6, 9, 150.0))
    thrice = _depths(("2025-10-01", 1, 2, None), ("2026-01-10", 2.5, 5, 40.0), ("2026-03-12", 4, 9, 62.5))
    given = [
        ("six of 22 mm in three years", worn, 22, 50.0),
        ("three looks", thrice, 22, 21.0),
        ("nearly through", _depths(("2026-03-12", 6, 14, None), ("2026-05-24", 8, 20, 24.0)), 22, 9.0),
        ("through", _depths(("2026-03-12", 6, 14, None), ("2026-05-24", 8, 22, 24.0)), 22, 9.0),
        ("one look", worn[:1], 22, 50.0),
        ("mended in between", _depths(("2025-01-01", 9, 12, None), ("2026-01-01", 2, 3, 80.0)), 22, 10.0),
        ("no wear", _depths(("2025-01-01", 2, 3, None), ("2026-01-01", 2, 3, 80.0)), 22, 10.0),
        ("rain not known", _depths(("2025-01-01", 2, 3, None), ("2026-01-01", 4, 7, None)), 22, 10.0),
        ("no rain between", _depths(("2025-01-01", 2, 3, None), ("2026-01-01", 4, 7, 0.0)), 22, 10.0),
        ("last storm not known", thrice, 22, None),
        ("out of order", thrice[::-1], 22, 21.0),
    ]  # fmt: skip
    cases: list[dict[str, Any]] = []
    for name, depths, coat, last in given:
        asked = {"depths": depths, "coat_mm": coat, "last_storm_l_m2": last}
        cases.append({"name": name, "in": asked, "out": run_erosion_case(asked)})
    refused = [("no depths", [], 22, None, "no_depths"), ("no coat", worn, 0, None, "coat_refused"),
               ("mean over deepest", _depths(("2025-01-01", 4, 3, None)), 22, None, "depth_refused"),
               ("the same day", [worn[0], worn[0]], 22, None, "date_twice"),
               ("rain below zero", worn, 22, -1.0, "dose_refused")]  # fmt: skip
    for name, depths, coat, last, code in refused:
        cases.append({"name": name, "in": {"depths": depths, "coat_mm": coat, "last_storm_l_m2": last}, "error": code})
    return {"note": EROSION_NOTE, "tolerance": 1e-9, "cases": cases}


def main() -> None:
    """Write the three files."""
    for name, content in (("ledger", ledger()), ("turnbull", turnbull()), ("erosion", wear())):
        lines = ",\n".join("  " + json.dumps(case, ensure_ascii=False) for case in content["cases"])
        head = {"note": content["note"], "tolerance": content["tolerance"]}
        text = json.dumps(head, ensure_ascii=False, indent=1)[:-2] + f',\n "cases": [\n{lines}\n ]\n}}\n'
        (VECTORS / f"{name}.json").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
