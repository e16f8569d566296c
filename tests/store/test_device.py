"""Devices, grants and links as they are kept."""

import pytest
from sqlalchemy import text

from makegood.domain.roles import Part
from makegood.store import clock, device
from makegood.store.database import db, writing
from tests.make import NOW, make_id


@pytest.fixture
def phone(app):
    with app.app_context():
        new = device.Device(make_id(), "Ada", "old phone", False, NOW, {})
        with writing():
            device.add_device(new, device.hashed("secret"))
        yield new


def test_device_is_known_by_the_hash_of_its_session(phone):
    assert device.device_of_session(device.hashed("secret")) == phone
    assert device.device_of_session("secret") is None


def test_ended_session_is_not_known_any_more(phone):
    with writing():
        device.end_session(phone.id, NOW)
    assert device.device_of_session(device.hashed("secret")) is None
    assert device.device(phone.id) == phone


def test_grant_replaces_the_role_held_before(phone):
    site = make_id()
    with writing():
        clock.start_site(site)
        device.grant(phone.id, site, "reader")
        device.grant(phone.id, site, "keeper")
    assert device.device(phone.id).grants == {site: "keeper"}


def test_handout_makes_a_limited_helper_and_a_role_on_the_whole_site_ends_that(phone):
    site, first, second = make_id(), make_id(), make_id()
    with writing():
        clock.start_site(site)
        device.grant(phone.id, site, "reader")
        device.grant_handout(phone.id, site, first, 3)
        device.grant_handout(phone.id, site, second, 7)
    stands = device.device(phone.id)
    assert (stands.grants, stands.limited) == ({site: "helper"}, {site: 7})
    assert stands.part(site) == Part("helper", limited=True)
    assert device.handouts_of(site) == {phone.id: sorted([first, second])}
    with writing():
        device.grant(phone.id, site, "helper")
    stands = device.device(phone.id)
    assert (stands.part(site), stands.limited) == (Part("helper"), {})
    assert device.handouts_of(site) == {}


def test_part_taken_away_is_gone_with_its_handouts(phone):
    site = make_id()
    with writing():
        clock.start_site(site)
        device.grant_handout(phone.id, site, make_id(), 0)
        assert device.revoke(phone.id, site)
        assert not device.revoke(phone.id, site)
    assert device.device(phone.id).part(site) is None
    assert device.handouts_of(site) == {}


def test_devices_of_a_site_are_those_with_a_part_who_have_not_left(phone):
    site = make_id()
    with writing():
        clock.start_site(site)
        device.grant(phone.id, site, "reader")
    (place,) = device.devices_of(site)
    assert (place.device_id, place.person, place.role, place.limited) == (phone.id, "Ada", "reader", False)
    with writing():
        device.end_session(phone.id, NOW)
    assert device.devices_of(site) == []


def test_neither_session_nor_token_lies_in_the_database(phone):
    dump = " ".join(str(row) for row in db.session.execute(text("SELECT * FROM device")))
    assert "old phone" in dump
    assert "'secret'" not in dump


def test_persons_are_told_by_device(phone):
    assert device.persons({phone.id, make_id()}) == {phone.id: "Ada"}
    assert device.persons(set()) == {}


def test_keeper_is_who_may_found_or_keeps_a_site_and_has_not_left(phone):
    assert not device.any_keeper()
    site = make_id()
    with writing():
        clock.start_site(site)
        device.grant(phone.id, site, "helper")
    assert not device.any_keeper()
    with writing():
        device.grant(phone.id, site, "keeper")
    assert device.any_keeper()
    with writing():
        device.end_session(phone.id, NOW)
    assert not device.any_keeper()
