"""Who is asking, and may they: session cookie, X-CSRF, fetch metadata, strict JSON, turnstile."""

import hmac
import ipaddress
import json
import math
import time
from datetime import UTC, datetime
from typing import Any, NoReturn

from flask import Response, current_app, g, request
from flask_smorest import Blueprint
from flask_smorest.arguments import FlaskParser

from makegood.errors import BadInput, NotAllowed, NotEnrolled, TooManyTries, WrongKind
from makegood.settings import Settings
from makegood.store.device import Device
from makegood.work.enrol import csrf_of, recognise

# The versions of sync that this server speaks.
PROTOCOL = {"min": 1, "max": 1}
_WRITES = ("POST", "PUT", "PATCH", "DELETE")
# Photo bytes have a content type of their own, and what is taken away needs no body; no form of another page sends these.
_OTHER_TYPES = {"PUT", "PATCH", "DELETE"}
# A table may be posted as what it is: no form of another page can send text/csv either.
_TABLES, _TABLE_TYPE = "/api/weather/", "text/csv"
_OPEN = {"/api/enrol", "/api/links"}
_PACED = {"/api/sync/push", "/api/sync/pull"}
_MOST_COUNTED = 10_000


def settings() -> Settings:
    """Return the settings of the running app."""
    found: Settings = current_app.config["SETTINGS"]
    return found


def now() -> datetime:
    """Return the present moment; tests put another clock into the config."""
    clock = current_app.config.get("CLOCK")
    found: datetime = clock() if clock else datetime.now(UTC)
    return found


def _cookie_name() -> str:
    # The __Host- prefix binds the cookie to this very host, but browsers take it over https only.
    return "__Host-makegood" if request.is_secure else "makegood"


def session_token() -> str | None:
    """Return the session the request carries, if any."""
    return request.cookies.get(_cookie_name())


def keep_session(response: Response, session: str) -> None:
    """Have the browser keep a session for as long as it may stay unused."""
    lasts_s = settings().session_days * 86_400
    response.set_cookie(
        _cookie_name(),
        session,
        max_age=lasts_s,
        secure=request.is_secure,
        httponly=True,
        samesite="Lax",
        path="/",
    )


def forget_session(response: Response) -> None:
    """Have the browser drop its session."""
    response.delete_cookie(_cookie_name(), path="/", secure=request.is_secure, httponly=True, samesite="Lax")


def known_device() -> Device | None:
    """Return the device of this request, or None for a stranger."""
    if "device" not in g:
        session = session_token()
        g.device = recognise(session, now(), settings().session_days) if session else None
    found: Device | None = g.device
    return found


def current_device() -> Device:
    """Return the device of this request; raises NotEnrolled."""
    device = known_device()
    if device is None:
        raise NotEnrolled(
            "not_enrolled", "This device is not enrolled here, or no longer. Open an enrolment link."
        )
    return device


def check_request() -> None:
    """Refuse a write that another site's page may have caused; runs before every request."""
    if request.method not in _WRITES or not request.path.startswith("/api/") or request.routing_exception:
        return
    if request.headers.get("Sec-Fetch-Site") == "cross-site":
        raise NotAllowed("cross_site", "This request came from another website and was not done.")
    table = request.path.startswith(_TABLES) and request.mimetype == _TABLE_TYPE
    if request.method not in _OTHER_TYPES and not request.is_json and not table:
        raise WrongKind("json_expected", "Send JSON, with Content-Type: application/json.")
    if request.path not in _OPEN:
        current_device()
        if not hmac.compare_digest(
            request.headers.get("X-CSRF", "").encode(), csrf_of(session_token() or "").encode()
        ):
            raise NotAllowed(
                "csrf_wrong", "This page has lost touch with its session. Load it again; nothing is lost."
            )
    if request.path in _PACED:
        current_app.extensions["makegood_sync_pace"].enter(f"{current_device().id} {request.path}")


def caller() -> str:
    """Return whom tries are counted under: the address; of IPv6 the network, in which a caller has all the rest."""
    text = request.remote_addr or ""
    try:
        address = ipaddress.ip_address(text)
    except ValueError:
        return text
    return str(ipaddress.ip_network((address, 64), strict=False)) if address.version == 6 else text


def slide_session(response: Response) -> Response:
    """Renew the cookie along with the session it names."""
    session = session_token()
    if session and g.get("device") and not response.headers.get("Set-Cookie") and request.path == "/api/me":
        keep_session(response, session)
    return response


class Turnstile:
    """So many tries a minute for each caller; kept in memory, so each server process counts for itself."""

    def __init__(self, per_minute: int) -> None:
        self._per_minute = per_minute
        self._left: dict[str, tuple[float, float]] = {}

    def enter(self, who: str) -> None:
        """Count one try; raises TooManyTries."""
        at = time.monotonic()
        left, last = self._left.pop(who, (float(self._per_minute), at))
        left = min(float(self._per_minute), left + (at - last) * self._per_minute / 60)
        self._left[who] = (left - (left >= 1), at)
        while len(self._left) > _MOST_COUNTED:
            self._left.pop(next(iter(self._left)))  # who was here longest ago has most of it back
        if left < 1:
            wait_s = math.ceil((1 - left) * 60 / self._per_minute)
            raise TooManyTries(
                "too_many_tries",
                "Too many tries from here. Wait a minute and try again.",
                {"wait_s": str(wait_s)},
            )

    def give_back(self, who: str) -> None:
        """Not count the last try after all: it was no guess."""
        left, last = self._left.get(who, (float(self._per_minute), time.monotonic()))
        self._left[who] = (left + 1, last)


def _no_constant(name: str) -> NoReturn:
    raise ValueError(f"{name} is not JSON")


def read_json() -> Any:
    """Return the request's JSON: no NaN, no Infinity, not nested beyond reason."""
    try:
        return json.loads(request.get_data(cache=True), parse_constant=_no_constant)
    except (ValueError, RecursionError) as fault:
        raise BadInput("bad_json", "The body is not JSON that can be read.", {"body": "not JSON"}) from fault


class _StrictParser(FlaskParser):
    def _raw_load_json(self, _request: object) -> Any:
        return read_json()


class StrictBlueprint(Blueprint):
    """A blueprint whose bodies are strict JSON."""

    ARGUMENTS_PARSER = _StrictParser()
