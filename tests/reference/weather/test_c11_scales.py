"""C11: class boundaries, both sides.

Read: crack widths, rain, Beaufort, exposure by spell. From memory: erodibility.
"""

import pytest

from makegood.science.scales import beaufort, classify, crack_class, crack_group


@pytest.mark.parametrize(
    ("width_mm", "place"),
    # BRE Digest 251 (read through two pages); exactly 1, 5, 15 and 25 mm in the lower class by own
    # convention.
    [
        (0, 0), (0.0999, 0), (0.1, 1), (1, 1), (1.001, 2), (5, 2), (5.001, 3), (15, 3), (15.001, 4), (25,
        4), (25.001, 5),
    ],
)  # fmt: skip
def test_crack_classes(width_mm, place):
    assert crack_class(width_mm).place == place


def test_several_cracks_of_three_millimetres_are_class_three():
    assert crack_class(3, several=True).place == 3
    assert crack_class(2.9, several=True).place == 2
    assert crack_class(20, several=True).place == 4


def test_crack_groups():
    groups = [crack_group(crack_class(width)) for width in (0, 1, 5, 15, 25, 26)]
    assert groups == ["aesthetic"] * 3 + ["serviceability"] * 2 + ["stability"]


@pytest.mark.parametrize(
    ("scale", "figure", "name"),
    [
        ("rain_ams", 2.5, "light"),
        ("rain_ams", 2.51, "moderate"),
        ("rain_ams", 7.6, "moderate"),
        ("rain_ams", 7.61, "heavy"),
        ("rain_wmo", 2.49, "slight"),
        ("rain_wmo", 2.5, "moderate"),
        ("rain_wmo", 9.99, "moderate"),
        ("rain_wmo", 10, "heavy"),
        ("rain_wmo", 50, "heavy"),
        ("rain_wmo", 50.01, "violent"),
        ("rain_uk", 1, "slight"),
        ("rain_uk", 1.01, "moderate"),
        ("rain_uk", 4, "moderate"),
        ("rain_uk", 4.01, "heavy"),
        ("rain_uk", 32, "heavy"),
        ("rain_uk", 32.01, "violent"),
        ("exposure_spell", 32.9, "sheltered"),
        ("exposure_spell", 33, "moderate"),
        ("exposure_spell", 56.4, "moderate"),
        ("exposure_spell", 56.5, "severe"),
        ("exposure_spell", 100, "severe"),
        ("exposure_spell", 100.1, "very severe"),
    ],
)
def test_rain_and_exposure_classes(scale, figure, name):
    assert classify(scale, figure).name == name


def test_agencies_disagree_on_five_millimetres_an_hour():
    names = [classify(scale, 5).name for scale in ("rain_ams", "rain_wmo", "rain_uk")]
    assert names == ["moderate", "moderate", "heavy"]


@pytest.mark.parametrize(
    ("wind_m_s", "force"),
    [(0, 0), (0.2, 0), (0.3, 1), (1.5, 1), (1.6, 2), (17.1, 7), (17.2, 8), (32.6, 11), (32.7, 12), (60, 12)],
)
def test_beaufort_forces(wind_m_s, force):
    assert beaufort(wind_m_s) == force


@pytest.mark.parametrize("force", range(12))
def test_old_beaufort_formula_lies_inside_each_class(force):
    # v = 0.836 B^1.5, the formula behind the table.
    assert beaufort(0.836 * force**1.5) == force


@pytest.mark.parametrize(
    ("mm_h", "grade"),
    # From memory of NZS 4298 appendix D; confirm before relying on it.
    [
        (0, "1"),
        (19.9, "1"),
        (20, "2"),
        (49.9, "2"),
        (50, "3"),
        (89.9, "3"),
        (90, "4"),
        (119.9, "4"),
        (120, "5"),
    ],
)
def test_spray_erodibility_from_memory(mm_h, grade):
    classed = classify("spray_erodibility", mm_h)
    assert (classed.name, classed.basis) == (grade, "from memory")


@pytest.mark.parametrize(
    ("pit_mm", "grade"),
    # From memory of NZS 4298 appendix E.
    [(0, "1"), (0.1, "2"), (4.9, "2"), (5, "3"), (9.9, "3"), (10, "4"), (14.9, "4"), (15, "5")],
)
def test_drip_erodibility_from_memory(pit_mm, grade):
    assert classify("drip_erodibility", pit_mm).name == grade
