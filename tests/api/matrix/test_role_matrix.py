"""Who sees what: role x route x row type on made-up sites; no answer ever holds a row, a field or a photo out of scope.

Whatever comes back from any route is searched for the marks of everything its caller may not see.
MAKEGOOD_MATRIX_EXAMPLES sets how many sites are made up.
"""

import itertools
import os

from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from tests.api.matrix.world import (
    Caller,
    World,
    allowed_rows,
    forbidden_marks,
    make_world,
    move_what_is_handed_out,
    put_photo,
    word,
)
from tests.api.test_photos import Sending, picture, sha
from tests.make import make_edit, make_grounds, make_guest, make_id, make_op

EXAMPLES = int(os.environ.get("MAKEGOOD_MATRIX_EXAMPLES", "6"))


class Ear:
    """Hears every answer a caller gets, and finds what should not be in it."""

    def __init__(self, caller, forbidden):
        self.caller, self.forbidden = caller, forbidden

    def hear(self, answer, what):
        said = answer.get_data().decode(errors="replace") + str(answer.headers)
        leaked = {mark for mark in self.forbidden if mark in said}
        assert not leaked, (self.caller.name, what, leaked)
        assert answer.status_code < 500, what
        return answer

    def get(self, path):
        return self.hear(self.caller.phone.client.get(path), path)

    def post(self, path, body):
        return self.hear(self.caller.phone.post(path, body), (path, body))


def hear_pulls(ear, world, allowed):
    """Ask from nothing, from 0, and in small pages: only rows in scope come."""
    for since, limit in (({}, 500), ({world.grounds.site: 0}, 500), ({}, 3)):
        more = True
        while more:
            answer = ear.post("/api/sync/pull", {"v": 1, "epoch": None, "since": since, "limit": limit}).json
            came = {(row["type"], row["id"]) for row in answer["rows"]}
            assert came <= allowed, (ear.caller.name, came - allowed)
            more, since = answer["more"], answer["since"]


def hear_pushes(ear, world, allowed):
    """Try to change and to guess at every row; what is refused tells nothing of it."""
    site = world.grounds.site
    for row_type, row_id in world.rows:
        ops = [
            make_edit(row_type, site, row_id, 0, note="mine"),
            make_op("note", site, set={"of_type": row_type, "of_id": row_id}),
            make_op("photo", site, set={"of_type": row_type, "of_id": row_id, "sha256": "ee" * 32}),
            make_op("step", site, set={"ticket_id": row_id}),
            make_op(row_type, site, row_id),
        ]
        results = ear.post("/api/sync/push", {"v": 1, "epoch": None, "ops": ops}).json["results"]
        if (row_type, row_id) not in allowed and ear.caller.role is None:
            assert {one.get("code") for one in results} == {"not_allowed"}, (ear.caller.name, results)


def hear_photos(ear, world, allowed):
    """Ask for each photo by id and by hash, in each size."""
    site = world.grounds.site
    for photo in world.ids("photo"):
        seen = ("photo", photo) in allowed
        for size in ("400", "1600", "original"):
            answer = ear.get(f"/api/photos/{site}/{photo}/{size}")
            may = seen and (size != "original" or ear.caller.role in ("keeper", "surveyor"))
            stored = photo in world.stored
            assert (answer.status_code == 200) == (may and stored), (ear.caller.name, size)
            assert seen or answer.json["code"] in ("photo_unknown", "originals_not_allowed")
        sha256 = next(iter(world.rows["photo", photo].marks))
        asked = ear.caller.phone.client.head(f"/api/blobs/{site}/{sha256}")
        assert (asked.status_code == 200) == (seen and photo in world.stored), ear.caller.name
        begun = ear.caller.phone.client.put(
            f"/api/blobs/{site}/{sha256}?length=1000", headers={"X-CSRF": ear.caller.phone.csrf}
        )
        assert begun.status_code != 200 or (seen and photo in world.stored), ear.caller.name


def hear_the_rest(ear, app, world):
    """Ask each address that is only read, with whatever ids there are; and for links and devices."""
    ids = {"site_id": [world.grounds.site], "": [row_id for _, row_id in world.rows][:12]}
    for rule in app.url_map.iter_rules():
        if "GET" not in rule.methods or not rule.rule.startswith("/api/") or "photos" in rule.rule:
            continue
        names = sorted(rule.arguments)
        for values in itertools.product(*(ids.get(name, ids[""]) for name in names)):
            path = rule.rule
            for name, value in zip(names, values, strict=True):
                path = path.replace(f"<{name}>", value)
            if "<" not in path and "wait" not in path:
                ear.get(path)
    for path in (f"/api/invites/{world.grounds.site}", f"/api/devices/{world.grounds.site}"):
        assert (ear.get(path).status_code == 200) == (ear.caller.role == "keeper"), ear.caller.name
    made = ear.post("/api/invites", {"site_id": world.grounds.site, "role": "reader"})
    assert (made.status_code == 201) == (ear.caller.role == "keeper"), ear.caller.name


def store_two_photos(world):
    """Bring real bytes for a photo of a step and of a finish, of which hand-outs cover at most the first."""
    world.stored = set()
    for row_type in ("step", "finish"):
        content = picture(size=(48, 32))
        photo = put_photo(world, row_type, world.ids(row_type)[0], sha(content), len(content))
        answer = Sending(world.grounds.keeper, world.grounds.site, content).send()
        assert answer.status_code == 204, answer.json
        world.stored.add(photo.id)


@given(chosen=st.data())
@settings(
    max_examples=EXAMPLES,
    deadline=None,
    derandomize=True,
    suppress_health_check=list(HealthCheck),
    database=None,
    phases=[Phase.generate],  # a smaller site explains little and takes minutes to find
)
def test_no_answer_holds_anything_out_of_the_callers_scope(app, chosen):
    world, people = make_world(chosen.draw, app)
    store_two_photos(world)
    for caller in people:
        caller.phone.pull()
    move_what_is_handed_out(chosen.draw, world)
    revoked = next(one for one in people if one.name == "revoked")
    path = f"/api/devices/{world.grounds.site}/{revoked.phone.device_id}"
    keeper = world.grounds.keeper
    assert keeper.client.delete(path, headers={"X-CSRF": keeper.csrf}).status_code == 204
    keeper.pull()
    for caller in people:
        allowed = allowed_rows(world, caller)
        # Whatever it had before, the phone now holds what it may see: no more, and no less.
        assert set(caller.phone.pull().rows) == allowed, caller.name
    for caller in people:
        allowed = allowed_rows(world, caller)
        ear = Ear(caller, forbidden_marks(world, caller, allowed))
        assert caller.name in ("keeper", "surveyor") or ear.forbidden
        hear_pulls(ear, world, allowed)
        hear_photos(ear, world, allowed)
        hear_the_rest(ear, app, world)
        if caller.role is None:
            hear_pushes(ear, world, allowed)


def test_the_search_finds_a_leak(app):
    """The guard of the guard: a surveyor taken for a reader is heard at once."""
    grounds = make_grounds(app)
    world = World(grounds)
    mark = word()
    grounds.keeper.push(grounds.op("work_day", note=mark))
    surveyor = Caller("reader", make_guest(app, grounds.keeper, grounds.site, "surveyor", "S"), "reader")
    heard = ""
    try:
        hear_pulls(Ear(surveyor, {mark}), world, {("site", make_id())})
    except AssertionError as found:
        heard = str(found)
    assert mark in heard
