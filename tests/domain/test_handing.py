"""The lists and tables inside rows: what is taken as it is, and what is refused with a sentence."""

import pytest

from makegood.domain.handing import CHECKS
from makegood.errors import BadInput

ONE, TWO = "11111111-1111-4111-8111-111111111111", "22222222-2222-4222-8222-222222222222"
HOURS = {"from": "2026-11-25T09:00:00.000Z", "rain_mm": [1.2, None], "wind_m_s": [4, 0], "from_deg": [None, 350]}
GOOD = {
    "ids": [[], [ONE, TWO]],
    "crew": [[], [{"person": "Ada", "hours": 6, "skills": ["lime"]}, {"person": "", "hours": 0}]],
    "forecast": [[], [{"on": "2026-11-26", "low_c": -3, "high_c": None, "rain_mm": 0}]],
    "used": [{}, {"sand": {"kg": 12.5}, "lime_putty": {"l": 0}}],
    "checks": [{}, {"tap": "ok", "edges": "not_looked"}],
    "hours": [HOURS],
}
BAD = [
    ("ids", "no list"), ("ids", [ONE, ONE]), ("ids", ["x"]), ("ids", [ONE] * 201),
    ("crew", [{"person": "Ada", "hours": 25}]), ("crew", [{"person": 3, "hours": 1}]), ("crew", [{"hours": 1, "pay": 2}]),
    ("crew", [{"person": "Ada", "hours": 1, "skills": ["Über!"]}]), ("crew", [7]),
    ("forecast", [{"on": "26.11.2026"}]), ("forecast", [{"on": "2026-11-26", "rain_mm": -1}]), ("forecast", ["rain"]),
    ("forecast", [{"on": "2026-11-26", "mood": 1}]), ("forecast", [{"on": "2026-11-26", "low_c": float("nan")}]),
    ("used", {"sand": {"kg": -1}}), ("used", {"sand": {"kg": 1, "l": 2}}),
    ("used", {"sand": {"cups": 1}}), ("used", {"A b": {"kg": 1}}), ("used", []),
    ("checks", {"tap": "fine"}), ("checks", []), ("checks", {"": "ok"}),
    ("hours", {**HOURS, "from": "today"}), ("hours", {**HOURS, "rain_mm": [1]}), ("hours", {**HOURS, "rain_mm": [-1, 0]}),
    ("hours", {**HOURS, "wind_m_s": [1048, 0]}), ("hours", {"from": HOURS["from"]}), ("hours", {**HOURS, "from_deg": "north"}),
    ("hours", {"from": HOURS["from"], "rain_mm": [], "wind_m_s": [], "from_deg": []}),
]  # fmt: skip


@pytest.mark.parametrize(("shape", "value"), [(shape, value) for shape, values in GOOD.items() for value in values])
def test_what_is_right_is_kept_as_it_is(shape, value):
    assert CHECKS[shape]("field", value) == value


@pytest.mark.parametrize(("shape", "value"), BAD)
def test_what_is_wrong_is_refused_with_a_sentence_for_its_field(shape, value):
    with pytest.raises(BadInput) as refused:
        CHECKS[shape]("field", value)
    assert refused.value.code == "bad_value"
    assert "field" in refused.value.fields


def test_every_shape_is_tried():
    assert set(GOOD) == set(CHECKS) == {shape for shape, _ in BAD}
