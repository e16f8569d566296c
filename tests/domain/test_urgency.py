"""The urgency table as it is read, and what must hold for it whatever lines are added."""

import json
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from makegood.domain.urgency import Facts, Judgement, UrgencyTable, goes_beyond_cover, judge, speaks
from makegood.paths import shared_dir

VECTORS = json.loads((shared_dir() / "vectors" / "urgency.json").read_text("utf-8"))["cases"]
TABLE: UrgencyTable = json.loads((shared_dir() / "urgency.json").read_text("utf-8"))
VOCABULARY = json.loads((shared_dir() / "vocabulary.json").read_text("utf-8"))
KINDS = [kind["id"] for kind in VOCABULARY["kinds"]]
SIGNS = [sign["id"] for sign in VOCABULARY["signs"]]
STRUCTURAL = [sign["id"] for sign in VOCABULARY["signs"] if sign["structural"]]
MATERIALS = [material["id"] for material in VOCABULARY["wall_materials"]]

any_size = st.none() | st.floats(0, 500)
any_facts = st.builds(
    Facts,
    kind=st.sampled_from(KINDS),
    signs=st.lists(st.sampled_from(SIGNS), max_size=4).map(tuple),
    depth_max_mm=any_size,
    cover_mm=any_size,
    area_m2=any_size,
    crack_width_mm=any_size,
    wall_material=st.sampled_from(MATERIALS),
)


def rank(judgement: Judgement) -> int:
    return TABLE["order"].index(judgement.urgency)


@pytest.mark.parametrize("case", VECTORS, ids=[case["name"] for case in VECTORS])
def test_urgency_is_as_written_by_hand(case: dict[str, Any]) -> None:
    facts = Facts(**{**case["in"], "signs": tuple(case["in"]["signs"])})
    out = case["out"]
    assert judge(facts, TABLE) == Judgement(out["urgency"], tuple(out["reasons"]), out["engineer_first"])


def test_every_rule_of_the_table_is_a_reason_in_some_vector() -> None:
    seen = {reason for case in VECTORS for reason in case["out"]["reasons"]}
    assert {rule["id"] for rule in TABLE["rules"]} | {TABLE["default"]["id"]} == seen


@given(any_facts, st.floats(0, 500))
def test_crack_width_alone_never_gives_more_than_this_season(facts: Facts, crack_width_mm: float) -> None:
    silent = replace(facts, signs=(), crack_width_mm=None)
    limit = min(rank(judge(silent, TABLE)), TABLE["order"].index("this_season"))
    assert rank(judge(replace(silent, crack_width_mm=crack_width_mm), TABLE)) >= limit


@given(any_facts, st.sampled_from(SIGNS))
def test_one_more_sign_never_makes_it_less_pressing(facts: Facts, sign: str) -> None:
    before, after = judge(facts, TABLE), judge(replace(facts, signs=(*facts.signs, sign)), TABLE)
    assert rank(after) <= rank(before)
    assert after.engineer_first or not before.engineer_first


@given(any_facts, st.sampled_from(STRUCTURAL))
def test_structural_sign_always_means_engineer_first(facts: Facts, sign: str) -> None:
    assert judge(replace(facts, signs=(*facts.signs, sign)), TABLE).engineer_first


@given(any_facts)
def test_urgency_always_has_a_reason_that_gives_it(facts: Facts) -> None:
    judgement = judge(facts, TABLE)
    gives = {rule["id"]: rule["gives"] for rule in TABLE["rules"]} | {
        TABLE["default"]["id"]: TABLE["default"]["gives"]
    }
    assert judgement.urgency in [gives[reason] for reason in judgement.reasons]


@pytest.mark.parametrize(
    ("depth_mm", "cover_mm", "beyond"),
    [(20, 20, True), (19.9, 20, False), (None, 20, False), (20, None, False), (0, 0, True)],
)
def test_beyond_cover(depth_mm: float | None, cover_mm: float | None, beyond: bool) -> None:
    assert goes_beyond_cover(Facts("erosion", depth_max_mm=depth_mm, cover_mm=cover_mm)) is beyond


def test_rule_for_damage_within_the_cover_is_silent_beyond_it() -> None:
    within = Facts("erosion", depth_max_mm=5, cover_mm=20)
    assert speaks({"beyond_cover": False}, within)
    assert not speaks({"beyond_cover": False}, replace(within, depth_max_mm=20))
