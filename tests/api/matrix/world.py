"""Made-up sites full of marks, who asks about them, and what each may see by the rule as people say it.

Each row carries marks that occur nowhere else: a word in its texts, a number as its place. What each caller may see is
written out here once more, apart from shared/roles.json and the server's own code.
"""

import itertools
from dataclasses import dataclass, field

from hypothesis import strategies as st

from tests.make import (
    Phone,
    make_edit,
    make_founder,
    make_grounds,
    make_guest,
    make_limited,
    make_op,
)

EVERYBODY_IN = {"keeper", "surveyor", "helper", "reader"}
# Row type -> the roles on a whole site that see it.
SEEN_BY = {
    **dict.fromkeys(
        (
            "site",
            "structure",
            "elevation",
            "finish",
            "storm",
            "survey",
            "defect",
            "reading",
            "ticket",
            "step",
            "photo",
        ),
        EVERYBODY_IN,
    ),
    "note": EVERYBODY_IN,
    "score": EVERYBODY_IN,
    "handout": EVERYBODY_IN - {"reader"},
    "work_day": {"keeper", "surveyor"},
    "clash": {"keeper", "surveyor"},
}
PLACE_SHOWN_TO = {"keeper", "surveyor", "reader"}
_count = itertools.count(1)


def word():
    """Return a word that occurs nowhere else."""
    return f"mark{next(_count):06d}end"


def number():
    """Return a number whose digits occur nowhere else."""
    return float(f"40.{next(_count):06d}7")


@dataclass
class Made:
    """One row: what it hangs on, the marks in it, and which of them tell a place."""

    type: str
    id: str
    on: tuple[str, str] | None = None
    marks: set[str] = field(default_factory=set)
    places: set[str] = field(default_factory=set)
    address: set[str] = field(default_factory=set)


@dataclass
class World:
    """A site as it was made up, by row."""

    grounds: object
    rows: dict[tuple[str, str], Made] = field(default_factory=dict)
    defects_of: dict[str, list[str]] = field(default_factory=dict)
    wall_of: dict[str, str] = field(default_factory=dict)
    handouts: dict[str, dict] = field(default_factory=dict)
    stored: set[str] = field(default_factory=set)

    def ids(self, row_type):
        return [row_id for of_type, row_id in self.rows if of_type == row_type]

    def put(self, row_type, on=None, text=None, **fields):
        """Make a row as the keeper, with a mark in its text."""
        mark = word()
        op = make_op(row_type, self.grounds.site, set={**fields, **({text: mark} if text else {})})
        (result,) = self.grounds.keeper.push(op)
        assert result["st"] == "applied", result
        self.rows[row_type, op["id"]] = made = Made(row_type, op["id"], on, {mark} if text else set())
        return made

    def edit(self, row_type, row_id, **fields):
        (result,) = self.grounds.keeper.push(make_edit(row_type, self.grounds.site, row_id, 10**6, **fields))
        assert result["st"] == "applied", result


@dataclass
class Caller:
    """Somebody who asks: a role on the whole site, or hand-outs, or nothing."""

    name: str
    phone: Phone
    role: str | None = None
    handout: str | None = None


def draw_walls(draw, world):
    structure = world.put("structure", text="note")
    for _ in range(draw(st.integers(1, 3))):
        wall = world.put("elevation", ("structure", structure.id), "name", structure_id=structure.id)
        finish = world.put("finish", ("elevation", wall.id), "note", elevation_id=wall.id)
        world.put("score", ("finish", finish.id), "note", finish_id=finish.id)
        for _ in range(draw(st.integers(1, 3))):
            defect = world.put("defect", ("elevation", wall.id), "note", elevation_id=wall.id)
            world.wall_of[defect.id] = wall.id


def draw_work(draw, world):
    storm = world.put("storm", text="name")
    survey = world.put("survey", ("storm", storm.id), "note", storm_id=storm.id)
    for defect in world.ids("defect"):
        world.put("reading", ("defect", defect), "note", defect_id=defect, survey_id=survey.id)
    for _ in range(draw(st.integers(2, 4))):
        defects = draw(st.lists(st.sampled_from(world.ids("defect")), min_size=1, max_size=3, unique=True))
        ticket = world.put("ticket", None, "note", defect_ids=defects)
        world.defects_of[ticket.id] = defects
        world.put("step", ("ticket", ticket.id), "note", ticket_id=ticket.id, storm_id=storm.id)
    day = world.put("work_day", text="note")
    for shows in (False, True):
        handed = draw(st.lists(st.sampled_from(world.ids("ticket")), max_size=2, unique=True))
        fields = {"ticket_ids": handed, "show_place": shows, "work_day_id": day.id}
        handout = world.put("handout", None, "note", **fields)
        world.handouts[handout.id] = {"tickets": handed, "shows": shows, "ended": False}


def draw_hangings(draw, world):
    for row_type in ("defect", "step", "elevation", "ticket", "finish", "score"):
        for row_id in world.ids(row_type):
            if draw(st.booleans()):
                put_photo(world, row_type, row_id, word().encode().hex().ljust(64, "0")[:64])
    for row_type in ("defect", "ticket", "elevation", "storm", "survey", "finish"):
        for row_id in world.ids(row_type):
            world.put("note", (row_type, row_id), "text", of_type=row_type, of_id=row_id)


