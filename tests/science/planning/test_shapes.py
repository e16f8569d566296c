"""The shapes of the plan are those the phone names too."""

import re
from pathlib import Path
from typing import is_typeddict

import makegood.science.planning.shapes as shapes

PHONE = Path(__file__).resolve().parents[3] / "web" / "src" / "model" / "planning" / "shapes.ts"
OTHER_NAMES = {"Worker": "Crew", "ForecastDay": "Forecast", "Reason": "JobReason"}


def test_both_sides_name_the_same_fields():
    text = PHONE.read_text(encoding="utf-8")
    found = {name: kind for name, kind in vars(shapes).items() if is_typeddict(kind) and name != "Range"}
    assert len(found) > 10
    for name, kind in found.items():
        body = re.search(rf"export type {OTHER_NAMES.get(name, name)} = \{{(.*?)\}};", text, re.DOTALL)
        assert body, name
        assert set(re.findall(r"(\w+):", body.group(1))) == set(kind.__annotations__), name
