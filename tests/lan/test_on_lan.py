"""`makegood serve --lan` as a process of its own: from the certificate on plain http to a change sent and fetched by https."""

import json
import os
import re
import signal
import socket
import stat
import subprocess
import sys
import threading
import time
from contextlib import contextmanager
from datetime import UTC, datetime

import pytest

from makegood.__main__ import main
from makegood.errors import BadInput, Unavailable
from makegood.lan import on_lan
from makegood.lan.ca import make_authority, name_of, read_authority, server_file, server_pair
from makegood.lan.front import tls_of
from makegood.lan.guide import Guide, in_lines
from makegood.lan.on_lan import Keeper, Named
from tests.conftest import copied
from tests.lan.lines import ask, line, trusting
from tests.make import make_id, make_op
from tests.postgres import free_port

UP_WITHIN_S = 60


class Farm:
    """A running server, what it printed, and a client that trusts the certificate fetched from it."""

    def __init__(self, port, log, data):
        self.port, self._log, self.data = port, log, data
        status, headers, der = ask(line(port), "/lan/makegood-ca.crt")
        assert (status, headers["Content-Type"]) == (200, "application/x-x509-ca-cert")
        self.trust = trusting(der)
        found = re.search(r"https://(makegood[\w-]*\.local):\d+/join#(\S+)", self.said)
        assert found, self.said
        self.name, self.token = found.groups()

    @property
    def said(self):
        return self._log.read_text()

    def line(self, caller="127.0.0.1"):
        return line(self.port, self.trust, caller, self.name)


@pytest.fixture(scope="module")
def found(empty_data, tmp_path_factory):
    """One farm for the tests that only come and go: two wrong tries a minute, and told of a proxy that is not there."""
    folder = tmp_path_factory.mktemp("farm")
    copied(empty_data, folder)
    with running(folder, MAKEGOOD_ENROLS_PER_MINUTE="2", MAKEGOOD_PROXIES="1") as farm:
        yield farm


@contextmanager
def running(folder, **environment):
    """Run the real command on a folder until it is left; it must end well and without a stack trace."""
    port, log = free_port(), folder / "log"
    command = [sys.executable, "-m", "makegood", "serve", "--lan", "--data", folder / "data", "--host", "127.0.0.1", "--port"]
    with log.open("wb") as out:
        told = {**os.environ, **environment}
        process = subprocess.Popen([*command, str(port)], stdout=out, stderr=subprocess.STDOUT, env=told)
    try:
        ends = time.monotonic() + UP_WITHIN_S
        while "running on" not in log.read_text() and process.poll() is None and time.monotonic() < ends:
            time.sleep(0.1)
        assert "running on" in log.read_text(), log.read_text()
        yield Farm(port, log, folder / "data")
    finally:
        process.send_signal(signal.SIGINT)
        code = process.wait(20)
    assert code == 0
    assert "Traceback" not in log.read_text(), log.read_text()


def let_in(one, token, person="Ada"):
    """Enrol by a link; return the status, the headers and the answer."""
    status, headers, content = ask(one, "/api/enrol", {"token": token, "person": person, "device_name": "phone"})
    return status, headers, json.loads(content)


def test_change_travels_by_https_and_the_cookie_is_bound_to_it(found):
    one = found.line()
    status, headers, me = let_in(one, found.token)
    assert status == 201
    cookie = headers["Set-Cookie"].partition(";")[0]
    assert cookie.startswith("__Host-makegood=")
    assert "Secure" in headers["Set-Cookie"]
    assert "Strict-Transport-Security" not in headers
    session = {"Cookie": cookie, "X-CSRF": me["csrf"]}
    site = make_id()
    ops = [make_op("site", site), make_op("structure", site)]
    _, _, content = ask(one, "/api/sync/push", {"v": 1, "epoch": me["epoch"], "ops": ops}, **session)
    assert [row["st"] for row in json.loads(content)["results"]] == ["applied", "applied"]
    body = {"v": 1, "epoch": me["epoch"], "since": {}, "limit": 500}
    _, _, content = ask(found.line(caller="127.0.0.5"), "/api/sync/pull", body, **session)
    assert {row["type"] for row in json.loads(content)["rows"]} == {"site", "structure"}
    # By plain http the app is not there at all, session or not.
    assert ask(line(found.port, caller="127.0.0.5"), "/api/me", **session)[0] == 403


