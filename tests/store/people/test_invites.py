"""Links as they are kept: open until used, revoked or run out."""

from sqlalchemy import text

from makegood.store.database import db, writing
from makegood.store.device import hashed
from makegood.store.people import invites
from tests.make import NOW, make_id

LATER = "2026-12-09T09:00:00.000Z"


def add(site, token, **how):
    link = invites.Link(hashed(token), site, "helper", False, NOW, how.pop("expires_at", LATER), **how)
    with writing():
        invites.add_invite(link)
    return link


def test_link_is_used_once(site):
    link = add(site, "token")
    with writing():
        assert invites.use_invite(link.token_hash, make_id(), NOW)
        assert not invites.use_invite(link.token_hash, make_id(), NOW)
        assert not invites.revoke_invite(link.token_hash, NOW)
    assert invites.find_invite(link.token_hash).used_at == NOW


def test_revoked_link_cannot_be_used(site):
    link = add(site, "token")
    with writing():
        assert invites.revoke_invite(link.token_hash, NOW)
        assert not invites.use_invite(link.token_hash, make_id(), NOW)
    assert invites.find_invite(link.token_hash).revoked_at == NOW


def test_open_links_are_those_that_could_still_be_used(site):
    keeper = make_id()
    still = add(site, "open", handout_id=make_id(), made_by=keeper)
    add(site, "old", expires_at="2026-11-25T08:59:59.999Z")
    add(None, "first phone")
    used, revoked = add(site, "used"), add(site, "revoked")
    with writing():
        invites.use_invite(used.token_hash, keeper, NOW)
        invites.revoke_invite(revoked.token_hash, NOW)
    assert invites.open_invites(site, NOW) == [still]


def test_links_of_one_device_are_revoked_together(site):
    kit, kim = make_id(), make_id()
    mine = [add(site, token, made_by=kit) for token in ("a", "b")]
    other = add(site, "c", made_by=kim)
    with writing():
        invites.revoke_invites_of(site, kit, NOW)
    assert invites.open_invites(site, NOW) == [other]
    assert all(invites.find_invite(one.token_hash).revoked_at == NOW for one in mine)


def test_no_token_lies_in_the_database(site):
    add(site, "a secret that is long")
    dump = " ".join(str(row) for row in db.session.execute(text("SELECT * FROM invite")))
    assert site in dump
    assert "a secret" not in dump
