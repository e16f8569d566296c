"""The fixture all tests of sums share."""

import pytest

from tests.reckon.call import Caller


@pytest.fixture
def reckon(monkeypatch, capsys) -> Caller:
    """Calls `makegood reckon`."""
    return Caller(monkeypatch, capsys)
