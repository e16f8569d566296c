"""Waiting for news: at once when there is some, woken by a push, no transaction held, seats limited."""

import threading
import time

import pytest

from makegood.store.database import db, writing
from makegood.store.device import device as device_by_id
from makegood.work import wait_for_news as waiting
from tests.make import make_guest


@pytest.fixture
def helper(app, grounds):
    """A helper's phone that has everything."""
    return make_guest(app, grounds.keeper, grounds.site, "helper", "Hal").pull()


def news(app, phone, longest_s=0.0):
    with app.app_context():
        return waiting.wait_for_news(device_by_id(phone.device_id), phone.since, longest_s)


def test_no_news_is_said_only_after_the_wait(app, helper):
    began = time.monotonic()
    assert news(app, helper, 0.3) is False
    assert time.monotonic() - began >= 0.3


def test_news_at_once_where_a_pull_would_bring_something(app, grounds, helper):
    grounds.add("defect")
    assert news(app, helper, 60.0) is True
    assert news(app, helper.pull(), 0.0) is False


def test_rows_the_role_does_not_see_are_no_news(app, grounds, helper):
    grounds.add("work_day")
    assert news(app, helper) is False
    assert news(app, grounds.keeper) is True


def test_a_site_given_or_taken_is_news(app, helper):
    assert news(app, helper) is False
    helper.since["00000000-0000-4000-8000-00000000ffff"] = 3
    assert news(app, helper) is True
    helper.since = {}
    assert news(app, helper) is True


def test_who_waits_is_woken_by_a_push_and_bars_no_writer(app, grounds, helper):
    grounds.keeper.pull()
    answers = []

    def wait():
        began = time.monotonic()
        answers.append((news(app, helper, 30.0), time.monotonic() - began))

    waiter = threading.Thread(target=wait)
    waiter.start()
    time.sleep(0.3)
    with app.app_context(), writing():
        pass  # a transaction left open by the waiter would hold this up on PostgreSQL's locks, or SQLite's file
    grounds.add("defect")
    waiter.join(10)
    ((found, took_s),) = answers
    assert found is True
    assert took_s < 5


def test_too_many_waiters_are_answered_at_once(app, helper, monkeypatch):
    monkeypatch.setattr(waiting, "_seats", threading.BoundedSemaphore(1))
    with waiting._seat() as first:
        assert first
        began = time.monotonic()
        assert news(app, helper, 30.0) is False
        assert time.monotonic() - began < 5
    with waiting._seat() as again:
        assert again


def test_a_server_that_stops_answers_who_waits(app, helper, monkeypatch):
    monkeypatch.setattr(waiting, "_closing", threading.Event())
    threading.Timer(0.3, waiting.send_waiters_home).start()
    began = time.monotonic()
    assert news(app, helper, 30.0) is False
    assert time.monotonic() - began < 5


def test_no_transaction_is_left_open(app, helper):
    with app.app_context():
        waiting.wait_for_news(device_by_id(helper.device_id), helper.since, 0.0)
        assert not db.session().in_transaction()
