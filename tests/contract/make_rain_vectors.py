"""Write shared/vectors/driving_rain.json and dose.json anew: `python -m tests.contract.make_rain_vectors`.

The cases are chosen here; the numbers are what the Python side gives, and tests/reference/weather holds that to others' sums.
"""

import json
from itertools import product
from random import Random
from typing import Any

from makegood.paths import shared_dir
from tests.contract.rain_case import run_dose_case, run_rain_case

VECTORS = shared_dir() / "vectors"
SURFACES = {
    "flat": {"kind": "flat", "width_m": 6.0, "height_m": 3.0, "batter_deg": 0.0},
    "battered": {"kind": "flat", "width_m": 6.0, "height_m": 4.0, "batter_deg": 8.0},
    "round": {"kind": "round_wall", "radius_m": 3.0, "height_m": 2.5},
    "hemisphere": {"kind": "dome", "shape": "hemisphere", "radius_m": 3.0},
    "lancet": {"kind": "dome", "shape": "lancet", "base_radius_m": 3.0, "height_m": 6.0},
    "cone": {"kind": "dome", "shape": "cone", "base_radius_m": 3.0, "top_radius_m": 1.0, "height_m": 2.0},
    "profile": {"kind": "dome", "shape": "profile", "points_m": [[2.0, 0.0], [2.2, 1.0], [0.0, 4.0]]},
}  # fmt: skip


def _hours(seed: int, length: int, gaps: bool) -> dict[str, list[float | None]]:
    dice = Random(seed)
    lists: dict[str, list[float | None]] = {"rain_mm": [], "wind_m_s": [], "from_deg": []}
    for _ in range(length):
        lists["rain_mm"].append(dice.choice([0.0, 0.0, round(dice.uniform(0.1, 12), 1)]))
        lists["wind_m_s"].append(round(dice.uniform(0, 25), 1))
        lists["from_deg"].append(float(dice.randrange(0, 361, 10)))
    if gaps:
        for name in lists:
            lists[name][dice.randrange(length)] = None
    return lists


def _rain_cases() -> list[tuple[str, dict[str, Any]]]:
    c10 = [
        (5.0, 2.0, 0.0), (10.0, 5.0, 60.0), (10.0, 10.0, 0.0), (10.0, 5.0, 120.0), (10.0, 5.0, 90.0),
        (0.0, 5.0, 0.0), (7.0, 0.0, 30.0),
    ]  # fmt: skip
    cases: list[tuple[str, dict[str, Any]]] = [
        (f"hour {w} m/s, {r} mm, {a} deg", {"hour": {"wind_m_s": w, "rain_mm_h": r, "angle_deg": a}}) for w, r, a in c10
    ]
    for k, (bearing, slope) in enumerate(product((0.0, 90.0, 225.0, 360.0), (0.0, 40.0, 90.0, 130.0))):
        face = {"bearing_deg": bearing, "slope_deg": slope}
        hours = _hours(k, 24, gaps=k % 3 == 0)
        cases.append((f"hours {k} on {face}", {"hours": hours, "face": face, "driven": 1.0 if k % 2 else 0.7}))
    storms = [
        (40.0, 12.0, 200.0, 10.0), (40.0, 12.0, None, 10.0), (40.0, 12.0, 200.0, None), (5.0, 25.0, 10.0, 0.5),
        (0.0, 10.0, 90.0, 4.0),
        (30.0, 0.0, 90.0, 4.0),
    ]  # fmt: skip
    faces = [(200.0, 90.0), (110.0, 90.0), (20.0, 90.0), (0.0, 90.0), (200.0, 45.0), (355.0, 0.0), (200.0, 110.0)]
    for (rain, wind, came, long), (bearing, slope) in product(storms, faces):
        storm = {"rain_mm": rain, "wind_m_s": wind, "wind_from_deg": came, "duration_h": long}
        on = {"bearing_deg": bearing, "slope_deg": slope}
        cases.append((f"storm {rain} {wind} {came} {long} on {bearing} {slope}", {"storm": storm, "face": on}))
    return cases


