"""Hours of visits, by hand: 2 m2 of a coat at rates that can be reckoned in the head."""

import pytest

from makegood.science.planning.hours import size_hours, visits_of
from makegood.science.range import exactly, spread
from tests.science.planning.days import LIME

RATES = {
    "prepare_skill": "careful_beginner",
    "set_up_h": exactly(0.5),
    "mixing_h_per_l": {"mixer": exactly(0.01), "by_hand": exactly(0.05)},
    "laying_factor": spread(0.5, 1, 2),
}
NONE = {"per_m2": None, "per_m": None, "per_each": None, "per_ticket": None}
SIZE = {"area_m2": 2.0, "length_m": 3.0, "count": 0.0}
HAND = {"skill": "some_plastering", "mixer": False}
MIXER = {"skill": "some_plastering", "mixer": True}
COAT = {"laid": [{"mix": "lime_coat", "litres": exactly(20), "laying_l_per_h": 20.0}], "coat": LIME}


@pytest.mark.parametrize(
    ("rates", "hours"),
    [
        ({"per_m2": spread(0.2, 0.4, 0.8)}, spread(0.4, 0.8, 1.6)),
        ({"per_m": exactly(0.5)}, exactly(1.5)),
        ({"per_m": exactly(0.5), "per_ticket": exactly(1)}, exactly(2.5)),
        ({"per_each": exactly(1)}, None),
        ({}, None),
    ],
)
def test_hours_by_size(rates, hours):
    assert size_hours(SIZE, {**NONE, **rates}) == hours


def test_first_visit_prepares_and_each_return_sets_up_anew():
    first, coat, later = visits_of(SIZE, [COAT, COAT], {**NONE, "per_m2": exactly(0.5)}, RATES, HAND)
    assert (first["kind"], first["hours"], first["coat"]) == ("prepare", exactly(1.5), None)
    assert [first["skill"], coat["skill"]] == ["careful_beginner", "some_plastering"]
    # 20 L at 20 L/h, and 0.05 h of mixing by hand for each litre.
    assert coat["hours"] == pytest.approx(spread(1.5, 2, 3))
    assert later["hours"] == pytest.approx(spread(2, 2.5, 3.5))
    assert coat["portions"] == [{"mix": "lime_coat", "litres": 20}]


def test_a_mixer_saves_time_and_work_without_coats_is_one_visit():
    quick = visits_of(SIZE, [COAT], {**NONE, "per_m2": exactly(0.5)}, RATES, MIXER)[1]
    assert quick["hours"]["likely"] == pytest.approx(1.2)
    [only] = visits_of(SIZE, [], {**NONE, "per_ticket": exactly(3)}, RATES, MIXER)
    assert (only["kind"], only["hours"]) == ("work", exactly(3.5))


def test_what_anybody_can_do_anybody_prepares():
    anybody = {**HAND, "skill": "anyone"}
    visits = visits_of(SIZE, [COAT], {**NONE, "per_m2": exactly(0.5)}, RATES, anybody)
    assert [one["skill"] for one in visits] == ["anyone", "anyone"]


def test_an_untold_size_has_no_hours():
    assert visits_of({**SIZE, "area_m2": 0.0}, [COAT], {**NONE, "per_m2": exactly(1)}, RATES, HAND) == []
