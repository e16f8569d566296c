"""What is laid one after another: numbers, lifts, the longer of two waits; shared/vectors/laid.json holds more."""

import pytest

from makegood.science.laid import laid_coats, lays_earth, longer
from makegood.science.range import exactly, spread

MIX = {
    "damp_days": spread(4, 5, 7), "interval_days": spread(4, 6, 7), "frost_free_days": spread(14, 21, 28),
    "hazards": ["lime_burns"],
}  # fmt: skip
EARTH = {**MIX, "hazards": []}
MIXES = {"lime": MIX, "earth": EARTH}


def layer(mix, part="coat", lifts=1):
    """A layer 30 mm thick."""
    return {"mix": mix, "part": part, "thickness_mm": 30.0, "lifts": lifts, "wet_l": exactly(1)}


def test_only_true_coats_are_numbered():
    coats = laid_coats([layer("lime", "dub_out", 3), layer("lime"), layer("gone"), layer("lime")], MIXES)
    assert [(one.n, one.lift, one.lifts, one.thickness_mm) for one in coats] == [
        (None, 1, 3, 10), (None, 2, 3, 10), (None, 3, 3, 10), (1, 1, 1, 30), (2, 1, 1, 30),
    ]  # fmt: skip


@pytest.mark.parametrize(("low", "likely", "high"), [(1, 1, 1), (4, 9, 9), (30, 40, 50)])
def test_no_wait_is_ever_shorter_than_its_mix_or_its_method_says(low, likely, high):
    own = spread(low, likely, high)
    cure = [{"wait": name, "days": own} for name in ("coat_1", "last", "frost")]
    [coat] = laid_coats([layer("lime")], MIXES, cure)
    for key in ("damp_days", "interval_days", "frost_free_days"):
        assert getattr(coat, key) == longer(MIX[key], own)
        assert all(getattr(coat, key)[end] >= max(MIX[key][end], own[end]) for end in own)


def test_a_wait_for_nothing_laid_changes_nothing():
    cure = [{"wait": None, "days": exactly(99)}, {"days": exactly(99)}]
    assert laid_coats([layer("lime")], MIXES, cure) == laid_coats([layer("lime")], MIXES)


def test_earth_is_what_brings_no_lime():
    assert lays_earth(["earth", "earth"], MIXES)
    assert not lays_earth(["earth", "lime"], MIXES)
    assert not lays_earth([], MIXES)
    assert not lays_earth(["gone"], MIXES)