REGIONS: dict[str, Any] = {
    "all of it": None,
    "low on the right": {"view": "seen", "shape": "outline", "points_m": [[0.4, 0.3], [0.9, 0.3], [0.9, 0.8]]},
    "unrolled": {"view": "unrolled", "shape": "pin", "points_m": [[1.1, 0.9]]},
}


def _dose_cases() -> list[tuple[str, dict[str, Any]]]:
    whole, gappy = _hours(71, 30, gaps=False), _hours(72, 30, gaps=True)
    empty: dict[str, list[float | None]] = {name: [None, None] for name in whole}
    lists = {"whole": whole, "with gaps": gappy, "nothing known": empty, "long": _hours(73, 120, gaps=True)}
    cases: list[tuple[str, dict[str, Any]]] = [(f"totals, {name}", {"totals": hours}) for name, hours in lists.items()]
    totals = {"rain_mm": 40.0, "wind_m_s": 12.0, "wind_from_deg": 200.0, "duration_h": 10.0}
    storms = {
        "totals": totals, "hours": {"hours": whole}, "gaps and totals": {**totals, "hours": gappy},
        "gaps alone": {"hours": gappy}, "dry": {"rain_mm": 0.0}, "no wind told": {"rain_mm": 30.0}, "nothing": {},
        "minutes": {**totals, "duration_h": 0.05},
    }  # fmt: skip
    for name, surface in SURFACES.items():
        given = {"surface": surface, "bearing_deg": 215.0, "bands": 3}
        cases += [(f"{name}, {told}", {**given, "storm": storms[told]}) for told in ("totals", "hours")]
        faces = {where: {"surface": surface, "bearing_deg": 215.0, "region": region} for where, region in REGIONS.items()}
        cases += [(f"face of {name}, {where}", one) for where, one in faces.items()]
    flat = {"surface": SURFACES["battered"], "bearing_deg": 10.0, "bands": 2}
    cases += [(f"told: {told}", {**flat, "storm": storm}) for told, storm in storms.items()]
    return cases


def _refused(**wrong: float) -> dict[str, Any]:
    storm = {"rain_mm": 1.0, "wind_m_s": 1.0, "wind_from_deg": 0.0, "duration_h": 1.0}
    face = {"bearing_deg": 0.0, "slope_deg": 90.0}
    return {"storm": {name: wrong.get(name, value) for name, value in storm.items()},
            "face": {name: wrong.get(name, value) for name, value in face.items()}}  # fmt: skip


REFUSED = [
    ("bearing over 360", _refused(bearing_deg=361.0)),
    ("slope under 0", {"hours": _hours(1, 3, gaps=False), "face": {"bearing_deg": 0.0, "slope_deg": -1.0}}),
    ("wind of 1048", _refused(wind_m_s=1048.0)),
    ("rain under 0", _refused(rain_mm=-1.0)),
    ("no time at all", _refused(duration_h=0.0)),
]


def _write(name: str, note: str, cases: list[dict[str, Any]]) -> None:
    lines = ",\n".join("  " + json.dumps(case, ensure_ascii=False) for case in cases)
    head = json.dumps({"note": note, "tolerance": 1e-9}, ensure_ascii=False, indent=1)[:-2]
    (VECTORS / f"{name}.json").write_text(head + f',\n "cases": [\n{lines}\n ]\n}}\n', encoding="utf-8")


def main() -> None:
    """Write the two files."""
    rain = [{"name": name, "in": given, "out": run_rain_case(given)} for name, given in _rain_cases()]
    refused = [{"name": name, "in": given, "error": "out_of_range"} for name, given in REFUSED]
    note = "Rain on one face: an hour, hours, a storm by totals; driven scales the wind-driven part."
    _write("driving_rain", note, rain + refused)
    doses = [{"name": name, "in": given, "out": run_dose_case(given)} for name, given in _dose_cases()]
    note = "A storm as written down onto the parts of a wall, the totals of hours, and the face of a finish by its region."
    _write("dose", note, doses)


if __name__ == "__main__":
    main()
