"""Counters of a site and the epoch of the database."""

import pytest

from makegood.store import clock
from makegood.store.database import db, writing
from tests.make import make_id


@pytest.fixture
def site(app):
    with app.app_context():
        site_id = make_id()
        with writing():
            clock.start_site(site_id)
        yield site_id


def test_new_site_starts_at_one(site):
    with writing():
        assert clock.advance(site, 3, 1, 2) == (1, 1, 1)
        assert clock.advance(site, 1, 1, 1) == (4, 2, 3)


def test_what_was_rolled_back_is_given_out_again_and_leaves_no_gap(site):
    def broken():
        with writing():
            clock.advance(site, 5, 5, 5)
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        broken()
    with writing():
        assert clock.advance(site, 1, 1, 1) == (1, 1, 1)


def test_only_started_sites_are_listed(site):
    assert clock.sites() == [site]
    assert clock.is_started(site)
    assert not clock.is_started(make_id())


def test_epoch_stays_until_renewed(site):
    first = clock.epoch()
    with writing():
        clock.ensure_epoch()
    assert clock.epoch() == first
    with writing():
        second = clock.new_epoch()
    assert clock.epoch() == second != first


def test_database_without_a_mark_gets_one(site):
    with writing():
        db.session.delete(db.session.get(clock.Meta, "epoch"))
        db.session.flush()
        clock.ensure_epoch()
    assert len(clock.epoch()) == 16
