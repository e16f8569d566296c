"""The door before the app: who calls comes from the front; the guide is for everybody, the app only by https.

On the machine itself `http://localhost` is as good as https to every browser, so there the app is open too.
"""

import ipaddress
from collections.abc import Iterable, Mapping
from http import HTTPStatus
from typing import TYPE_CHECKING

from makegood.lan.front import Caller
from makegood.lan.guide import Guide, Page

if TYPE_CHECKING:
    from _typeshed.wsgi import StartResponse, WSGIApplication, WSGIEnvironment

_HTTPS_NEEDED = {
    "code": "https_needed",
    "message": "Open Makegood by https. How a phone comes to trust it is told on the page /lan of this address.",
    "fields": {},
}
_POLICY = "default-src 'none'; style-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"


class Door:
    """The app as phones on the local network meet it."""

    def __init__(self, app: "WSGIApplication", guide: Guide) -> None:
        self.callers: Mapping[int, Caller] = {}
        self._app, self._guide = app, guide

    def __call__(self, environ: "WSGIEnvironment", start_response: "StartResponse") -> Iterable[bytes]:
        """Answer one request."""
        caller = self.callers.get(int(environ["REMOTE_PORT"] or 0))
        if caller is None:
            # Another program of this machine has found the server behind the front.
            return _answer(environ, start_response, Page.of_json(HTTPStatus.FORBIDDEN, _HTTPS_NEEDED))
        environ["REMOTE_ADDR"] = environ["REMOTE_HOST"] = caller.address
        environ["wsgi.url_scheme"] = "https" if caller.https else "http"
        path: str = environ["PATH_INFO"]
        if path == "/lan" or path.startswith("/lan/"):
            return _answer(environ, start_response, self._guide.page(path, environ))
        if caller.https or _at_this_machine(caller, environ):
            return self._app(environ, start_response)
        if environ["REQUEST_METHOD"] in {"GET", "HEAD"} and not path.startswith("/api/"):
            return _answer(environ, start_response, Page(HTTPStatus.FOUND, headers=[("Location", "/lan")]))
        return _answer(environ, start_response, Page.of_json(HTTPStatus.FORBIDDEN, _HTTPS_NEEDED))


def _at_this_machine(caller: Caller, environ: "WSGIEnvironment") -> bool:
    host = str(environ.get("HTTP_HOST", "")).partition(":")[0]
    return host in {"localhost", "127.0.0.1"} and ipaddress.ip_address(caller.address).is_loopback


def _answer(environ: "WSGIEnvironment", start_response: "StartResponse", page: Page) -> list[bytes]:
    headers = [
        ("Content-Type", page.kind),
        ("Content-Length", str(len(page.content))),
        ("Content-Security-Policy", _POLICY),
        ("X-Content-Type-Options", "nosniff"),
        ("Referrer-Policy", "no-referrer"),
        ("X-Robots-Tag", "noindex, nofollow"),
        ("Cache-Control", "no-store"),
        *page.headers,
    ]
    start_response(f"{page.status.value} {page.status.phrase}", headers)
    return [] if environ["REQUEST_METHOD"] == "HEAD" else [page.content]
