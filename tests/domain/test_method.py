"""Suggestions: what must hold whatever is found."""

import itertools
from typing import Any

import pytest

from makegood.domain.method import suggest
from makegood.domain.urgency import Facts, judge
from makegood.domain.vocabulary import choices, shared, structural_signs

RULES = shared("methods")["suggest"]


def test_every_rule_names_kinds_signs_walls_and_methods_that_exist() -> None:
    for rule in RULES:
        assert set(rule["kinds"]) <= choices("kinds") | {"*"}
        assert rule["method"] in choices("methods")
        assert rule["needs"].get("sign", "bulging") in choices("signs")
        assert set(rule["needs"].get("wall_material", [])) <= choices("wall_materials")
    assert len({rule["id"] for rule in RULES}) == len(RULES)


def facts_that_meet(rule: dict[str, Any]) -> dict[str, Any]:
    """Facts that just meet the needs of a rule, and as few others as can be."""
    needs = rule["needs"]
    over = {
        key: needs[key] + 0.1 for key in ("depth_over_mm", "crack_over_mm", "area_over_m2") if key in needs
    }
    return {
        "kind": None if "*" in rule["kinds"] else rule["kinds"][-1],
        "signs": [needs["sign"]] if "sign" in needs else [],
        "depth_max_mm": over.get("depth_over_mm", needs.get("depth_upto_mm")),
        "cover_mm": 1000,
        "area_m2": over.get("area_over_m2"),
        "crack_width_mm": over.get("crack_over_mm"),
        "wall_material": needs.get("wall_material", ["brick"])[0],
        "finish_kind": needs.get("finish_kind", "lime"),
    }


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule["id"])
def test_every_rule_is_the_first_that_fits_something(rule: dict[str, Any]) -> None:
    last = next(one for one in RULES if one["id"] == "otherwise") | {"method": "none before"}
    before = RULES[: RULES.index(rule)]
    assert suggest(facts_that_meet(rule), [*before, last]) == "none before"
    assert suggest(facts_that_meet(rule), RULES) == rule["method"]


@pytest.mark.parametrize("sign", sorted(structural_signs()))
def test_a_structural_sign_means_engineer_first_on_every_kind(sign: str) -> None:
    for kind in choices("kinds"):
        assert suggest({"kind": kind, "signs": [sign]}, RULES) == "engineer_first"


def test_urgency_and_suggestion_agree_on_when_an_engineer_comes_first() -> None:
    signs = [(), *((sign,) for sign in sorted(choices("signs")))]
    sizes = itertools.product((None, 2, 60, 120, 250), (None, 2, 3.5, 6, 20))
    for kind, sign, (depth, width) in itertools.product(sorted(choices("kinds")), signs, list(sizes)):
        facts: dict[str, Any] = {
            "kind": kind, "depth_max_mm": depth, "cover_mm": 24, "area_m2": 0.5, "crack_width_mm": width,
            "wall_material": "cob",
            "finish_kind": "lime",
        }  # fmt: skip
        judged = judge(Facts(**facts, signs=sign), shared("urgency"))
        assert (
            suggest({**facts, "signs": list(sign)}, RULES) == "engineer_first"
        ) is judged.engineer_first, (kind, sign, depth, width)


def test_a_table_without_a_last_line_is_found_out() -> None:
    with pytest.raises(LookupError):
        suggest({"kind": "erosion"}, RULES[:1])
