"""From size to materials: by hand, and by what must hold for every job."""

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from makegood.domain.catalogue import build_catalogue
from makegood.errors import BadInput
from makegood.paths import shared_dir
from makegood.science.estimate import estimate, least_perimeter_m, margin_band_m2
from makegood.science.range import exactly, spread

VECTORS: dict[str, Any] = json.loads((shared_dir() / "vectors" / "estimate.json").read_text("utf-8"))
METHOD: dict[str, Any] = {
    "per": "area", "coats": [{"mix": "rough", "thickness_mm": 10}, {"mix": "fine", "thickness_mm": 5}],
    "earth_coats": None,
    "dub_out_mix": "rough", "earth_dub_out_mix": None, "lift_mm": 15, "dub_out_over_mm": 4, "fill_mix": None,
    "earth_fill_mix": None, "fill_l_each": None, "fill_l_per_m": None, "crack_depth_mm": None,
    "opened_mm": None, "margin_mm": 0,
    "thickness_factor": spread(0.9, 1, 1.2), "loss": exactly(0.1), "extra": [], "hazards": ["ladders"],
    "engineer_first": False,
}  # fmt: skip


def make_mix(**given: Any) -> dict[str, Any]:
    per_l = {
        "lime": {"kg": spread(0.2, 0.25, 0.3), "l": exactly(0.4)},
        "sand": {"kg": exactly(1.6), "l": exactly(1)},
        "water": {"kg": exactly(0.3), "l": exactly(0.3)},
    }
    plain = {
        "kind": "plaster", "per_l": per_l, "rich": 0.4, "stipple": False, "coverage_m2_per_l": None,
        "coat_mm": spread(3, 10, 20), "working_h": exactly(2), "container_l": 40, "laying_l_per_h": 10,
        "not_over": [],
        "warnings": [], "hazards": ["lime_burns"],
    }  # fmt: skip
    return {**plain, **given}


MIXES: dict[str, Any] = {"rough": make_mix(), "fine": make_mix(rich=0.33)}
MATERIALS: dict[str, Any] = {
    "lime": {"unit": "kg", "bulking": None},
    "sand": {"unit": "kg", "bulking": exactly(0.25)},
    "water": {"unit": "l", "bulking": None},
    "sheet": {"unit": "m2", "bulking": None},
}


def run(method: dict[str, Any] | None = None, mixes: dict[str, Any] = MIXES, **job: Any) -> Any:
    return estimate(job, {**METHOD, **(method or {})}, mixes, MATERIALS)  # type: ignore[arg-type,typeddict-item]


def test_by_hand_two_coats_and_a_hollow() -> None:
    """2 m2, 35 mm mean and 50 mm deepest: 20 mm dubbed out in 3 lifts (35 deep / 15), then 10 and 5 mm; loss
    10 %.
    """
    found = run(area_m2=2, depth_mean_mm=35, depth_max_mm=50)
    assert [(one["part"], one["thickness_mm"], one["lifts"]) for one in found["layers"]] == [
        ("dub_out", 20, 3),
        ("coat", 10, 1),
        ("coat", 5, 1),
    ]
    assert [one["wet_l"]["likely"] for one in found["layers"]] == pytest.approx([44, 22, 11])
    assert found["mixes"][0]["wet_l"] == pytest.approx(spread(0.9 * 66, 66, 1.2 * 66))
    # 20 L can be laid in the 2 h before it stiffens, less than the 40 L vessel: 66 L are 4 batches of 16.5.
    assert found["mixes"][0]["batches"] == {"count": 4, "each_l": pytest.approx(16.5), "limited_by": "time"}
    assert found["materials"]["lime"]["amount"] == pytest.approx(
        spread(0.2 * 0.9 * 77, 0.25 * 77, 0.3 * 1.2 * 77)
    )
    assert found["materials"]["sand"]["damp_l"]["likely"] == pytest.approx(77 * 1.25)
    assert found["materials"]["water"]["amount"]["likely"] == pytest.approx(0.3 * 77)
    assert found["hazards"] == ["ladders", "lime_burns"]


def test_by_hand_margin_round_a_square() -> None:
    """1 m square, 100 mm margin: 4 x 0.1 + pi x 0.01."""
    found = run(area_m2=1, perimeter_m=4, margin_mm=100, depth_mean_mm=15, loss=0)
    assert found["margin_area_m2"] == pytest.approx(0.43141592653589793)
    assert found["layers"][0]["wet_l"]["likely"] == pytest.approx(14.3141592653589793)


