"""What was deleted long ago goes for good with all that hangs on it; a phone that was away for longer begins anew."""

from datetime import datetime, timedelta

import pytest

from makegood.store import clock
from makegood.work.keeping.check_site import check_site
from makegood.work.keeping.tidy import KEEP_DAYS, tidy
from tests.make import NOW as MADE
from tests.make import make_drop, make_edit, make_guest, make_op

# The age of a tombstone counts from the day its op names.
NOW = datetime.fromisoformat(MADE)
LATER = NOW + timedelta(days=KEEP_DAYS + 1)


def deleted(grounds, row_type, row_id):
    rev = grounds.keeper.pull().row(row_type, row_id)["rev"]
    (result,) = grounds.keeper.push(make_drop(row_type, grounds.site, row_id, rev))
    assert result["st"] == "applied"


def tidied(app, now=LATER):
    with app.app_context():
        return tidy(now)


@pytest.fixture
def defect(grounds):
    """A deleted defect with a reading and a note on it."""
    defect = grounds.add("defect")
    grounds.add("reading", defect_id=defect)
    grounds.add("note", of_type="defect", of_id=defect)
    deleted(grounds, "defect", defect)
    return defect


def test_old_tombstone_goes_with_what_hangs_on_it_and_the_rest_stands(app, grounds, defect):
    other = grounds.add("defect")
    assert tidied(app, NOW + timedelta(days=KEEP_DAYS - 1)) == 0
    assert tidied(app) == 3
    assert tidied(app) == 0
    fresh = make_guest(app, grounds.keeper, grounds.site, "surveyor", "Sura").pull()
    assert [row_id for row_type, row_id in fresh.rows if row_type == "defect"] == [other]
    assert not fresh.all("reading")
    with app.app_context():
        assert check_site(grounds.site, app.config["PHOTO_BYTES"], NOW.date()).troubles == []


def test_what_something_standing_names_stays_a_tombstone(app, grounds, defect):
    grounds.add("ticket", defect_ids=[grounds.add("defect")])
    held = grounds.add("defect")
    ticket = grounds.add("ticket", defect_ids=[held])
    deleted(grounds, "defect", held)
    tidied(app)
    fresh = make_guest(app, grounds.keeper, grounds.site, "surveyor", "Sura").pull()
    assert fresh.row("ticket", ticket)["defect_ids"] == [held]
    with app.app_context():
        assert check_site(grounds.site, app.config["PHOTO_BYTES"], NOW.date()).troubles == []


def test_a_phone_away_since_before_begins_that_site_anew_and_only_that(app, grounds):
    defect = grounds.add("defect")
    away = make_guest(app, grounds.keeper, grounds.site, "surveyor", "Sura").pull()
    near = make_guest(app, grounds.keeper, grounds.site, "surveyor", "Nell")
    deleted(grounds, "defect", defect)
    near.pull()
    assert tidied(app) == 1
    body = {"v": 1, "epoch": None, "since": away.since, "limit": 500}
    answer = away.post("/api/sync/pull", body)
    assert (answer.status_code, answer.json["code"]) == (410, "horizon")
    assert list(answer.json["fields"]) == [grounds.site]
    assert near.post("/api/sync/pull", {**body, "since": near.since}).status_code == 200
    away.since[grounds.site] = 0
    away.rows.clear()
    away.pull()
    assert ("defect", defect) not in away.rows
    fresh = make_guest(app, grounds.keeper, grounds.site, "surveyor", "Finn").pull()
    assert away.rows.keys() == fresh.rows.keys()


def test_in_the_midst_of_beginning_anew_a_low_cursor_is_not_old(app, grounds):
    for _ in range(3):
        grounds.add("note", of_type="elevation", of_id=grounds.elevation)
    defect = grounds.add("defect")
    deleted(grounds, "defect", defect)
    tidied(app)
    phone = make_guest(app, grounds.keeper, grounds.site, "surveyor", "Sura")
    body = {"v": 1, "epoch": None, "since": {grounds.site: 0}, "limit": 2}
    first = phone.post("/api/sync/pull", body).json
    low = first["since"][grounds.site]
    with app.app_context():
        assert 0 < low < clock.db.session.get(clock.SiteClock, grounds.site).horizon_rev
    second = phone.post("/api/sync/pull", {**body, "since": first["since"], "anew": [grounds.site]})
    assert second.status_code == 200
    assert phone.post("/api/sync/pull", {**body, "since": first["since"]}).status_code == 410


def test_a_change_to_what_is_gone_comes_back_with_a_sentence(app, grounds, defect):
    tidied(app)
    edit, child = grounds.keeper.push(
        make_edit("defect", grounds.site, defect, 1, note="still there?"),
        make_op("reading", grounds.site, set={"defect_id": defect}),
    )
    assert (edit["st"], child["st"]) == ("rejected", "rejected")
    assert edit["say"]
    assert child["code"] == "parent_missing"
