"""What hand-outs cover, and when a device must fetch it anew."""

from dataclasses import replace

import pytest

from makegood.domain.row import Key
from makegood.domain.scope import Handed, Scope, Ties, needs_fresh_start, scope_of

TIES = Ties(
    handouts={"mine": Handed(("t1", "t2", "gone")), "other": Handed(("t3",), show_place=True)},
    defects_of_ticket={"t1": ("d1", "d2"), "t2": (), "t3": ("d3",)},
    elevation_of_defect={"d1": "south", "d2": "north", "d3": "dome"},
    structure_of_elevation={"south": "barn", "north": "barn", "dome": "oven"},
    elevation_of_finish={"lime": "south", "wash": "dome"},
)


def test_scope_is_what_hangs_on_the_tickets_named():
    scope = scope_of("site", ["mine"], TIES)
    assert scope.rows == {
        "site": {"site"},
        "handout": {"mine"},
        "ticket": {"t1", "t2"},
        "defect": {"d1", "d2"},
        "elevation": {"south", "north"},
        "structure": {"barn"},
        "finish": {"lime"},
    }
    assert not scope.show_place


def test_two_handouts_add_up_and_an_ended_one_counts_for_nothing():
    both = scope_of("site", ["mine", "other"], TIES)
    assert both.rows["defect"] == {"d1", "d2", "d3"}
    assert both.show_place
    assert scope_of("site", ["ended"], TIES).rows["ticket"] == set()
    assert scope_of("site", [], TIES).rows["site"] == {"site"}


def test_scope_holds_rows_by_type_and_id():
    scope = scope_of("site", ["mine"], TIES)
    assert scope.holds(Key("ticket", "site", "t1"))
    assert not scope.holds(Key("defect", "site", "t1"))
    assert not scope.holds(Key("survey", "site", "t1"))


def test_new_rows_hang_only_on_what_is_held_and_named():
    scope = scope_of("site", ["mine"], TIES)
    assert scope.holds_parent("ticket", "t1", ("ticket",))
    assert not scope.holds_parent("ticket", "t3", ("ticket",))
    assert not scope.holds_parent("elevation", "south", ("ticket", "defect"))
    assert not scope.holds_parent("ticket", None, ("ticket",))


def changed(scope: Scope, **rows: set[str]) -> Scope:
    return replace(scope, rows={**scope.rows, **{name: frozenset(ids) for name, ids in rows.items()}})


BEFORE = scope_of("site", ["mine"], TIES)


@pytest.mark.parametrize(
    ("after", "new", "anew"),
    [
        (BEFORE, [], False),
        (changed(BEFORE, ticket={"t1"}), [], True),
        (changed(BEFORE, ticket={"t1", "t2", "t3"}), [], True),
        (changed(BEFORE, finish={"lime", "new"}), [Key("finish", "site", "new")], False),
        (changed(BEFORE, finish={"lime", "new"}), [Key("finish", "elsewhere", "new")], True),
        (changed(BEFORE, finish={"lime", "new"}), [Key("defect", "site", "new")], True),
        (replace(BEFORE, show_place=True), [], True),
    ],
)
def test_fresh_start_is_needed_when_older_rows_come_or_go(after, new, anew):
    assert needs_fresh_start(BEFORE, after, new, "site") is anew