def test_by_hand_a_crack() -> None:
    """3 m long, 4 mm wide, 20 mm deep is 0.24 L."""
    method = {
        "per": "length",
        "coats": [],
        "dub_out_mix": None,
        "fill_mix": "fine",
        "opened_mm": 2,
        "thickness_factor": exactly(1),
    }
    assert run(method, length_m=3, crack_width_mm=4, depth_mean_mm=20, loss=0)["mixes"][0][
        "wet_l"
    ] == pytest.approx(exactly(0.24))
    assert run(method, length_m=3, crack_width_mm=1, depth_mean_mm=20, loss=0)["mixes"][0][
        "wet_l"
    ] == pytest.approx(exactly(0.12))


def test_by_hand_a_wash_by_its_cover() -> None:
    mixes = {**MIXES, "wash": make_mix(kind="wash", coverage_m2_per_l=spread(3, 4, 5), coat_mm=None)}
    found = run(
        {"coats": [{"mix": "wash", "thickness_mm": 0.25}] * 2, "dub_out_mix": None}, mixes, area_m2=60, loss=0
    )
    assert found["mixes"][0]["wet_l"] == pytest.approx(spread(24, 30, 40))
    assert "untested_on_this_wall" not in found["warnings"]


def test_by_hand_sheet_by_the_square_metre() -> None:
    method = {"coats": [], "dub_out_mix": None, "extra": [{"material": "sheet", "per_m2": exactly(1.1)}]}
    assert run(method, area_m2=3)["materials"] == {
        "sheet": {"unit": "m2", "amount": pytest.approx(exactly(3.3)), "l": None, "damp_l": None}
    }


def test_a_little_depth_beyond_the_coats_goes_with_the_first_coat() -> None:
    found = run(area_m2=1, depth_mean_mm=18, loss=0)
    assert [(one["part"], one["thickness_mm"]) for one in found["layers"]] == [("coat", 13), ("coat", 5)]
    assert sum(one["wet_l"]["likely"] for one in found["layers"]) == pytest.approx(18)


def test_earth_coats_are_taken_for_an_earth_finish_and_for_none() -> None:
    method = {"earth_coats": [{"mix": "fine", "thickness_mm": 7}], "earth_dub_out_mix": "fine"}
    for finish, expected in (
        ("earth", ["fine"]),
        ("none", ["fine"]),
        ("lime", ["rough", "fine"]),
        (None, ["rough", "fine"]),
    ):
        found = run(method, area_m2=1, finish_kind=finish)
        assert [one["mix"] for one in found["layers"]] == expected
    assert run(method, area_m2=1, finish_kind="earth", depth_mean_mm=40)["layers"][0]["mix"] == "fine"


@pytest.mark.parametrize(
    ("warning", "job"),
    [
        ("no_area", {"depth_mean_mm": 10}),
        ("depth_unknown", {"area_m2": 1}),
        ("perimeter_assumed", {"area_m2": 1, "margin_mm": 10}),
        ("proud_of_face", {"area_m2": 1, "depth_mean_mm": 8, "depth_max_mm": 14}),
        ("thin_over_cover", {"area_m2": 1, "depth_max_mm": 30, "depth_mean_mm": 16, "cover_mm": 25}),
        (
            "richer_than_below",
            {
                "area_m2": 1,
                "coats": [{"mix": "fine", "thickness_mm": 9}, {"mix": "rough", "thickness_mm": 5}],
            },
        ),
        (
            "thicker_than_below",
            {
                "area_m2": 1,
                "coats": [{"mix": "rough", "thickness_mm": 5}, {"mix": "fine", "thickness_mm": 9}],
            },
        ),
        ("too_thick", {"area_m2": 1, "coats": [{"mix": "rough", "thickness_mm": 21}]}),
        ("untested_on_this_wall", {"area_m2": 1, "panel_mixes": ["fine"]}),
    ],
)
def test_warning_is_given_and_only_then(warning: str, job: dict[str, Any]) -> None:
    assert warning in run(**job)["warnings"]
    sound = run(area_m2=1, perimeter_m=4, depth_mean_mm=15, cover_mm=10, panel_mixes=["rough", "fine"])
    assert sound["warnings"] == []


