"""Links that let one device in."""

import xml.etree.ElementTree as ET
from datetime import UTC, datetime

import pytest

from makegood.errors import NotAllowed
from makegood.store.device import Device, find_invite, hashed
from makegood.work.invite import invite, invite_first, link_of, qr_svg
from tests.make import make_id

NOW = datetime(2026, 11, 25, 9, 0, tzinfo=UTC)


@pytest.mark.parametrize("role", ["surveyor", "helper", "reader", None])
def test_only_a_keeper_invites(role):
    site = make_id()
    guest = Device(make_id(), "Ada", "phone", True, "", {site: role} if role else {})
    with pytest.raises(NotAllowed):
        invite(guest, site, "reader", NOW, 14)


def test_only_a_hash_of_the_token_is_kept(app):
    with app.app_context():
        made = invite_first(NOW, 14)
        assert find_invite(made.token) is None
        assert find_invite(hashed(made.token)).expires_at == made.expires_at == "2026-12-09T09:00:00.000Z"


def test_secret_stands_in_the_fragment():
    assert link_of("http://localhost:8377/", "abc") == "http://localhost:8377/join#abc"


def test_qr_code_is_a_drawing_without_script():
    drawn = ET.fromstring(qr_svg("http://localhost:8377/join#abc"))
    assert drawn.tag.endswith("svg")
    assert len(list(drawn.iter())) >= 3
    assert qr_svg("a") != qr_svg("b")
