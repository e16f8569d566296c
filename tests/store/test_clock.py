"""Counters of a site and the epoch of the database."""

import pytest

from makegood.store import clock
from makegood.store.database import db, writing
from tests.make import make_id


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


@pytest.mark.parametrize("now", [0.0, 1_800_000_000.0])
def test_new_epoch_leaps_over_every_revision_that_may_have_been_given_out_since_the_backup(site, monkeypatch, now):
    monkeypatch.setattr("time.time", lambda: now)
    with writing():
        assert clock.advance(site, 5, 1, 1) == (1, 1, 1)
        clock.new_epoch()
        rev, defect, _ = clock.advance(site, 1, 1, 1)
    assert 1_000_000_000 < rev < 2**53 / 4
    assert defect == 2


def test_one_backup_restored_twice_leaps_to_places_apart(site, monkeypatch):
    def restored(at):
        monkeypatch.setattr("time.time", lambda: at)
        try:
            with writing():
                clock.new_epoch()
                raise ZeroDivisionError(clock.advance(site, 1, 0, 0)[0])
        except ZeroDivisionError as back:
            return int(str(back))

    assert restored(1_800_000_060.0) - restored(1_800_000_000.0) > 1_000_000
