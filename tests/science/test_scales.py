"""Named scales: whole tables are sound and every answer carries its source."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from makegood.errors import BadInput
from makegood.science.scales import SCALES, beaufort, classify, crack_class, crack_step_mm


@pytest.mark.parametrize("scale", SCALES)
def test_every_scale_is_well_made(scale):
    rows = SCALES[scale]
    assert len(rows.classes) == len(rows.limits) + 1 == len(rows.includes) + 1
    assert list(rows.limits) == sorted(set(rows.limits))
    assert rows.source
    assert rows.basis in ("read", "from memory")


@pytest.mark.parametrize("scale", SCALES)
def test_every_class_can_be_reached(scale):
    rows = SCALES[scale]
    figures = [
        0.0,
        *rows.limits,
        *(limit + 1e-6 for limit in rows.limits),
        *(limit * 0.999 for limit in rows.limits),
    ]
    assert {classify(scale, figure).name for figure in figures} == set(rows.classes)


@given(st.sampled_from(sorted(SCALES)), st.floats(0, 200), st.floats(0, 200))
def test_more_is_never_a_lower_class(scale, one, other):
    low, high = sorted((one, other))
    assert classify(scale, low).place <= classify(scale, high).place


def test_answer_names_its_scale_and_source():
    classed = classify("rain_ams", 5)
    assert (classed.scale, classed.source, classed.basis) == ("rain_ams", SCALES["rain_ams"].source, "read")


@pytest.mark.parametrize("figure", [-0.1, float("nan")])
def test_figures_below_zero_are_refused(figure):
    for refused in (
        lambda: crack_class(figure),
        lambda: beaufort(figure),
        lambda: crack_class(figure, several=True),
    ):
        with pytest.raises(BadInput) as fault:
            refused()
        assert fault.value.code == "out_of_range"


def test_unknown_scale_is_refused():
    with pytest.raises(BadInput) as refused:
        classify("richter", 3)
    assert refused.value.code == "scale_unknown"


@pytest.mark.parametrize(("width", "kept"), [(0.04, 0.0), (0.05, 0.1), (0.35, 0.4), (2.349, 2.3), (7, 7.0)])
def test_crack_widths_are_kept_to_a_tenth(width, kept):
    assert crack_step_mm(width) == kept
