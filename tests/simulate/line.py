"""The line between phones and server, with everything that may sit on it or happen to it."""

from dataclasses import dataclass

from tests.simulate.kernel import Chance
from tests.simulate.server import Reply

JSON = {"Content-Type": "application/json"}
HTML = {"Content-Type": "text/html"}


class NotReached(Exception):
    """No answer that is surely ours."""


@dataclass(eq=False)
class Letter:
    """One request, and what became of it."""

    phone: int
    method: str
    url: str
    headers: dict[str, str]
    body: bytes
    outcome: Reply | NotReached | None = None
    # The step before which it gets no further: a slow line, on the way there or back.
    not_before: int = 0


# How often what happens to a request, by the state of the line.
GOOD = {"arrives": 1.0}
SHAKY = {
    "arrives": 12.0, "request lost": 1.0, "answer lost": 1.5, "stalls": 1.0, "twice": 1.0, "again later": 1.0,
    "cut short": 0.7, "500": 0.4, "500 ours": 0.3, "502": 0.4, "413": 0.4, "429": 0.4, "portal": 0.6, "401": 0.4,
}  # fmt: skip
DOWN = {"request lost": 5.0, "answer lost": 1.0, "portal": 1.0, "stalls": 1.0}
LINES = {"good": GOOD, "shaky": SHAKY, "down": DOWN}

# Answers given by what stands between: a proxy in trouble, or the Wi-Fi's sign-in page.
_STRANGE = {
    "500": Reply(500, HTML, b"<h1>Internal Server Error</h1>"),
    "500 ours": Reply(500, JSON, b'{"code":"server_fault","message":"A fault.","fields":{}}'),
    "502": Reply(502, HTML, b"<h1>Bad Gateway</h1>"),
    "413": Reply(413, HTML, b"<h1>Request Entity Too Large</h1>"),
    "429": Reply(
        429, {**JSON, "Retry-After": "60"}, b'{"code":"too_many_tries","message":"Wait.","fields":{}}'
    ),
    "portal": Reply(200, HTML, b"<html>Sign in to the Wi-Fi</html>"),
    "401": Reply(401, JSON, b'{"code":"not_enrolled","message":"Not enrolled.","fields":{}}'),
}
STRANGE = frozenset(_STRANGE)


def strange(fate: str) -> Reply:
    """Return the answer of whatever stands between."""
    return _STRANGE[fate]


def cut_short(reply: Reply, chance: Chance) -> Reply | NotReached:
    """Return an answer whose body broke off: mostly the browser notices, sometimes a proxy has hidden it."""
    if chance.happens(0.5) or not reply.body:
        return NotReached("broken off")
    return Reply(reply.status, reply.headers, reply.body[: chance.randrange(len(reply.body))])


def choose_fate(line: str, chance: Chance) -> str:
    """Return what happens to the next request."""
    fate: str = chance.weighted(LINES[line])
    return fate
