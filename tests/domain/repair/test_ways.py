"""A method in the words of what it lays: earth where all of it is earth, lime where any of it is lime."""

import re

import pytest

from makegood.domain.repair.known import Known, Wall
from makegood.domain.repair.ways import as_laid, planned_mixes
from tests.domain.repair.test_whole import BOOK, FLAT, reckoned, square, ticket

METHODS, MIXES = BOOK["methods"], BOOK["mixes"]
EARTH = {"coats": [{"mix": "earth_finish", "thickness_mm": 15}], "region": None}
WITH_EARTH = [key for key, one in METHODS.items() if one["earth"]]


def on_earth(x, side, depth_mm=24):
    """The same defect on a wall whose standing finish is earth."""
    lime = square(x, side)
    reading = {"depth_mean_mm": depth_mm, "depth_max_mm": depth_mm, "crack_width_mm": 3, "length_m": 1, "count": 2}
    return Known(lime.defect, [reading], Wall({"surface": FLAT}, {"wall_material": "cob"}, [EARTH]))


def told(method):
    """Everything a person reads of a method, in English."""
    words = method["words"]["en"]
    return " ".join([words["name"], words["short"], *words["steps"], *words["tools"], *words["cautions"]]).lower()


@pytest.mark.parametrize("method", WITH_EARTH)
def test_earth_repair_speaks_of_earth_and_never_of_lime(method):
    found = reckoned([on_earth(1, 0.5)], ticket(method=method))
    assert "lime_burns" not in found.hazards
    words = told(found.method)
    for lime in ("lime", "limewash", "hair", "stipple", "hessian"):
        assert not re.search(rf"\b{lime}\b", words), lime
    assert found.method["source"] == METHODS[method]["earth"]["source"]


@pytest.mark.parametrize("method", WITH_EARTH)
def test_lime_repair_by_the_same_method_warns_of_lime(method):
    lime = square(1, 0.5)
    lime.readings[0].update(crack_width_mm=3, length_m=1, count=2)
    found = reckoned([lime], ticket(method=method))
    assert "lime_burns" in found.hazards
    assert found.method["words"] == METHODS[method]["words"]


def test_no_method_names_a_hazard_that_comes_with_its_mixes():
    assert [key for key, one in METHODS.items() if "lime_burns" in one["hazards"]] == []


def test_every_method_that_can_lay_earth_has_words_for_it_and_no_other():
    can = [key for key, one in METHODS.items() if one["earth_coats"] or one["earth_fill_mix"]]
    assert can == WITH_EARTH


@pytest.mark.parametrize("method", WITH_EARTH)
def test_earth_words_are_whole_in_both_languages(method):
    en, es = METHODS[method]["earth"]["words"]["en"], METHODS[method]["earth"]["words"]["es"]
    assert set(en) == set(es) == {"name", "short", "steps", "tools", "cautions"}
    for key in ("steps", "tools", "cautions"):
        assert len(en[key]) == len(es[key]) > 0
    assert METHODS[method]["earth"]["basis"] in ("common practice", "assumed")


def test_lime_coats_of_ones_own_on_an_earth_wall_are_told_as_lime_with_the_days_of_their_mixes():
    row = ticket(coats=[{"mix": "lime_finish", "thickness_mm": 5}])
    found = reckoned([on_earth(1, 0.5, 5)], row)
    assert found.method["words"] == METHODS["patch_three_coats"]["words"]
    assert [one["wait"] for one in found.method["cure"]] == []
    assert "lime_burns" in found.hazards


def test_one_lime_wall_among_earth_walls_is_told_as_lime():
    found = reckoned([on_earth(1, 0.3), square(3, 0.3)])
    assert found.method["words"] == METHODS["patch_three_coats"]["words"]
    assert found.methods[0]["words"] == METHODS["patch_three_coats"]["earth"]["words"]


def test_before_the_size_is_known_the_plan_decides():
    usual = METHODS["fill_holes"]
    assert planned_mixes({"finish_kind": "earth"}, usual) == ["earth_filler"]
    assert as_laid(usual, {"finish_kind": "earth"}, [], MIXES)["words"] == usual["earth"]["words"]
    assert as_laid(usual, {"finish_kind": "lime"}, [], MIXES)["words"] == usual["words"]
    assert planned_mixes({}, METHODS["drain_first"]) == []


@pytest.mark.parametrize("method", METHODS)
def test_every_wait_is_of_a_known_kind_and_steps_point_to_the_card_by_its_name(method):
    one = METHODS[method]
    for way in (one, one["earth"] or one):
        assert {wait["wait"] for wait in way["cure"]} <= {"lift", "filling", "coat_1", "coat_2", "between", "last", "frost", None}
        assert "given below" not in " ".join(way["words"]["en"]["steps"])
        assert "indican abajo" not in " ".join(way["words"]["es"]["steps"])
