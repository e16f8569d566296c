"""Who gets which paper with which rows: by role, by hand-out, by part in the site."""

from dataclasses import replace
from datetime import UTC, datetime
from io import BytesIO

import pytest

from makegood.errors import NotAllowed, NotFound
from makegood.papers.ask import Ask, unheard
from makegood.papers.press import PAPERS
from makegood.store import device as devices
from makegood.work.make_paper import owners_wish, wish_of
from tests.make import make_guest, make_limited, make_op
from tests.papers.site import text_of
from tests.work.test_take_in_photo import Sender, jpeg


@pytest.fixture
def handed(app, grounds):
    """A site with a photo with a place, two tickets and a hand-out of the first."""
    sender = Sender(app, grounds, jpeg())
    sender.send()
    defects = [grounds.add("defect", kind="spalling", note=note) for note in ("first", "second")]
    tickets = [grounds.add("ticket", defect_ids=[one], method="patch_one_coat") for one in defects]
    place = {"lat": 51.51234, "lon": -0.11234, "taken_at": "2026-11-20T10:00:00Z"}
    grounds.add("photo", of_type="defect", of_id=defects[0], sha256=sender.key.sha256, bytes=len(sender.content), **place)
    handout = make_op("handout", grounds.site, set={"ticket_ids": tickets[:1], "language": "en"})
    assert [one["st"] for one in grounds.keeper.push(handout)] == ["applied"]
    return grounds, handout["id"]


def made(app, phone, site, name, about=None):
    """Make a paper as a phone's device gets it."""
    with app.app_context():
        device = devices.device(phone.device_id)
        ask = Ask(about=about, now=datetime(2026, 11, 25, tzinfo=UTC))
        wish = wish_of(device, site, name, ask, (app.config["PHOTO_BYTES"], "http://barn.test"))
        out = BytesIO()
        wish.make(out, unheard)
        return out.getvalue()


def test_keeper_gets_everything(app, handed):
    grounds, handout = handed
    assert "51.51234" in text_of(made(app, grounds.keeper, grounds.site, "report"))
    for name in PAPERS:
        about = {"handout": handout}.get(name)
        if name == "closure":
            continue
        assert made(app, grounds.keeper, grounds.site, name, about)


def test_helper_and_limited_device_get_no_place(app, handed):
    grounds, handout = handed
    helper = make_guest(app, grounds.keeper, grounds.site, "helper", "Hal")
    limited = make_limited(app, grounds.keeper, grounds.site, handout)
    for phone, name, about in ((helper, "report", None), (helper, "handout", handout), (limited, "handout", handout)):
        assert "51.5" not in text_of(made(app, phone, grounds.site, name, about))
    assert b"51.5" not in made(app, helper, grounds.site, "places")
    assert b"51.5" not in made(app, helper, grounds.site, "photos-table")


def test_limited_device_gets_its_own_sheet_and_nothing_else(app, handed):
    grounds, handout = handed
    other = make_op("handout", grounds.site, set={"ticket_ids": []})
    grounds.keeper.push(other)
    limited = make_limited(app, grounds.keeper, grounds.site, handout)
    words = text_of(made(app, limited, grounds.site, "handout", handout))
    assert "Ticket 1" in words
    assert "Ticket 2" not in words
    with pytest.raises(NotFound):
        made(app, limited, grounds.site, "handout", other["id"])
    for name in set(PAPERS) - {"handout"}:
        with pytest.raises(NotAllowed):
            made(app, limited, grounds.site, name)


@pytest.mark.parametrize("role", ["helper", "reader"])
def test_originals_only_for_roles_that_may_have_them(app, handed, role):
    grounds, _ = handed
    guest = make_guest(app, grounds.keeper, grounds.site, role, "Guest")
    with pytest.raises(NotAllowed):
        made(app, guest, grounds.site, "originals")


def test_reader_sees_no_handouts(app, handed):
    grounds, handout = handed
    reader = make_guest(app, grounds.keeper, grounds.site, "reader", "Rae")
    with pytest.raises(NotFound):
        made(app, reader, grounds.site, "handout", handout)


def test_unknown_site_and_paper_are_refused(app, handed):
    grounds, _ = handed
    with app.app_context():
        device = devices.device(grounds.keeper.device_id)
        place = (app.config["PHOTO_BYTES"], "")
        with pytest.raises(NotFound):
            wish_of(device, grounds.site, "poster", Ask(), place)
        with pytest.raises(NotFound):
            wish_of(replace(device, grants={}), grounds.site, "report", Ask(), place)


def test_owner_of_the_folder_gets_what_a_keeper_gets(app, handed):
    grounds, _ = handed
    out = BytesIO()
    with app.app_context():
        owners_wish(grounds.site, "report", Ask(), (app.config["PHOTO_BYTES"], "")).make(out, unheard)
    assert "first" in text_of(out.getvalue())
