"""What is known of a defect: latest answers, drawn before told, the finish under a mark."""

import pytest

from makegood.domain.repair.known import Known, Wall, facts_of, finish_under, job_of, size_of

SQUARE = {"view": "seen", "shape": "outline", "points_m": [[1, 1], [2, 1], [2, 2], [1, 2]]}
PIN = {"view": "seen", "shape": "pin", "points_m": [[1, 1]]}
FLAT = {"kind": "flat", "width_m": 6, "height_m": 3, "batter_deg": 0}
MIXES = {"lime": {"kind": "plaster"}, "earth": {"kind": "earth"}, "wash": {"kind": "wash"}}
WHOLE = {"coats": [{"mix": "earth", "thickness_mm": 20}, {"mix": "wash", "thickness_mm": 1}], "region": None}


def known(mark=SQUARE, readings=(), finishes=(WHOLE,)):
    """A defect on a flat cob wall."""
    defect = {"id": "d", "kind": "spalling", "mark": mark, "signs": None}
    return Known(defect, readings, Wall({"surface": FLAT}, {"wall_material": "cob"}, finishes))


def test_latest_answer_stands_and_silence_leaves_it():
    one = known(readings=[{"depth_max_mm": 10, "mark": None}, {"depth_max_mm": None, "mark": PIN}])
    assert one.latest("depth_max_mm") == 10
    assert one.mark == PIN


def test_drawn_size_goes_before_told_size():
    assert size_of(known(readings=[{"area_m2": 9}])).area_m2 == pytest.approx(1)
    assert size_of(known(PIN, [{"area_m2": 9}])).area_m2 == 9
    line = {"view": "seen", "shape": "line", "points_m": [[1, 1], [1, 2.5]]}
    assert size_of(known(line)).length_m == pytest.approx(1.5)


def test_mark_that_fits_the_wall_no_more_shows_none():
    off = {**SQUARE, "points_m": [[5, 1], [9, 1], [9, 2]]}
    found = size_of(known(off))
    assert found.area_m2 is None
    assert found.warnings == ("outline_leaves_wall",)


def test_region_under_the_mark_goes_before_what_covers_all():
    patch = {"coats": [{"mix": "lime", "thickness_mm": 8}], "region": {**SQUARE}}
    assert finish_under(SQUARE, [WHOLE, patch]) is patch
    assert finish_under({**PIN, "points_m": [[5, 2]]}, [WHOLE, patch]) is WHOLE
    assert finish_under(PIN, []) is None


def test_facts_and_job():
    one = known(readings=[{"depth_mean_mm": 5, "depth_max_mm": 30, "count": 2}])
    facts = facts_of(one, MIXES, size_of(one))
    assert facts["cover_mm"] == 21
    assert facts["finish_kind"] == "earth"
    assert facts_of(known(finishes=()), MIXES, size_of(one))["finish_kind"] == "none"
    job = job_of(one, MIXES)
    assert (job["depth_mean_mm"], job["count"], job["wall_material"]) == (5, 2, "cob")
    assert job["area_m2"] == pytest.approx(1)