def test_each_phone_has_its_own_limit_and_what_it_says_of_proxies_counts_for_nothing(found):
    def guess(caller, told_for):
        body = {"token": "guess", "person": "Ada", "device_name": "phone"}
        return ask(found.line(caller), "/api/enrol", body, **{"X-Forwarded-For": told_for})[0]

    assert [guess("127.0.0.6", f"203.0.113.{n}") for n in range(3)] == [404, 404, 429]
    assert guess("127.0.0.7", "203.0.113.0") == 404


def test_terminal_shows_the_fingerprint_of_the_key_in_the_folder(found):
    kept = read_authority(found.data, datetime.now(UTC))
    assert [line for line in in_lines(kept.fingerprint) if f"  {line}\n" not in found.said] == []
    assert stat.S_IMODE((found.data / "lan" / "authority.pem").stat().st_mode) == 0o600
    assert f"http://127.0.0.1:{found.port}/lan" in found.said


def test_port_in_use_is_a_sentence_and_nothing_is_made(tmp_path, capsys):
    with socket.create_server(("127.0.0.1", 0)) as taken:
        given = ["serve", "--lan", "--host", "127.0.0.1", "--port", str(taken.getsockname()[1]), "--data", str(tmp_path / "new")]
        assert main(given) == 2
    assert "Choose another with --port" in capsys.readouterr().err
    assert not (tmp_path / "new").exists()


def test_without_a_network_there_is_a_sentence_and_nothing_is_made(tmp_path, capsys, monkeypatch):
    def nowhere(_):
        raise BadInput("no_network", "This machine is on no network that phones can share with it.")

    monkeypatch.setattr(on_lan, "reachable", nowhere)
    assert main(["serve", "--lan", "--data", str(tmp_path / "new")]) == 2
    assert "on no network" in capsys.readouterr().err
    assert not (tmp_path / "new").exists()


@pytest.mark.parametrize("library", ["cryptography", "zeroconf"])
def test_without_the_extra_there_is_a_sentence(tmp_path, capsys, monkeypatch, library):
    monkeypatch.setitem(sys.modules, library, None)
    assert main(["serve", "--lan", "--data", str(tmp_path / "new")]) == 2
    assert "pip install 'makegood[lan]'" in capsys.readouterr().err


class SilentCrier:
    """Stands for the network's names: who holds which, and what was told."""

    told, held, closed = [], {}, 0

    def __init__(self, addresses):
        self.addresses = addresses

    def holders(self, name):
        return self.held.get(name, [])

    def free_name(self):
        return "makegood-2.local"

    def tell(self, name, port):
        self.told.append((name, port, self.addresses))

    def close(self):
        type(self).closed += 1


@pytest.fixture
def crier(monkeypatch):
    class Fresh(SilentCrier):
        told, held, closed = [], {}, 0

    monkeypatch.setattr(on_lan, "Crier", Fresh)
    return Fresh


def start(folder):
    return on_lan._tell_name(on_lan._authority(folder, ["192.168.4.7"]), ["192.168.4.7"], 8377)


def test_name_is_chosen_once_and_kept(crier, tmp_path):
    first = start(tmp_path)
    crier.free_name = lambda _: "makegood.local"
    assert start(tmp_path).authority.der == first.authority.der
    assert crier.told == [("makegood-2.local", 8377, ["192.168.4.7"])] * 2


