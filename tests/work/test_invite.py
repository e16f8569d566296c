"""Links that let one device in."""

import xml.etree.ElementTree as ET
from base64 import urlsafe_b64decode
from datetime import UTC, datetime, timedelta

import pytest

from makegood.errors import Gone, NotAllowed, NotFound
from makegood.store import device as devices
from makegood.store.database import writing
from makegood.store.device import Device, hashed
from makegood.store.people.invites import find_invite, use_invite
from makegood.work.invite import Offer, invite, invite_first, link_of, open_links, qr_svg, revoke_link
from tests.make import make_id

NOW = datetime(2026, 11, 25, 9, 0, tzinfo=UTC)


@pytest.mark.parametrize("role", ["surveyor", "helper", "reader", None])
def test_only_a_keeper_invites(role):
    site = make_id()
    guest = Device(make_id(), "Ada", "phone", True, "", {site: role} if role else {})
    with pytest.raises(NotAllowed):
        invite(guest, Offer(site, "reader"), NOW, 14)


def test_only_a_hash_of_the_token_is_kept(app):
    with app.app_context():
        made = invite_first(NOW, 14)
        assert find_invite(made.token) is None
        assert find_invite(hashed(made.token)).expires_at == made.expires_at == "2026-12-09T09:00:00.000Z"


def test_token_has_at_least_128_bits_and_differs(app):
    with app.app_context():
        tokens = {invite_first(NOW, 14).token for _ in range(3)}
    assert len(tokens) == 3
    assert all(len(urlsafe_b64decode(token)) * 8 >= 128 for token in tokens)


@pytest.fixture
def kept(app, grounds):
    """A site's keeper inside the app, and the site."""
    with app.app_context():
        yield devices.device(grounds.keeper.device_id), grounds.site


def test_several_links_stand_open_until_used_revoked_or_run_out(kept):
    keeper, site = kept
    for role in ("helper", "reader"):
        invite(keeper, Offer(site, role), NOW, 14)
    found = open_links(keeper, site, NOW)
    assert {one.role for one in found} == {"helper", "reader"}
    assert {one.made_by for one in found} == {"Keeper Kit"}
    revoke_link(keeper, site, found[0].id, NOW)
    revoke_link(keeper, site, found[0].id, NOW)
    assert [one.id for one in open_links(keeper, site, NOW)] == [found[1].id]
    assert open_links(keeper, site, NOW + timedelta(days=15)) == []


def test_link_used_already_cannot_be_taken_back(kept):
    keeper, site = kept
    token = invite(keeper, Offer(site, "helper"), NOW, 14).token
    with writing():
        use_invite(hashed(token), keeper.id, "2026-11-25T09:00:00.000Z")
    with pytest.raises(Gone) as refused:
        revoke_link(keeper, site, hashed(token), NOW)
    assert refused.value.code == "link_used"
    with pytest.raises(NotFound):
        revoke_link(keeper, site, "guess", NOW)


def test_secret_stands_in_the_fragment():
    assert link_of("http://localhost:8377/", "abc") == "http://localhost:8377/join#abc"


def test_qr_code_is_a_drawing_without_script():
    drawn = ET.fromstring(qr_svg("http://localhost:8377/join#abc"))
    assert drawn.tag.endswith("svg")
    assert len(list(drawn.iter())) >= 3
    assert qr_svg("a") != qr_svg("b")
