"""Batches of a day, by hand."""

import pytest

from makegood.science.planning.mixing import share_batches
from tests.science.planning.days import MIXES


def stretch(job, from_h, to_h, litres, mix="lime_coat", place="barn"):
    return {"job": job, "mix": mix, "place": place, "from_h": from_h, "to_h": to_h, "litres": litres}


def mixed(*stretches):
    return [
        (b["at_h"], b["until_h"], pytest.approx(b["litres"]), b["jobs"])
        for b in share_batches(stretches, MIXES)
    ]


def test_patches_within_the_working_time_share_a_batch():
    assert mixed(stretch("a", 0, 1, 10), stretch("b", 1.5, 2, 6)) == [(0, 2, 16, ["a", "b"])]


def test_a_batch_older_than_its_working_time_is_made_anew():
    assert mixed(stretch("a", 0, 1, 10), stretch("b", 1.5, 2.5, 6)) == [
        (0, 2, 13, ["a", "b"]),
        (2, 2.5, 3, ["b"]),
    ]
    assert mixed(stretch("a", 0, 1, 10), stretch("b", 3, 4, 6)) == [(0, 1, 10, ["a"]), (3, 4, 6, ["b"])]


def test_two_at_once_use_it_up_together():
    assert mixed(stretch("a", 0, 1, 40), stretch("b", 0, 1, 40)) == [
        (0, 0.5, 40, ["a", "b"]),
        (0.5, 1, 40, ["a", "b"]),
    ]


def test_the_vessel_makes_equal_batches():
    assert [batch[2] for batch in mixed(stretch("a", 0, 1.5, 90))] == [30, 30, 30]


@pytest.mark.parametrize("other", [{"mix": "clay_wash"}, {"place": "house"}])
def test_other_mixes_and_other_buildings_are_mixed_apart(other):
    assert len(mixed(stretch("a", 0, 1, 5), stretch("b", 0, 1, 5, **other))) == 2


def test_nothing_to_lay_is_nothing_to_mix():
    assert mixed(stretch("a", 0, 1, 0)) == mixed() == []
