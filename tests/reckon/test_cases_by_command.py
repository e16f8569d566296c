"""The outside cases once more, this time through the command a person types.

Sources and bases stand in tests/reference/ under the same numbers; the coat of 22 mm is a professional rule.
Expected values are typed in, never reckoned by the code under test.
"""

from datetime import date, datetime, timedelta

import pytest

FT_M = 0.3048


@pytest.mark.parametrize(
    ("lime_kg", "sand_m3", "water_m3"),
    [(540, 0.780, 0.320), (335, 0.960, 0.290), (240, 1.050, 0.275), (190, 1.100, 0.270)],
)
def test_c02_net_amounts_of_the_cost_base_make_a_cubic_metre(reckon, lime_kg, sand_m3, water_m3):
    lime = {"mass_kg": lime_kg, "solid_density_kg_l": 2.24}
    sand = {"loose_volume_l": 1000 * sand_m3, "voids": 0.40}
    answer = reckon.answer("yield", given={"solids": [lime, sand], "water_l": 1000 * water_m3, "air": 0})
    assert 1000 <= answer["volume_l"] <= 1035
    assert answer["dry_loose_factor"] is None


def test_c02_dry_loose_factor_where_bulk_densities_are_given(reckon):
    lime = {"mass_kg": 335, "solid_density_kg_l": 2.24, "bulk_density_kg_l": 0.692}
    answer = reckon.answer(
        "yield", given={"solids": [lime, {"loose_volume_l": 960, "voids": 0.4}], "water_l": 290, "air": 0}
    )
    # 335 / 0.692 + 960 = 1444.1 loose litres to 335 / 2.24 + 576 + 290 = 1015.55 in place.
    assert answer["dry_loose_factor"] == pytest.approx(1444.1 / 1015.55, rel=1e-4)


def test_c02_misprinted_recipe_is_refused_with_the_reason(reckon):
    solids = [{"mass_kg": 165, "solid_density_kg_l": 2.24}, {"loose_volume_l": 144, "voids": 0.4}]
    refused = reckon.refusal("yield", given={"solids": solids, "water_l": 273, "air": 0})
    assert refused["code"] == "recipe_refused"
    assert "more than these solids can hold" in refused["message"]


def test_c03_paste_fills_the_voids_of_the_sand(reckon):
    solids = [{"loose_volume_l": 27, "voids": 1 / 3}, {"loose_volume_l": 9, "voids": 0}]
    answer = reckon.answer("yield", given={"solids": solids, "water_l": 0, "air": 0})
    assert answer["volume_l"] == pytest.approx(27, rel=0.01)
    assert answer["voids_filled"] == pytest.approx(1, rel=0.01)


def test_c09_sheltered_wall_under_an_overhang(reckon):
    given = {"free_rain_l_m2": 170, "deposition": 0.5, "height": 0.7, "shelter": 0.5}
    assert reckon.answer("storm", given=given)["on_wall_l_m2"] == pytest.approx(29.75, rel=1e-9)


@pytest.mark.parametrize(
    ("wind_m_s", "rain_mm", "angle_deg", "l_m2"),
    [(5, 2, 0, 2.0575), (10, 5, 60, 4.6458), (10, 10, 0, 17.206), (5, 2, 120, 0), (5, 2, 90, 0)],
)
def test_c10_one_hour(reckon, wind_m_s, rain_mm, angle_deg, l_m2):
    table = f"time,wind_m_s,wind_from_deg,rain_mm\n2026-03-01T05:00,{wind_m_s},{200 + angle_deg},{rain_mm}\n"
    answer = reckon.answer("driving-rain", "-", "--bearing", "200", "--slope", "90", text=table)
    assert answer["dose_l_m2"] == pytest.approx(l_m2, abs=1e-3)
    if l_m2:
        assert answer["worst_hour"]["dose_l_m2"] == pytest.approx(l_m2, abs=1e-3)
        assert answer["worst_hour"]["last_hour"] == "2026-03-01T05:00"
    else:
        assert answer["worst_hour"] is None
        assert answer["spells"] == []


@pytest.mark.parametrize(("dry_hours", "count"), [(94, 1), (95, 1), (96, 2)])
def test_c10_spells_part_at_96_dry_hours(reckon, dry_hours, count):
    start = datetime(2026, 3, 1)
    wet = {0, dry_hours + 1}
    rows = [
        f"{(start + timedelta(hours=h)).isoformat()},5,200,{2 if h in wet else 0}"
        for h in range(dry_hours + 2)
    ]
    table = "\n".join(["time,wind_m_s,wind_from_deg,rain_mm", *rows])
    assert len(reckon.answer("driving-rain", "-", "--bearing", "200", text=table)["spells"]) == count


@pytest.mark.parametrize(("terrain", "c_r"), [("I", 1.1743), ("II", 1.0067), ("III", 0.7714), ("IV", 0.6654)])
def test_c10_terrain_at_ten_metres(reckon, terrain, c_r):
    table = "time,wind_m_s,wind_from_deg,rain_mm\n2026-03-01T05:00,5,200,2\n"
    answer = reckon.answer("driving-rain", "-", "--bearing", "200", "--terrain", terrain, text=table)
    assert answer["dose_l_m2"] == pytest.approx(2.0575 * c_r, abs=1e-3)


