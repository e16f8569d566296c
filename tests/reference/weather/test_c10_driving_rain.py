"""C10: ISO 15927-3 hour by hour (formula and roughness read as code), spells after a met office (read).

The sloping face has no published figure: its limits and one hour worked out by hand are given here.
"""

import pytest

from makegood.science.driving_rain import (
    Exposure,
    Face,
    dose_by_hour,
    face_dose,
    rain_hours,
    roughness,
    wall_index,
)
from makegood.science.weather.spells import HourlyDose, spells
from makegood.science.weather.table import Hour


@pytest.mark.parametrize(
    ("wind_m_s", "rain_mm_h", "angle_deg", "l_m2"),
    [(5, 2, 0, 2.0575), (10, 5, 60, 4.6458), (10, 10, 0, 17.206), (5, 2, 120, 0), (5, 2, 90, 0)],
)
def test_one_hour_on_an_upright_wall(wind_m_s, rain_mm_h, angle_deg, l_m2):
    assert wall_index(wind_m_s, rain_mm_h, angle_deg) == pytest.approx(l_m2, abs=1e-3)
    rain = rain_hours([Hour(0, wind_m_s, 200 + angle_deg, rain_mm_h)])
    assert face_dose(rain, Face(200)).l_m2 == pytest.approx(l_m2, abs=1e-3)


@pytest.mark.parametrize(
    ("height_m", "expected"),
    [(6, (1.0875, 0.9096, 0.7224, 0.6654)), (10, (1.1743, 1.0067, 0.7714, 0.6654))],
)
def test_roughness_of_the_four_terrains(height_m, expected):
    for terrain, c_r in zip(("I", "II", "III", "IV"), expected, strict=True):
        assert roughness(terrain, height_m) == pytest.approx(c_r, abs=1e-4)


def test_wall_index_is_scaled_by_every_factor():
    rain = rain_hours([Hour(0, 5, 270, 2)])
    exposure = Exposure("II", 6, topography=1.1, obstruction=0.5, wall=0.4)
    # By hand: 2.0575 x 0.9096 x 1.1 x 0.5 x 0.4 = 0.41172.
    assert face_dose(rain, Face(270), exposure).l_m2 == pytest.approx(0.41172, abs=1e-4)


@pytest.mark.parametrize(
    ("apart_h", "count"),
    # 96 dry hours lie between two wet ones that are 97 hours apart.
    [(95, 1), (96, 1), (97, 2)],
)
def test_spells_part_at_96_dry_hours(apart_h, count):
    assert len(spells(HourlyDose([0, apart_h], [1.0, 2.0], []))) == count


def test_hour_just_under_a_thousandth_counts_as_dry():
    assert len(spells(HourlyDose([0, 50, 100], [1.0, 0.0009, 1.0], []))) == 2
    assert len(spells(HourlyDose([0, 50, 100], [1.0, 0.001, 1.0], []))) == 1


@pytest.mark.parametrize(
    ("slope_deg", "l_m2"),
    # Wind 5 m/s square on, rain 2 mm: 2.05752 x sin(slope) + 2 x cos(slope), by hand.
    [(0, 2.0), (30, 2.76081), (60, 2.78187), (90, 2.05752), (120, 0.78187), (180, 0.0)],
)
def test_sloping_face_takes_driven_and_falling_rain(slope_deg, l_m2):
    rain = rain_hours([Hour(0, 5, 180, 2)])
    assert sum(dose_by_hour(rain, Face(180, slope_deg)).l_m2) == pytest.approx(l_m2, abs=1e-4)
