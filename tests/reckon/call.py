"""Calling a sum as the command line does, without a second process."""

import io
import json
from typing import Any

import pytest

from makegood.__main__ import main


class Caller:
    """Gives a sum its input and reads what it answers."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
        self._monkeypatch = monkeypatch
        self._capsys = capsys

    def run(self, *arguments: str, given: object = None, text: str | None = None) -> tuple[int, str, str]:
        """Return exit status, standard output and standard error of `makegood reckon`."""
        fed = json.dumps(given) if text is None else text
        self._monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(fed.encode()), encoding="utf-8"))
        status = main(["reckon", *arguments])
        out, err = self._capsys.readouterr()
        return status, out, err

    def answer(self, *arguments: str, given: object = None, text: str | None = None) -> dict[str, Any]:
        """Return the answer of a sum that must succeed."""
        status, out, err = self.run(*arguments, given=given, text=text)
        assert (status, err) == (0, "")
        read: dict[str, Any] = json.loads(out, parse_constant=pytest.fail)
        return read

    def refusal(self, *arguments: str, given: object = None, text: str | None = None) -> dict[str, Any]:
        """Return the error of a sum that must refuse: status 2, one JSON on standard error, nothing else."""
        status, out, err = self.run(*arguments, given=given, text=text)
        assert (status, out) == (2, "")
        assert err.endswith("}\n")
        assert err.count("\n") == 1
        read: dict[str, Any] = json.loads(err)
        assert set(read) == {"code", "message", "fields"}
        assert len(read["message"]) > 10
        return read
