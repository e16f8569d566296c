"""Serves the built web app: hashed files for ever, everything else only after asking."""

import mimetypes

from flask import Blueprint, Response, request, send_from_directory
from werkzeug.exceptions import NotFound

from makegood.paths import web_dir

blueprint = Blueprint("pages", __name__)
_NOT_BUILT = (
    "The web app is not built. In the folder web/ run: npm ci && npm run build. Then load this page again.\n"
)
_ROBOTS = "User-agent: *\nDisallow: /\n"
_FOR_EVER = 31_536_000


@blueprint.get("/robots.txt")
def robots() -> Response:
    """Nothing here is for search engines; it names no page, so it tells of none."""
    return Response(_ROBOTS, mimetype="text/plain")


@blueprint.get("/")
@blueprint.get("/<path:name>")
def page(name: str = "index.html") -> Response:
    """A file of the web app; its first page for any place inside the app."""
    if name == "api" or name.startswith("api/"):
        raise NotFound
    folder = web_dir()
    if not (folder / "index.html").is_file():
        return Response(_NOT_BUILT, 503, mimetype="text/plain")
    if (folder / name).is_file():
        return _file(name)
    if "text/html" in request.accept_mimetypes.values():
        return _file("index.html")
    raise NotFound


def _file(name: str) -> Response:
    hashed = name.startswith("assets/")
    packed = f"{name}.gz"
    is_packed = request.accept_encodings.quality("gzip") > 0 and (web_dir() / packed).is_file()
    kind = mimetypes.guess_type(name)[0]
    sent = packed if is_packed else name
    response = send_from_directory(web_dir(), sent, mimetype=kind, max_age=_FOR_EVER if hashed else None)
    if is_packed:
        response.headers["Content-Encoding"] = "gzip"
    response.headers["Vary"] = "Accept-Encoding"
    response.headers["Cache-Control"] = f"public, max-age={_FOR_EVER}, immutable" if hashed else "no-cache"
    return response
