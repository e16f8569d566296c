"""Lines to a front: trusted https, plain http, from an address of the loopback range."""

import http.client
import json
import socket
import ssl

NAME = "makegood.local"


def trusting(der: bytes) -> ssl.SSLContext:
    """A client that trusts this authority and nobody else."""
    return ssl.create_default_context(cadata=der)


def line(
    port: int, trust: ssl.SSLContext | None = None, caller: str = "127.0.0.1", name: str = NAME
) -> http.client.HTTPConnection:
    """Open a line, by https if there is whom to trust; the name is checked against the certificate."""
    raw = socket.create_connection(("127.0.0.1", port), timeout=20, source_address=(caller, 0))
    found = http.client.HTTPConnection(name, port, timeout=20)
    found.sock = trust.wrap_socket(raw, server_hostname=name) if trust else raw
    return found


def ask(one: http.client.HTTPConnection, path: str, body: object = None, **headers: str):
    """Ask once, by POST with JSON if there is a body; return status, headers and content."""
    sent = None if body is None else json.dumps(body).encode()
    kind = {} if body is None else {"Content-Type": "application/json"}
    one.request("GET" if body is None else "POST", path, sent, {**kind, **headers})
    answer = one.getresponse()
    return answer.status, answer.headers, answer.read()