def test_a_mix_too_strong_for_the_wall_is_named() -> None:
    mixes = {**MIXES, "rough": make_mix(not_over=["cob"])}
    assert "stronger_than_wall" in run(None, mixes, area_m2=1, wall_material="cob")["warnings"]
    assert "stronger_than_wall" not in run(None, mixes, area_m2=1, wall_material="brick")["warnings"]


def test_a_method_without_material_takes_none() -> None:
    found = run({"per": "none", "engineer_first": True}, area_m2=4, depth_mean_mm=80)
    assert (found["layers"], found["mixes"], found["materials"], found["warnings"]) == ([], [], {}, [])
    assert found["engineer_first"] is True


@pytest.mark.parametrize(
    ("code", "job"),
    [
        ("bad_value", {"area_m2": -1}),
        ("bad_value", {"area_m2": float("nan")}),
        ("bad_value", {"depth_mean_mm": float("inf")}),
        ("bad_value", {"loss": 1.01}),
        ("bad_value", {"laying_l_per_h": 0}),
        ("bad_value", {"area_m2": 1, "coats": [{"mix": "rough", "thickness_mm": 0}]}),
        ("unknown_mix", {"area_m2": 1, "coats": [{"mix": "moon_dust", "thickness_mm": 3}]}),
    ],
)
def test_what_cannot_be_is_refused(code: str, job: dict[str, Any]) -> None:
    with pytest.raises(BadInput) as refusal:
        run(**job)
    assert refusal.value.code == code


def test_a_mix_of_an_unknown_material_is_refused() -> None:
    odd = make_mix(per_l={"ash": {"kg": exactly(1), "l": None}})
    with pytest.raises(BadInput) as refusal:
        run(None, {**MIXES, "rough": odd}, area_m2=1)
    assert refusal.value.code == "unknown_material"


@given(st.floats(0.01, 500), st.floats(1, 200), st.floats(1, 5))
def test_more_damage_never_takes_less(area_m2: float, depth_mm: float, more: float) -> None:
    small = run(area_m2=area_m2, depth_mean_mm=depth_mm)["materials"]["lime"]["amount"]
    assert run(area_m2=area_m2 * more, depth_mean_mm=depth_mm)["materials"]["lime"]["amount"][
        "likely"
    ] >= small["likely"] * (1 - 1e-12)
    assert run(area_m2=area_m2, depth_mean_mm=depth_mm * more)["materials"]["lime"]["amount"][
        "high"
    ] >= small["high"] * (1 - 1e-12)
    assert small["low"] <= small["likely"] <= small["high"]


@given(st.floats(0.01, 500), st.floats(0.1, 50))
def test_without_margin_materials_scale_with_the_area(area_m2: float, factor: float) -> None:
    one, other = run(area_m2=area_m2, depth_mean_mm=40), run(area_m2=area_m2 * factor, depth_mean_mm=40)
    assert other["materials"]["sand"]["amount"]["high"] == pytest.approx(
        factor * one["materials"]["sand"]["amount"]["high"], rel=1e-9
    )


@given(st.floats(0.01, 500), st.floats(0, 500))
def test_materials_of_a_lime_mix_weigh_what_its_volume_weighs(area_m2: float, margin_mm: float) -> None:
    found = run(area_m2=area_m2, margin_mm=margin_mm, depth_mean_mm=15)
    wet_l = sum(one["wet_l"]["likely"] for one in found["mixes"])
    kg = {key: need["amount"]["likely"] for key, need in found["materials"].items()}
    assert kg["lime"] + kg["sand"] + kg["water"] == pytest.approx((0.25 + 1.6 + 0.3) * wet_l, rel=1e-9)


def test_the_circle_has_the_least_perimeter_and_the_band_is_its_ring() -> None:
    assert least_perimeter_m(1) < 4
    ring = 3.141592653589793 * ((0.5 + 0.1) ** 2 - 0.5**2)
    assert margin_band_m2(least_perimeter_m(3.141592653589793 * 0.25), 100) == pytest.approx(ring, rel=1e-12)


def test_there_are_enough_vectors_and_every_method_of_the_catalogue_has_one() -> None:
    assert len(VECTORS["cases"]) >= 40
    assert {case["in"]["method"] for case in VECTORS["cases"]} == set(build_catalogue()["methods"])
