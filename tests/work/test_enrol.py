"""Devices are let in once per link, known again by their session, and let go."""

from datetime import UTC, datetime, timedelta

import pytest

from makegood.errors import MakegoodError
from makegood.store import clock
from makegood.store.database import writing
from makegood.work.enrol import Newcomer, csrf_of, enrol_by_link, enrol_on_demo, leave, recognise
from makegood.work.invite import Offer, invite, invite_first
from tests.make import make_id

NOW = datetime(2026, 11, 25, 9, 0, tzinfo=UTC)
ADA = Newcomer("Ada", "old phone")


@pytest.fixture(autouse=True)
def inside(app):
    with app.app_context():
        yield


@pytest.fixture
def site():
    site_id = make_id()
    with writing():
        clock.start_site(site_id)
    return site_id


def keeper_of(site):
    return enrol_on_demo(Newcomer("Kit", "laptop"), NOW).device


def code_of(deed):
    with pytest.raises(MakegoodError) as refused:
        deed()
    return refused.value.code


def test_first_link_lets_found_sites():
    enrolled = enrol_by_link(invite_first(NOW, 14).token, ADA, NOW)
    assert enrolled.device.may_found
    assert enrolled.device.grants == {}
    assert recognise(enrolled.session, NOW, 60) == enrolled.device


def test_link_of_a_site_gives_its_role_there(site):
    enrolled = enrol_by_link(invite(keeper_of(site), Offer(site, "helper"), NOW, 14).token, ADA, NOW)
    assert enrolled.device.grants == {site: "helper"}
    assert not enrolled.device.may_found


def test_used_unknown_and_old_links_are_refused():
    token = invite_first(NOW, 14).token
    assert code_of(lambda: enrol_by_link(token, ADA, NOW + timedelta(days=15))) == "link_expired"
    enrol_by_link(token, ADA, NOW)
    assert code_of(lambda: enrol_by_link(token, ADA, NOW)) == "link_used"
    assert code_of(lambda: enrol_by_link("guess", ADA, NOW)) == "link_unknown"


def test_device_already_in_keeps_its_session_and_its_stronger_role(site):
    keeper = keeper_of(site)
    link = invite(keeper, Offer(site, "reader"), NOW, 14).token
    again = enrol_by_link(link, Newcomer("Kit", "laptop", keeper), NOW)
    assert again.session is None
    assert again.device.id == keeper.id
    assert again.device.grants == {site: "keeper"}


def test_session_slides_as_long_as_it_is_used():
    session = enrol_by_link(invite_first(NOW, 14).token, ADA, NOW).session
    assert recognise(session, NOW + timedelta(days=59), 60)
    assert recognise(session, NOW + timedelta(days=118), 60)
    assert recognise(session, NOW + timedelta(days=179), 60) is None


def test_ended_session_is_not_known_again():
    enrolled = enrol_by_link(invite_first(NOW, 14).token, ADA, NOW)
    leave(enrolled.device, NOW)
    assert recognise(enrolled.session, NOW, 60) is None


def test_tokens_are_long_and_differ():
    sessions = {enrol_by_link(invite_first(NOW, 14).token, ADA, NOW).session for _ in range(3)}
    assert len(sessions) == 3
    assert all(len(session) >= 43 for session in sessions)
    assert len({csrf_of(session) for session in sessions} | sessions) == 6