def test_name_that_another_machine_took_meanwhile_is_told_and_the_authority_stays(crier, tmp_path):
    first = start(tmp_path)
    crier.held = {"makegood-2.local": ["192.168.4.9"]}
    closed = crier.closed
    again = start(tmp_path)
    assert again.authority.der == first.authority.der
    assert (again.crier, crier.closed - closed) == (None, 1)
    assert again.trouble == "makegood-2.local is another machine's name here (192.168.4.9)"


def test_without_multicast_the_first_name_is_taken_and_the_reason_told(monkeypatch, tmp_path):
    def mute(_):
        raise Unavailable("no_multicast", "names cannot be told on this network")

    monkeypatch.setattr(on_lan, "Crier", mute)
    found = start(tmp_path)
    assert (name_of(found.authority), found.crier, found.trouble) == (
        "makegood.local", None, "names cannot be told on this network",
    )  # fmt: skip


@pytest.fixture
def keeper(crier, tmp_path):
    authority = make_authority(tmp_path, "makegood.local", datetime.now(UTC))
    server_pair(tmp_path, authority, ["192.168.4.7"], datetime.now(UTC))
    guide = Guide(authority.der, authority.fingerprint, "makegood.local", 8377, "2036-11-25", ["192.168.4.7"])
    named = Named(authority, crier(["192.168.4.7"]), "")
    return Keeper(tmp_path, "0.0.0.0", named, guide, tls_of(server_file(tmp_path)))


def test_same_network_changes_nothing(keeper, crier, tmp_path):
    before = server_file(tmp_path).read_bytes()
    keeper.look(lambda: ["192.168.4.7"])
    assert server_file(tmp_path).read_bytes() == before
    assert (crier.told, crier.closed) == ([], 0)


def test_other_address_gets_a_certificate_a_name_and_a_place_in_the_guide(keeper, crier, tmp_path, capsys):
    keeper.look(lambda: ["10.0.0.3"])
    assert keeper.guide.addresses == ["10.0.0.3"]
    assert crier.told == [("makegood.local", 8377, ["10.0.0.3"])]
    assert crier.closed == 1
    assert "http://10.0.0.3:8377/lan" in capsys.readouterr().out
    _, is_new = server_pair(tmp_path, keeper.named.authority, ["10.0.0.3"], datetime.now(UTC))
    assert not is_new


def test_name_taken_on_the_new_network_is_no_longer_offered(keeper, crier):
    crier.held = {"makegood.local": ["10.0.0.9"]}
    keeper.look(lambda: ["10.0.0.3"])
    assert keeper.guide.origin == "https://10.0.0.3:8377"
    crier.held = {}
    keeper.look(lambda: ["10.0.0.4"])
    assert keeper.guide.origin == "https://makegood.local:8377"


def test_lost_network_is_logged_once_and_the_name_told_again_when_it_is_back(keeper, crier, monkeypatch, caplog):
    stopped, there = threading.Event(), iter([False, False, True, None])

    def reachable(_):
        now = next(there)
        if now is None:
            stopped.set()
        if now is False:
            raise BadInput("no_network", "This machine is on no network.")
        return ["192.168.4.7"]

    monkeypatch.setattr(on_lan, "reachable", reachable)
    keeper.keep(stopped, every_s=0.0)
    assert caplog.text.count("on no network") == 1
    assert crier.told == [("makegood.local", 8377, ["192.168.4.7"])]


def test_following_goes_on_after_trouble(keeper, monkeypatch, caplog):
    stopped, looks = threading.Event(), []

    def look(_):
        looks.append(1)
        if len(looks) == 1:
            raise BadInput("no_network", "This machine is on no network.")
        if len(looks) == 2:
            raise ZeroDivisionError
        stopped.set()

    monkeypatch.setattr(keeper, "look", look)
    keeper.keep(stopped, every_s=0.0)
    assert len(looks) == 3
    assert "on no network. It is tried again" in caplog.text