FAILED, SOUND = [6, 6, 6, 7, 10, 13, 16, 22, 23], [6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35]
PLACEBO = [1, 1, 2, 2, 3, 4, 4, 5, 5, 8, 8, 8, 8, 11, 11, 12, 12, 15, 17, 22, 23]


def test_c13_survival_standard_error_median_and_comparison(reckon):
    given = {
        "durations": FAILED + SOUND,
        "observed": [True] * 9 + [False] * 12,
        "against": {"durations": PLACEBO, "observed": [1] * 21},
    }
    answer = reckon.answer("endurance", given=given)
    assert answer["at"] == [6, 7, 10, 13, 16, 22, 23]
    assert answer["survival"] == pytest.approx(
        [0.8571, 0.8067, 0.7529, 0.6902, 0.6275, 0.5378, 0.4482], abs=1e-4
    )
    assert answer["standard_error"][2] == pytest.approx(0.0963, abs=1e-4)
    assert (answer["median"], answer["against"]["median"]) == (23, 8)
    assert answer["against"]["survival"][answer["against"]["at"].index(8)] == pytest.approx(8 / 21, abs=1e-9)
    assert answer["log_rank"]["chi2"] == pytest.approx(16.793, abs=1e-3)


def test_c14_support_and_mass_of_closed_intervals(reckon):
    ten = [
        [1, 7],
        [8, 8],
        [8, 10],
        [7, 16],
        [7, 14],
        [17, None],
        [37, 44],
        [46, None],
        [46, None],
        [45, None],
    ]
    answer = reckon.answer("endurance", given={"intervals": ten})
    assert answer["support"] == [[7, 7], [8, 8], [37, 44], [46, None]]
    assert answer["mass"] == pytest.approx([1 / 6, 1 / 3, 1 / 8, 3 / 8], abs=1e-4)
    weighted = reckon.answer("endurance", given={"intervals": ten, "weights": [2, 2, 2, 1, 1, 1, 1, 1, 1, 1]})
    assert weighted["mass"] == pytest.approx([0.2051282, 0.4102564, 0.0961539, 0.2884615], rel=1e-4)


def test_c14_second_case(reckon):
    answer = reckon.answer("endurance", given={"intervals": [[0, 1], [4, 6], [2, 6], [0, 3], [2, 4], [5, 7]]})
    assert answer["support"] == [[0, 1], [2, 3], [4, 4], [5, 6]]
    assert answer["mass"] == pytest.approx([0.25, 0.25, 0.125, 0.375], abs=1e-4)


@pytest.mark.parametrize(
    ("surface", "ratio"),
    [
        ({"kind": "dome", "shape": "lancet", "base_radius_m": 10 * FT_M, "height_m": 20 * FT_M}, 1.7111),
        ({"kind": "dome", "shape": "hemisphere", "radius_m": 3}, 2.0),
        ({"kind": "round_wall", "radius_m": 2, "height_m": 3}, 1.5708),
        ({"kind": "dome", "shape": "cone", "base_radius_m": 10, "top_radius_m": 0, "height_m": 20}, 1.7562),
    ],
)
def test_c15_front_half_over_its_flat_picture(reckon, surface, ratio):
    answer = reckon.answer("area", given={"surface": surface, "view": "seen"})
    assert answer["area_m2"] / 2 / answer["as_drawn_m2"] == pytest.approx(ratio, abs=1e-3)


def test_c15_surface_and_silhouette_of_the_pointed_dome(reckon):
    surface = {"kind": "dome", "shape": "lancet", "base_radius_m": 10 * FT_M, "height_m": 20 * FT_M}
    answer = reckon.answer("area", given={"surface": surface})
    assert answer["area_m2"] / FT_M**2 == pytest.approx(956.70, abs=1e-2)
    assert answer["as_drawn_m2"] / FT_M**2 == pytest.approx(279.56, abs=1e-2)


def test_a_coat_of_22_mm_that_lost_6_in_3_years_has_8_left(reckon):
    depths = [
        {"on": "2023-03-01", "mean_mm": 0, "deepest_mm": 0},
        {"on": "2026-03-01", "mean_mm": 6, "deepest_mm": 6},
    ]
    answer = reckon.answer("erosion", given={"depths": depths, "coat_mm": 22})
    days = (date(2026, 3, 1) - date(2023, 3, 1)).days
    assert days == 1096
    assert answer["mean"]["mm_per_year"]["likely"] == pytest.approx(2, abs=1e-3)
    assert answer["mean"]["remaining_mm"] == 16
    assert answer["years_to_breach"]["likely"] == pytest.approx(8, abs=5e-3)
    assert answer["breached"] is False


def test_a_coat_of_22_mm_worn_22_mm_at_its_deepest_is_through(reckon):
    depths = [{"on": "2026-03-01", "mean_mm": 6, "deepest_mm": 22}]
    answer = reckon.answer("erosion", given={"depths": depths, "laid_on": "2023-03-01", "coat_mm": 22})
    assert answer["breached"] is True
    assert answer["years_to_breach"] == {"low": 0, "likely": 0, "high": 0}
    assert answer["mean"]["remaining_mm"] == 16
