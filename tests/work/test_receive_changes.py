"""A phone's outbox is taken: ops are done once and merged, and what was done stays seen."""

import threading
from datetime import UTC, datetime

import pytest

from makegood.domain import row
from tests.make import make_drop, make_edit, make_guest, make_id, make_op

EARLY, LATE = "2026-11-25T08:00:00.000Z", "2026-11-25T08:30:00.000Z"


@pytest.fixture
def other(app, grounds):
    """A surveyor's phone on the same site."""
    return make_guest(app, grounds.keeper, grounds.site, "surveyor", "Sura")


def only(results):
    (result,) = results
    return result


def test_two_phones_with_different_fields_come_to_the_same_row(grounds, other):
    defect = grounds.add("defect")
    seen = other.pull().row("defect", defect)["rev"]
    assert (
        only(grounds.keeper.push(make_edit("defect", grounds.site, defect, seen, kind="crazing")))["st"]
        == "applied"
    )
    assert (
        only(other.push(make_edit("defect", grounds.site, defect, seen, note="low down")))["st"] == "applied"
    )
    assert grounds.keeper.pull().rows == other.pull().rows
    assert (other.row("defect", defect)["kind"], other.row("defect", defect)["note"]) == (
        "crazing",
        "low down",
    )
    assert other.all("clash") == []


@pytest.mark.parametrize(("at", "kept", "lost"), [(LATE, "theirs", "mine"), (EARLY, "mine", "theirs")])
def test_true_clash_keeps_both_answers(grounds, other, at, kept, lost):
    defect = grounds.add("defect")
    seen = other.pull().row("defect", defect)["rev"]
    grounds.keeper.push(
        make_edit("defect", grounds.site, defect, seen, note="mine", at="2026-11-25T08:15:00.000Z")
    )
    result = only(other.push(make_edit("defect", grounds.site, defect, seen, note="theirs", at=at)))
    assert (result["st"], result["fields"]) == ("clash", ["note"])
    assert grounds.keeper.pull().row("defect", defect)["note"] == kept
    (clash,) = grounds.keeper.all("clash")
    assert (clash["kept"], clash["lost"], clash["field"], clash["of_id"]) == (kept, lost, "note", defect)
    assert {clash["kept_by"], clash["lost_by"]} == {"Keeper Kit", "Sura"}
    assert other.pull().rows == grounds.keeper.rows


def test_row_comes_back_to_its_editor_after_a_lost_clash_even_if_the_phone_had_it_already(grounds, other):
    defect = grounds.add("defect")
    seen = other.pull().row("defect", defect)["rev"]
    grounds.keeper.push(make_edit("defect", grounds.site, defect, seen, note="mine", at=LATE))
    cursors = dict(other.pull().since)
    result = only(other.push(make_edit("defect", grounds.site, defect, seen, note="theirs", at=EARLY)))
    assert result["st"] == "clash"
    assert other.since == cursors
    # The phone shows its own answer from the moment it is taken; only a newer row puts that right.
    other.rows["defect", defect]["note"] = "theirs"
    assert other.pull().row("defect", defect) == {**grounds.keeper.pull().row("defect", defect), "note": "mine"}


def test_clash_is_settled_by_choosing(grounds, other):
    defect = grounds.add("defect")
    seen = other.pull().row("defect", defect)["rev"]
    for phone, note in ((grounds.keeper, "mine"), (other, "theirs")):
        phone.push(make_edit("defect", grounds.site, defect, seen, note=note))
    ((_, clash_id),) = [key for key in other.pull().rows if key[0] == "clash"]
    base = other.row("clash", clash_id)["rev"]
    assert (
        only(other.push(make_edit("clash", grounds.site, clash_id, base, chosen="lost")))["st"] == "applied"
    )
    assert (
        only(other.push(make_edit("clash", grounds.site, clash_id, base, kept="x")))["code"] == "server_only"
    )


def test_second_edit_of_the_same_phone_is_no_clash(grounds):
    defect = grounds.add("defect")
    first, second = (
        make_edit("defect", grounds.site, defect, 0, note=note, at=at)
        for note, at in (("a", LATE), ("b", EARLY))
    )
    assert [one["st"] for one in grounds.keeper.push(first, second)] == ["applied", "applied"]
    assert grounds.keeper.pull().row("defect", defect)["note"] == "b"