def put_photo(world, row_type, row_id, sha256, length=1000):
    lat, lon = number(), number()
    where = {"of_type": row_type, "of_id": row_id, "lat": lat, "lon": lon}
    photo = world.put("photo", (row_type, row_id), None, sha256=sha256, bytes=length, **where)
    photo.marks, photo.places = {sha256}, {str(lat), str(lon)}
    return photo


def draw_clash(world, other):
    """Have two people answer differently; the answer that lost is in the clash alone."""
    defect = world.ids("defect")[0]
    marks = {word(), word()}
    for phone, mark in zip((world.grounds.keeper, other), marks, strict=True):
        phone.push(make_edit("defect", world.grounds.site, defect, 1, note=mark))
    world.grounds.keeper.pull()
    stands = world.grounds.keeper.row("defect", defect)["note"]
    world.rows["defect", defect].marks = {stands}
    for row_type, row_id in world.grounds.keeper.rows:
        if row_type == "clash":
            world.rows["clash", row_id] = Made("clash", row_id, ("defect", defect), marks - {stands})


def make_world(draw, app):
    """Return a made-up site and everybody who asks about it."""
    grounds = make_grounds(app)
    world = World(grounds)
    lat, lon, name, address = number(), number(), word(), word()
    fields = {"name": name, "note": address, "lat": lat, "lon": lon}
    grounds.keeper.push(make_edit("site", grounds.site, grounds.site, 10**6, **fields))
    world.rows["site", grounds.site] = Made(
        "site", grounds.site, None, {name}, {str(lat), str(lon)}, {address}
    )
    for row_type, row_id in (("structure", grounds.structure), ("elevation", grounds.elevation)):
        world.rows[row_type, row_id] = Made(row_type, row_id, None)
    draw_walls(draw, world)
    draw_work(draw, world)
    draw_hangings(draw, world)
    people = [Caller("keeper", grounds.keeper, "keeper")]
    for role in ("surveyor", "helper", "reader"):
        people.append(Caller(role, make_guest(app, grounds.keeper, grounds.site, role, role), role))
    for handout in world.handouts:
        phone = make_limited(app, grounds.keeper, grounds.site, handout, "Limited")
        people.append(Caller(f"limited {world.handouts[handout]['shows']}", phone, handout=handout))
    revoked = Caller("revoked", make_guest(app, grounds.keeper, grounds.site, "surveyor", "Revoked"))
    people += [revoked, Caller("stranger", make_founder(app, "Stranger"))]
    draw_clash(world, people[1].phone)
    return world, people


def move_what_is_handed_out(draw, world):
    """Change what the hand-outs cover, as it happens in a day."""
    for handout, stands in world.handouts.items():
        how = draw(st.sampled_from(["stay", "tickets", "ended", "defects", "wall"]))
        if how == "tickets":
            stands["tickets"] = draw(st.lists(st.sampled_from(world.ids("ticket")), max_size=2, unique=True))
            world.edit("handout", handout, ticket_ids=stands["tickets"])
        elif how == "ended":
            stands["ended"] = True
            world.edit("handout", handout, ended_on="2026-11-25")
        elif how == "defects":
            ticket = draw(st.sampled_from(world.ids("ticket")))
            world.defects_of[ticket] = draw(
                st.lists(st.sampled_from(world.ids("defect")), min_size=1, unique=True)
            )
            world.edit("ticket", ticket, defect_ids=world.defects_of[ticket])
        elif how == "wall":
            defect = draw(st.sampled_from(world.ids("defect")))
            world.wall_of[defect] = draw(st.sampled_from(world.ids("elevation")))
            world.edit("defect", defect, elevation_id=world.wall_of[defect])


def allowed_rows(world, caller):
    """Return the rows a caller may see, by the rule as people say it."""
    if caller.handout:
        return handed_rows(world, caller.handout)
    return {key for key in world.rows if caller.role in SEEN_BY[key[0]]}


def handed_rows(world, handout):
    site = ("site", world.grounds.site)
    stands = world.handouts[handout]
    if stands["ended"]:
        return {site}
    tickets = set(stands["tickets"])
    defects = {one for ticket in tickets for one in world.defects_of[ticket]}
    walls = {world.wall_of[one] for one in defects}
    seen = {site, ("handout", handout)}
    seen |= {("ticket", one) for one in tickets} | {("defect", one) for one in defects}
    seen |= {("elevation", one) for one in walls}
    keepers = world.grounds.keeper
    seen |= {("structure", keepers.row("elevation", one)["structure_id"]) for one in walls}
    for key, made in world.rows.items():
        if key[0] == "finish" and made.on in seen:
            seen.add(key)
        if key[0] in ("step", "reading") and made.on in seen:
            seen.add(key)
    for key, made in world.rows.items():
        kinds = {"photo": ("elevation", "defect", "ticket", "step"), "note": ("defect", "ticket")}
        if key[0] in kinds and made.on in seen and made.on[0] in kinds[key[0]]:
            seen.add(key)
    return seen


def forbidden_marks(world, caller, allowed):
    """Return every mark that may not reach a caller."""
    shows = caller.role in PLACE_SHOWN_TO
    shows_address = caller.role in EVERYBODY_IN
    if caller.handout:
        stands = world.handouts[caller.handout]
        shows = shows_address = stands["shows"] and not stands["ended"]
    found = set()
    for key, made in world.rows.items():
        seen = key in allowed
        found |= set() if seen else made.marks
        found |= set() if seen and shows else made.places
        found |= set() if seen and shows_address else made.address
    return found
