"""The front on real sockets: bytes pass unchanged, the caller is known, broken and slow callers harm nobody else."""

import contextlib
import hashlib
import http.client
import json
import os
import socket
import ssl
import threading
import time
from datetime import UTC, datetime

import pytest
from waitress.server import create_server

from makegood.errors import BadInput
from makegood.lan import front as fronts
from makegood.lan.ca import make_authority, read_authority, server_file, server_pair
from makegood.lan.front import Front, listen, tls_of
from tests.lan.lines import NAME, ask, line, trusting

MIB = 1024 * 1024


class Echo:
    """A server that says who called, and the hash of what was sent; /slow waits until it may end, /long sends much."""

    def __init__(self):
        self.callers, self.may_end, self.ended = {}, threading.Event(), threading.Event()

    def __call__(self, environ, start_response):
        caller = self.callers[int(environ["REMOTE_PORT"])]
        body = environ["wsgi.input"].read(int(environ.get("CONTENT_LENGTH") or 0))
        if environ["PATH_INFO"] == "/slow":
            self.may_end.wait(10)
        told = {"address": caller.address, "https": caller.https, "sha256": hashlib.sha256(body).hexdigest()}
        content = os.urandom(8 * MIB) if environ["PATH_INFO"] == "/long" else json.dumps(told).encode()
        start_response("200 OK", [("Content-Length", str(len(content))), ("X-Hash", hashlib.sha256(content).hexdigest())])
        self.ended.set()
        return [content]


@pytest.fixture
def echo():
    return Echo()


@pytest.fixture
def server(echo):
    found = create_server(echo, host="127.0.0.1", port=0, threads=4)
    thread = threading.Thread(target=found.run, daemon=True)
    thread.start()
    yield found
    found.close()
    thread.join(5)


@pytest.fixture
def trust(tmp_path):
    authority = make_authority(tmp_path, NAME, datetime.now(UTC))
    server_pair(tmp_path, authority, [], datetime.now(UTC))
    return trusting(authority.der)


@pytest.fixture
def front(server, echo, trust, tmp_path):
    found = Front(listen("127.0.0.1", 0), tls_of(server_file(tmp_path)), server.effective_port)
    echo.callers = found.callers
    found.port = found._listener.getsockname()[1]
    found.start()
    yield found
    found.stop()


def until(true, within_s=5.0):
    """Wait for something to become true; return whether it did."""
    ends = time.monotonic() + within_s
    while not true() and time.monotonic() < ends:
        time.sleep(0.02)
    return true()


def test_many_requests_on_one_line_all_come_by_https_from_their_caller(front, trust):
    one = line(front.port, trust, caller="127.0.0.3")
    for n in range(5):
        status, _, content = ask(one, "/", {"n": n})
        assert status == 200
        expected = {"address": "127.0.0.3", "https": True, "sha256": hashlib.sha256(json.dumps({"n": n}).encode()).hexdigest()}
        assert json.loads(content) == expected
    assert len(front.callers) == 1
    one.close()
    assert until(lambda: not front.callers)


def test_plain_http_comes_through_the_same_port_and_is_told_as_such(front):
    _, _, content = ask(line(front.port), "/")
    assert json.loads(content)["https"] is False


def test_eight_mebibytes_each_way_arrive_unchanged(front, trust):
    one = line(front.port, trust)
    sent = os.urandom(8 * MIB)
    one.request("POST", "/", sent)
    assert json.loads(one.getresponse().read())["sha256"] == hashlib.sha256(sent).hexdigest()
    _, headers, content = ask(one, "/long")
    assert len(content) == 8 * MIB
    assert headers["X-Hash"] == hashlib.sha256(content).hexdigest()


def test_who_does_not_trust_the_authority_gets_no_further(front):
    with pytest.raises(ssl.SSLCertVerificationError):
        line(front.port, ssl.create_default_context())


def test_certificate_is_not_good_for_another_name(front, trust):
    with pytest.raises(ssl.SSLCertVerificationError, match="Hostname mismatch"):
        line(front.port, trust, name="farm.local")


