"""When a mix counts as tried on a building."""

import json

from makegood.domain.ledger.tried import Panel, tried_mixes
from makegood.paths import shared_dir

HELD = Panel("barn", ("lime_base_coat", "lime_coat", "lime_coat"), True, "held")


def test_two_coats_of_one_mix_in_one_panel_are_one_trial():
    assert tried_mixes([HELD], "barn", 2) == []
    assert tried_mixes([HELD, HELD], "barn", 2) == ["lime_base_coat", "lime_coat"]


def test_one_panel_alone_is_never_enough():
    assert json.loads((shared_dir() / "lasting.json").read_text())["panels"]["needed"] >= 2
