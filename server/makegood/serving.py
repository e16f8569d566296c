"""Run the server: database brought up to date, the first link printed, waitress started."""

import gc
import logging
import signal
import socket
import sys
import threading
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import segno
from flask import Flask
from waitress.server import WSGIServer, create_server

from makegood.app import bring_up_to_date, create_app
from makegood.errors import BadInput
from makegood.settings import Settings, from_environment
from makegood.store import device as devices
from makegood.work.invite import invite_first, link_of
from makegood.work.keeping.tidy import tidy
from makegood.work.wait_for_news import MOST_WAITERS, send_waiters_home

if TYPE_CHECKING:
    from _typeshed.wsgi import WSGIApplication

# Some of them wait for news, see work/wait_for_news.py.
_THREADS = 8 + MOST_WAITERS
# The body of a request comes in parts of this size and stays in memory: a chunk of a photo has 1 MiB.
_RECEIVED_AT_ONCE_BYTES, _BODY_IN_MEMORY_BYTES = 256 * 1024, 2 * 1024 * 1024
_TIDY_EVERY_S = 24 * 3600.0
log = logging.getLogger(__name__)


def say(words: str) -> None:
    """Print one line at once, so that progress shows while it happens."""
    sys.stdout.write(f"{words}\n")
    sys.stdout.flush()


def open_app(settings: Settings) -> Flask:
    """Return the app on its data folder, made and migrated as needed."""
    try:
        settings.data.mkdir(parents=True, exist_ok=True)
    except OSError as why:
        raise BadInput(
            "folder_refused",
            f"The folder {settings.data} cannot be used ({why.strerror}). Choose another with --data.",
        ) from why
    say("Opening the database ...")
    app = create_app(settings)
    bring_up_to_date(app)
    return app


def listen(app: "WSGIApplication", host: str, port: int, *, strangers: bool) -> WSGIServer:
    """Open the port; one in use is a sentence, not a stack trace. What `strangers` say of a proxy is not let through."""
    try:
        return create_server(
            app,
            host=host,
            port=port,
            threads=_THREADS,
            ident=None,
            clear_untrusted_proxy_headers=strangers,
            recv_bytes=_RECEIVED_AT_ONCE_BYTES,
            inbuf_overflow=_BODY_IN_MEMORY_BYTES,
        )
    except OSError as why:
        raise BadInput(
            "port_refused", f"Port {port} cannot be used ({why.strerror}). Choose another with --port."
        ) from why


def run(app: Flask, host: str, port: int) -> None:
    """Serve until stopped."""
    # What a proxy tells reaches the app only if the owner said that there is one; the app reads as many as were named.
    run_until_stopped(listen(app, host, port, strangers=app.config["SETTINGS"].proxies == 0))


def run_until_stopped(server: WSGIServer) -> None:
    """Serve until Ctrl-C or a request to end."""
    # What was loaded stays: looking through it again and again for garbage cost a push a third of its time.
    gc.collect()
    gc.freeze()
    for one in (signal.SIGINT, signal.SIGTERM):
        signal.signal(one, _stop)
    server.run()


def _stop(*_: object) -> None:
    """Stop as Ctrl-C does, without waiting for those who wait for news."""
    send_waiters_home()
    raise KeyboardInterrupt


def keep_tidy(app: Flask, stopped: threading.Event, every_s: float = _TIDY_EVERY_S) -> None:
    """Forget what was deleted long ago, now and then once a day until stopped; trouble is logged and tried again."""
    while True:
        try:
            with app.app_context():
                tidy(datetime.now(UTC))
        except Exception:
            log.exception("tidying failed; it is tried again later")
        if stopped.wait(every_s):
            return


def origin_of(host: str, port: int) -> str:
    """Return the address a person types for a host and port; all addresses of a machine go by its own name."""
    names = {"127.0.0.1": "localhost", "::1": "localhost", "0.0.0.0": socket.getfqdn()}
    return f"http://{names.get(host, host)}:{port}"


def say_link(origin: str, settings: Settings) -> None:
    """Print a new link for a keeper's phone, with its code."""
    made = invite_first(datetime.now(UTC), settings.invite_days)
    link = link_of(origin, made.token)
    say(f"\nOpen this link on the keeper's phone. It works once, until {made.expires_at[:10]}:\n\n  {link}\n")
    say_code(link)


def say_code(address: str) -> None:
    """Print an address as a code to scan."""
    segno.make(address, error="m").terminal(out=sys.stdout, compact=True)
    sys.stdout.flush()


def tidy_daily(app: Flask) -> None:
    """Keep tidy in the background for as long as the process runs."""
    threading.Thread(target=keep_tidy, args=(app, threading.Event()), daemon=True).start()


def serve(data: Path, host: str, port: int, origin: str | None) -> None:
    """Run a real site from its folder; the first time, print the link that enrols the keeper."""
    settings = from_environment(data=data)
    app = open_app(settings)
    with app.app_context():
        if not devices.any_keeper():
            say_link(origin or origin_of(host, port), settings)
    say(f"Makegood is running on {origin or origin_of(host, port)} (data in {data}). Stop it with Ctrl-C.")
    tidy_daily(app)
    run(app, host, port)


def print_invite(data: Path, origin: str) -> None:
    """Print a new link for a keeper's phone, say after the first one was lost."""
    settings = from_environment(data=data)
    if not data.is_dir():
        raise BadInput(
            "folder_unknown", f"There is no folder {data}. Give the one that `makegood serve --data` uses."
        )
    app = open_app(settings)
    with app.app_context():
        say_link(origin, settings)
