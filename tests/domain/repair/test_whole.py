"""A whole ticket: two defects take what each takes alone; batches are cut from the whole; choices in their order."""

import pytest

from makegood.domain.catalogue import build_catalogue
from makegood.domain.repair.known import Known, Wall
from makegood.domain.repair.whole import buy_for, reckon_repair

BOOK = build_catalogue()
FLAT = {"kind": "flat", "width_m": 6, "height_m": 3, "batter_deg": 0}
COVER = {"coats": [{"mix": "lime_coat", "thickness_mm": 20}], "region": None}
SITE = {"loss": None, "thickness_factor": None, "bags": None}


def square(x, side):
    """A defect with a square outline, 24 mm deep."""
    ring = [[x, 0.5], [x + side, 0.5], [x + side, 0.5 + side], [x, 0.5 + side]]
    defect = {"id": str(x), "kind": "spalling", "mark": {"view": "seen", "shape": "outline", "points_m": ring}}
    return Known(defect, [{"depth_mean_mm": 24, "depth_max_mm": 30}], Wall({"surface": FLAT}, {"wall_material": "cob"}, [COVER]))


def ticket(**own):
    """A ticket under a method."""
    return {"method": "patch_three_coats", "coats": None, "loss": None, "margin_mm": None, **own}


def reckoned(known, row=None, site=SITE):
    """Reckon; there is a method."""
    found = reckon_repair(known, row or ticket(), site, BOOK)
    assert found is not None
    return found


def test_two_defects_take_what_each_takes_alone():
    a, b = square(0.5, 0.6), square(2, 0.5)
    both, apart = reckoned([a, b]), [reckoned([a]), reckoned([b])]
    assert both.area_m2 == pytest.approx(0.36 + 0.25)
    for key, need in both.materials.items():
        assert need["amount"]["high"] == pytest.approx(sum(one.materials[key]["amount"]["high"] for one in apart))


def test_batches_are_cut_from_the_whole_ticket():
    small = [square(x, 0.2) for x in (0.5, 1, 1.5)]
    assert [need["batches"]["count"] for need in reckoned(small).mixes] == [1] * len(reckoned(small).mixes)


@pytest.mark.parametrize(("own", "site", "wanted"), [(0.3, 0.2, 0.3), (None, 0.2, 0.2), (0.0, 0.2, 0.0)])
def test_loss_is_the_tickets_own_before_the_sites(own, site, wanted):
    found = reckoned([square(1, 0.5)], ticket(loss=own), {**SITE, "loss": site})
    assert found.estimates[0]["loss"]["likely"] == wanted


def test_thickness_factor_of_the_site_counts():
    thick = reckoned([square(1, 0.5)], site={**SITE, "thickness_factor": 1.5}).with_loss_l["likely"]
    assert thick == pytest.approx(1.5 * reckoned([square(1, 0.5)]).with_loss_l["likely"])


def test_list_of_several_tickets_is_rounded_once_in_own_bags():
    repairs = [reckoned([square(1, 0.3)])] * 4
    site = {**SITE, "bags": {"nhl_2": {"bag_kg": 10, "price": 7}}}
    bought = buy_for(repairs, site, BOOK)["nhl_2"]
    need = 4 * repairs[0].materials["nhl_2"]["amount"]["high"]
    assert bought["bags"] == -(-need // 10)
    assert bought["price"] == 7 * bought["bags"]


def test_without_a_method_nothing_is_reckoned():
    assert reckon_repair([square(1, 1)], ticket(method=None), SITE, BOOK) is None


def test_what_burns_is_told_before_the_size_is_known():
    pin = {"view": "seen", "shape": "pin", "points_m": [[1, 1]]}
    unknown = Known({"id": "p", "kind": "spalling", "mark": pin}, [], square(1, 1).wall)
    found = reckoned([unknown])
    assert found.with_loss_l["likely"] == 0
    assert "lime_burns" in found.hazards
    assert "lime_burns" in reckoned([]).hazards