def test_who_says_nothing_is_dropped_and_nobody_waits_for_them(front, trust, monkeypatch):
    monkeypatch.setattr(fronts, "_PATIENCE_S", 0.4)
    silent = [socket.create_connection(("127.0.0.1", front.port)) for _ in range(5)]
    half = socket.create_connection(("127.0.0.1", front.port))
    half.sendall(b"\x16\x03\x01")
    assert ask(line(front.port, trust), "/")[0] == 200
    for one in (*silent, half):
        one.settimeout(5)
        assert one.recv(1) == b""
        one.close()
    assert until(lambda: not front._open)


@pytest.mark.parametrize(
    "noise", [b"\x16" + b"noise" * 40, b"\x16\x03\x01\xff\xff" + bytes(300), b"\x00\x00", b"GARBAGE\r\n\r\n"]
)
def test_noise_breaks_only_its_own_line(front, trust, noise):
    broken = socket.create_connection(("127.0.0.1", front.port))
    broken.settimeout(5)
    broken.sendall(noise)
    broken.shutdown(socket.SHUT_WR)
    answered = b""
    while chunk := broken.recv(4096):
        answered += chunk
    broken.close()
    assert b"200 OK" not in answered
    assert ask(line(front.port, trust), "/")[0] == 200


def test_caller_who_leaves_amid_an_answer_is_forgotten_once_the_server_has_ended(front, trust, echo):
    one = line(front.port, trust, caller="127.0.0.4")
    one.request("GET", "/slow")
    assert until(lambda: front.callers)
    one.close()
    time.sleep(0.2)
    # The server is still at it: were the caller forgotten now, the end of the work would count as somebody else's.
    assert [caller.address for caller in front.callers.values()] == ["127.0.0.4"]
    echo.may_end.set()
    assert echo.ended.wait(5)
    assert until(lambda: not front.callers)


def test_one_caller_cannot_hold_all_lines(front, trust):
    held = [socket.create_connection(("127.0.0.1", front.port)) for _ in range(fronts.MOST_EACH)]
    assert until(lambda: front._open["127.0.0.1"] == fronts.MOST_EACH)
    over = socket.create_connection(("127.0.0.1", front.port))
    over.settimeout(5)
    with contextlib.suppress(ConnectionResetError):
        assert over.recv(1) == b""
    assert ask(line(front.port, trust, caller="127.0.0.2"), "/")[0] == 200
    for one in (*held, over):
        one.close()


def test_new_certificate_is_shown_to_who_comes_next(front, trust, tmp_path):
    def shown():
        one = line(front.port, trust)
        found = one.sock.getpeercert()["subjectAltName"]
        one.close()
        return found

    assert shown() == (("DNS", NAME),)
    server_pair(tmp_path, read_authority(tmp_path, datetime.now(UTC)), ["192.168.4.7"], datetime.now(UTC))
    front.tls.load_cert_chain(server_file(tmp_path))
    assert shown() == (("DNS", NAME), ("IP Address", "192.168.4.7"))


def test_stopping_cuts_every_line_and_frees_the_port(server, trust, tmp_path):
    front = Front(listen("127.0.0.1", 0), tls_of(server_file(tmp_path)), server.effective_port)
    port = front._listener.getsockname()[1]
    front.start()
    silent = socket.create_connection(("127.0.0.1", port))
    silent.settimeout(5)
    assert until(lambda: front._open)
    front.stop()
    assert silent.recv(1) == b""
    with pytest.raises(ConnectionRefusedError):
        socket.create_connection(("127.0.0.1", port))
    listen("127.0.0.1", port).close()


def test_server_that_is_gone_ends_the_line(front, trust, server):
    server.close()
    with pytest.raises((http.client.RemoteDisconnected, ConnectionError, ssl.SSLError)):
        ask(line(front.port, trust), "/")


def test_port_in_use_is_a_sentence():
    with socket.create_server(("127.0.0.1", 0)) as taken, pytest.raises(BadInput, match="Choose another with --port") as refused:
        listen("127.0.0.1", taken.getsockname()[1])
    assert refused.value.code == "port_refused"
