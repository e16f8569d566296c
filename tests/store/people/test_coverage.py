"""What limited devices cover, read in a bounded number of queries."""

from dataclasses import dataclass

import pytest
from flask import Flask
from sqlalchemy import event

from makegood.domain.row import Key
from makegood.store import clock
from makegood.store.database import db, writing
from makegood.store.people import coverage
from tests.make import Grounds, Phone, make_drop, make_edit, make_limited, make_op


@dataclass
class Handed:
    """Two tickets on a wall, one of them handed out; the hand-out's phone. Each look is in a context of its own."""

    app: Flask
    grounds: Grounds
    defects: list[str]
    tickets: list[str]
    handout: str
    helper: Phone

    def edit(self, row_type, row_id, **fields):
        self.push(make_edit(row_type, self.grounds.site, row_id, 99, **fields))

    def push(self, *ops):
        assert {one["st"] for one in self.grounds.keeper.push(*ops)} == {"applied"}

    def scope(self):
        with self.app.app_context():
            return coverage.whole_scope(self.grounds.site, self.helper.device_id)

    def scopes(self):
        with self.app.app_context():
            return coverage.scopes(self.grounds.site)

    def fresh_rev(self, phone=None):
        with self.app.app_context():
            return coverage.fresh_rev(self.grounds.site, (phone or self.helper).device_id)

    def is_open(self, handout):
        with self.app.app_context():
            return coverage.is_open(self.grounds.site, handout)


@pytest.fixture
def handed(app, grounds):
    defects = [grounds.add("defect") for _ in range(2)]
    tickets = [grounds.add("ticket", defect_ids=[one]) for one in defects]
    handout = grounds.add("handout", ticket_ids=[tickets[0]])
    helper = make_limited(app, grounds.keeper, grounds.site, handout)
    return Handed(app, grounds, defects, tickets, handout, helper)


def test_whole_scope_has_what_hangs_on_the_tickets(handed):
    grounds, defects, tickets = handed.grounds, handed.defects, handed.tickets
    step = grounds.add("step", ticket_id=tickets[0])
    wanted = {
        "reading": grounds.add("reading", defect_id=defects[0]),
        "note": grounds.add("note", of_type="ticket", of_id=tickets[0]),
        "photo": grounds.add("photo", of_type="step", of_id=step),
    }
    grounds.add("reading", defect_id=defects[1])
    grounds.add("note", of_type="elevation", of_id=grounds.elevation)
    grounds.add("photo", of_type="ticket", of_id=tickets[1])
    assert handed.scope().rows == {
        "site": {grounds.site},
        "handout": {handed.handout},
        "ticket": {tickets[0]},
        "defect": {defects[0]},
        "elevation": {grounds.elevation},
        "structure": {grounds.structure},
        "finish": set(),
        "step": {step},
        **{row_type: {row_id} for row_type, row_id in wanted.items()},
    }


def test_scopes_are_of_limited_devices_only(handed):
    assert set(handed.scopes()) == {handed.helper.device_id}
    assert handed.scopes()[handed.helper.device_id].rows["defect"] == {handed.defects[0]}
    assert handed.fresh_rev(handed.grounds.keeper) is None
    with handed.app.app_context():
        site = handed.grounds.site
        assert coverage.scope_if_limited(site, handed.grounds.keeper.device_id) is None
        seen = coverage.scope_if_limited(site, handed.helper.device_id)
        assert seen.holds(Key("defect", site, handed.defects[0]))


def test_handout_is_open_until_it_ends_or_is_deleted(handed):
    assert handed.is_open(handed.handout)
    handed.edit("handout", handed.handout, ended_on="2026-11-25")
    assert not handed.is_open(handed.handout)
    other = handed.grounds.add("handout")
    handed.push(make_drop("handout", handed.grounds.site, other, 99))
    assert not handed.is_open(other)


def changes(handed):
    """Name each change that moves what the hand-out covers, and some that do not."""
    site, handout, (first, second) = handed.grounds.site, handed.handout, handed.tickets
    wall = make_op("elevation", site, set={"structure_id": handed.grounds.structure})
    handed.push(wall)
    return {
        "ticket added": (make_edit("handout", site, handout, 99, ticket_ids=handed.tickets), True),
        "ticket taken off": (make_edit("handout", site, handout, 99, ticket_ids=[]), True),
        "place shown": (make_edit("handout", site, handout, 99, show_place=True), True),
        "ended": (make_edit("handout", site, handout, 99, ended_on="2026-11-25"), True),
        "handout deleted": (make_drop("handout", site, handout, 99), True),
        "ticket deleted": (make_drop("ticket", site, first, 99), True),
        "defects changed": (make_edit("ticket", site, first, 99, defect_ids=handed.defects), True),
        "defect moved": (make_edit("defect", site, handed.defects[0], 99, elevation_id=wall["id"]), True),
        "note on it": (make_edit("ticket", site, first, 99, note="n"), False),
        "another ticket": (make_edit("ticket", site, second, 99, defect_ids=[handed.defects[0]]), False),
        "new finish": (handed.grounds.op("finish"), False),
    }


@pytest.mark.parametrize(
    "change",
    [
        "ticket added", "ticket taken off", "place shown", "ended", "handout deleted", "ticket deleted",
        "defects changed", "defect moved", "note on it", "another ticket", "new finish",
    ],
)  # fmt: skip
def test_cursor_begins_anew_exactly_when_what_is_covered_changed(handed, change):
    op, moves = changes(handed)[change]
    before = handed.fresh_rev()
    handed.push(op)
    now = handed.fresh_rev()
    assert (now > before) == moves
    with handed.app.app_context():
        assert not moves or now == clock.counters(handed.grounds.site)[0]


def test_ticket_that_comes_after_its_handout_brings_its_older_defect(handed):
    ticket = make_op("ticket", handed.grounds.site, set={"defect_ids": [handed.defects[1]]})
    handed.edit("handout", handed.handout, ticket_ids=[ticket["id"]])
    handed.helper.pull()
    handed.push(ticket)
    rows = handed.helper.pull().rows
    assert {row_id for row_type, row_id in rows if row_type == "defect"} == {handed.defects[1]}


def queries(handed):
    seen = []
    with handed.app.app_context():
        event.listen(db.engine, "before_cursor_execute", lambda *given: seen.append(given[2]))
    handed.scope()
    handed.scopes()
    return len(seen)


def test_queries_do_not_grow_with_the_tickets(handed):
    few = queries(handed)
    more = [handed.grounds.op("ticket", defect_ids=handed.defects) for _ in range(60)]
    handed.push(*more)
    handed.edit("handout", handed.handout, ticket_ids=[*handed.tickets, *(one["id"] for one in more)])
    assert len(handed.scope().rows["ticket"]) == 62
    assert 10 < queries(handed) <= few <= 25


def test_freshen_touches_only_the_devices_named(handed):
    site, before = handed.grounds.site, handed.fresh_rev()
    with handed.app.app_context(), writing():
        coverage.freshen(site, [], 10**6)
    assert handed.fresh_rev() == before
    with handed.app.app_context(), writing():
        coverage.freshen(site, [handed.helper.device_id], 10**6)
    assert handed.fresh_rev() == 10**6
