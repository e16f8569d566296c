"""What a running server does by itself."""

import threading

import pytest

from makegood import serving


def test_tidying_is_done_at_the_start_and_again_and_survives_trouble(app, monkeypatch, caplog):
    stopped, calls = threading.Event(), []

    def tidy(now):
        calls.append(now)
        if len(calls) == 1:
            raise ZeroDivisionError
        if len(calls) == 3:
            stopped.set()

    monkeypatch.setattr(serving, "tidy", tidy)
    serving.keep_tidy(app, stopped, every_s=0.0)
    assert len(calls) == 3
    assert calls == sorted(calls)
    assert "tried again" in caplog.text


@pytest.mark.parametrize(
    ("host", "address"),
    [("127.0.0.1", "http://localhost:80"), ("::1", "http://localhost:80"), ("walls.example", "http://walls.example:80")],
)
def test_address_is_one_a_person_can_type(host, address):
    assert serving.origin_of(host, 80) == address
