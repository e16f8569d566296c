"""Ring 5: Flask and marshmallow. A view parses, calls one function further in, and answers."""

from flask import Flask

from makegood import __version__
from makegood.api import (
    catalogue,
    devices,
    guard,
    headers,
    meta,
    pages,
    papers,
    people,
    photos,
    refusals,
    sync,
    weather,
)
from makegood.settings import Settings
from makegood.work.paper_jobs import PaperJobs

_OPENAPI = {
    "API_TITLE": "Makegood",
    "API_VERSION": __version__,
    "OPENAPI_VERSION": "3.1.0",
    "OPENAPI_URL_PREFIX": "/api",
    "OPENAPI_JSON_PATH": "openapi.json",
}


def register(app: Flask, settings: Settings) -> None:
    """Hang every blueprint on the app, with the guards before and the headers after each request."""
    app.config.update(_OPENAPI)
    app.extensions["makegood_turnstile"] = guard.Turnstile(settings.enrols_per_minute)
    app.extensions["makegood_papers"] = PaperJobs()
    app.extensions["makegood_sync_pace"] = guard.Turnstile(settings.syncs_per_minute)
    api = refusals.RefusingApi(app)
    refusals.register(app)
    app.before_request(guard.check_request)
    app.after_request(guard.slide_session)
    app.after_request(headers.add_headers)
    app.after_request(headers.pack_answer)
    for module in (meta, devices, people, sync, photos, papers, weather, catalogue):
        api.register_blueprint(module.blueprint)
    app.register_blueprint(pages.blueprint)
