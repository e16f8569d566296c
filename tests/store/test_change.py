"""The change index and the kept ops."""


from makegood.domain.row import Key, Row
from makegood.store import change
from makegood.store.database import writing
from tests.make import NOW, make_id


def note(site, *entries):
    rows = [Row(row_type, site, row_id, {}, rev=rev) for row_type, row_id, rev in entries]
    with writing():
        known = {key for _, key in change.changed_since(site, 0, ["storm", "clash"], 99)}
        change.note_changes(rows, known)


def test_row_has_one_entry_that_moves(site):
    note(site, ("storm", "a", 1), ("storm", "b", 2))
    note(site, ("storm", "a", 3))
    assert change.changed_since(site, 0, ["storm"], 9) == [
        (2, Key("storm", site, "b")),
        (3, Key("storm", site, "a")),
    ]


def test_only_later_revisions_of_wanted_types_come_up_to_the_limit(site):
    note(site, ("storm", "a", 1), ("clash", "b", 2), ("storm", "c", 3), ("storm", "d", 4))
    assert [rev for rev, _ in change.changed_since(site, 1, ["storm"], 9)] == [3, 4]
    assert [rev for rev, _ in change.changed_since(site, 0, ["storm"], 2)] == [1, 3]


def test_kept_op_comes_back_whole(site):
    op = change.KeptOp(
        make_id(),
        site,
        make_id(),
        "storm",
        make_id(),
        "put",
        {"name": "x"},
        4,
        NOW,
        NOW,
        "applied",
        {"rev": 5},
    )
    with writing():
        change.keep_ops([op])
        change.keep_ops([])
    assert change.kept_ops([op.op_id, make_id()]) == {op.op_id: op}