def test_op_whose_answer_was_lost_is_done_once(grounds):
    op = grounds.op("defect")
    first = only(grounds.keeper.push(op))
    assert only(grounds.keeper.push(op)) == first
    again, more = grounds.keeper.push(op, grounds.op("defect"))
    assert again == first
    assert {one["number"] for one in grounds.keeper.pull().all("defect")} == {1, 2}
    assert more["rev"] > first["rev"]


def test_refused_op_gets_the_same_answer_again(grounds):
    op = grounds.op("defect", kind="ghost")
    assert only(grounds.keeper.push(op)) == only(grounds.keeper.push(op))


def test_op_twice_in_one_push_is_done_once(grounds):
    op = grounds.op("defect")
    first, second = grounds.keeper.push(op, op)
    assert first == second
    assert first["rev"]
    assert len(grounds.keeper.pull().all("defect")) == 1


@pytest.mark.parametrize("together", [True, False])
def test_op_number_with_another_content_is_refused(grounds, together):
    op = grounds.op("defect")
    changed = {**op, "set": {**op["set"], "note": "other"}}
    results = (
        grounds.keeper.push(op, changed)
        if together
        else grounds.keeper.push(op) + grounds.keeper.push(changed)
    )
    assert [one["st"] for one in results] == ["applied", "rejected"]
    assert results[1]["code"] == "op_reused"
    assert grounds.keeper.pull().row("defect", op["id"])["note"] is None


def test_edit_then_unseen_delete_keeps_the_row_and_tells(grounds, other):
    defect = grounds.add("defect")
    seen = other.pull().row("defect", defect)["rev"]
    grounds.keeper.push(make_edit("defect", grounds.site, defect, seen, note="grew"))
    assert only(other.push(make_drop("defect", grounds.site, defect, seen)))["st"] == "clash"
    assert other.pull().row("defect", defect)["note"] == "grew"
    assert [one["field"] for one in other.all("clash")] == ["deleted"]


def test_delete_then_unseen_edit_brings_the_row_back_and_tells(grounds, other):
    defect = grounds.add("defect")
    seen = other.pull().row("defect", defect)["rev"]
    assert only(other.push(make_drop("defect", grounds.site, defect, seen)))["st"] == "applied"
    assert ("defect", defect) not in grounds.keeper.pull().rows
    assert (
        only(grounds.keeper.push(make_edit("defect", grounds.site, defect, seen, note="grew")))["st"]
        == "clash"
    )
    assert other.pull().row("defect", defect)["note"] == "grew"
    assert [one["field"] for one in other.all("clash")] == ["deleted"]


def test_child_for_a_deleted_row_brings_back_all_above_it(grounds, other):
    defect = grounds.add("defect")
    other.pull()
    for row_type, row_id in (
        ("defect", defect),
        ("elevation", grounds.elevation),
        ("structure", grounds.structure),
    ):
        rev = grounds.keeper.pull().row(row_type, row_id)["rev"]
        assert only(grounds.keeper.push(make_drop(row_type, grounds.site, row_id, rev)))["st"] == "applied"
    assert only(other.push(make_op("reading", grounds.site, set={"defect_id": defect})))["st"] == "clash"
    alive = grounds.keeper.pull().rows
    assert {("defect", defect), ("elevation", grounds.elevation), ("structure", grounds.structure)} <= set(
        alive
    )


def test_delete_that_had_not_seen_a_new_child_keeps_the_row(grounds, other):
    defect = grounds.add("defect")
    seen = other.pull().row("defect", defect)["rev"]
    grounds.keeper.push(make_op("reading", grounds.site, set={"defect_id": defect}))
    assert only(other.push(make_drop("defect", grounds.site, defect, seen)))["st"] == "clash"
    seen = other.pull().row("defect", defect)["rev"]
    assert only(other.push(make_drop("defect", grounds.site, defect, seen)))["st"] == "applied"


def test_deleting_what_is_not_there_does_no_harm(grounds):
    assert only(grounds.keeper.push(make_drop("defect", grounds.site, make_id(), 0)))["st"] == "applied"


@pytest.mark.parametrize("row_type", ["reading", "note", "photo", "step"])
def test_what_is_append_only_is_neither_edited_nor_deleted(grounds, row_type):
    defect = grounds.add("defect")
    ticket = grounds.add("ticket", defect_ids=[defect])
    hangs_on = {"reading": {"defect_id": defect}, "step": {"ticket_id": ticket}}
    op = make_op(row_type, grounds.site, set=hangs_on.get(row_type, {"of_type": "defect", "of_id": defect}))
    assert only(grounds.keeper.push(op))["st"] == "applied"
    codes = [
        only(grounds.keeper.push(make_drop(row_type, grounds.site, op["id"], 99)))["code"],
        only(
            grounds.keeper.push(
                {**op, "op": make_id(), "set": {**op["set"], "of_type": "ticket", "note": "x"}}
            )
        ).get("code"),
    ]
    assert codes[0] == "append_only"
    assert codes[1] in ("append_only", "unknown_field")
    same = {**op, "op": make_id()}
    assert only(grounds.keeper.push(same))["st"] == "applied"


def test_numbers_are_given_by_the_server_and_never_reused(grounds):
    first = grounds.add("defect")
    rev = grounds.keeper.pull().row("defect", first)["rev"]
    grounds.keeper.push(make_drop("defect", grounds.site, first, rev))
    second = grounds.add("defect")
    assert grounds.keeper.pull().row("defect", second)["number"] == 2
    tickets = [grounds.add("ticket", defect_ids=[second]) for _ in range(2)]
    assert [grounds.keeper.pull().row("ticket", one)["number"] for one in tickets] == [1, 2]
    assert only(grounds.keeper.push(grounds.op("defect", number=9)))["code"] == "server_only"


def test_steps_move_a_ticket_only_legally(grounds, other):
    ticket = grounds.add("ticket", defect_ids=[grounds.add("defect")])

    def step(phone, kind, at=EARLY):
        return only(
            phone.push(make_op("step", grounds.site, set={"ticket_id": ticket, "kind": kind, "at": at}))
        )

    assert step(grounds.keeper, "taken", LATE)["st"] == "applied"
    refused = step(other, "taken")
    assert refused["code"] == "illegal_step"
    assert "taken" in refused["say"]
    assert step(other, "done", EARLY)["st"] == "applied"
    assert step(grounds.keeper, "checked", LATE)["st"] == "applied"
    assert [one["at"] for one in sorted(grounds.keeper.pull().all("step"), key=lambda one: one["rev"])] == [
        LATE,
        "2026-11-25T08:30:00.001Z",
        "2026-11-25T08:30:00.002Z",
    ]


def test_steps_in_one_push_see_each_other(grounds):
    ticket = grounds.add("ticket", defect_ids=[grounds.add("defect")])
    steps = [
        make_op("step", grounds.site, set={"ticket_id": ticket, "kind": kind})
        for kind in ("taken", "taken", "done")
    ]
    assert [one["st"] for one in grounds.keeper.push(*steps)] == ["applied", "rejected", "applied"]


def test_author_and_time_are_the_servers(grounds):
    op = grounds.op("defect")
    only(grounds.keeper.push({**op, "at": "2031-01-01T00:00:00Z"}))
    made = grounds.keeper.pull().row("defect", op["id"])
    assert made["made_by"] == "Keeper Kit"
    assert made["made_at"] <= row.write_instant(datetime.now(UTC))


def test_two_hundred_ops_in_one_push(grounds):
    ops = [grounds.op("defect") for _ in range(200)]
    results = grounds.keeper.push(*ops)
    assert [one["rev"] for one in results] == list(range(results[0]["rev"], results[0]["rev"] + 200))


def test_writers_at_the_same_time_never_hide_a_row_from_a_reader(app, grounds):
    """Four phones push while one keeps pulling: at the end it holds every row."""
    writers = [make_guest(app, grounds.keeper, grounds.site, "surveyor", f"W{n}") for n in range(4)]
    reader = make_guest(app, grounds.keeper, grounds.site, "surveyor", "Reader")
    faults = []

    def write(phone):
        for _ in range(12):
            results = phone.push(grounds.op("defect"), grounds.op("defect"))
            faults.extend(one for one in results if one["st"] != "applied")

    threads = [threading.Thread(target=write, args=(phone,)) for phone in writers]
    for thread in threads:
        thread.start()
    while any(thread.is_alive() for thread in threads):
        reader.pull(limit=7)
    for thread in threads:
        thread.join()
    reader.pull(limit=7)
    assert faults == []
    assert len(reader.all("defect")) == 96
    assert sorted(one["number"] for one in reader.all("defect")) == list(range(1, 97))
    assert reader.rows == grounds.keeper.pull().rows
