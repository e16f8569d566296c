"""Papers: what can be printed or taken along. Short ones come at once, long ones as a job that can be watched and stopped."""

from io import BytesIO
from typing import Any, BinaryIO

from flask import Response, current_app, request, send_file
from marshmallow import Schema, fields, validate

from makegood.api.guard import StrictBlueprint, current_device, now
from makegood.api.schemas import RefusalSchema
from makegood.domain.row import is_uuid
from makegood.errors import Conflict
from makegood.papers.ask import Ask
from makegood.papers.press import MEDIA_TYPES, PAPERS
from makegood.papers.words.say import BOOKS, MEASURES
from makegood.work.make_paper import Wish, paper_named, wish_of
from makegood.work.paper_jobs import Owner, PaperJobs

blueprint = StrictBlueprint("papers", __name__, url_prefix="/api/papers", description=__doc__)
_FILE = {"type": "string", "format": "binary"}
_JSON = {"type": "object"}
_KINDS = {
    "200": {"content": {kind: {"schema": _JSON if kind.endswith("json") else _FILE} for kind in MEDIA_TYPES.values()}}
}


class AskSchema(Schema):
    """How a paper is wanted; `id` is the hand-out or ticket it is about."""

    language = fields.String(load_default="en", validate=validate.OneOf(list(BOOKS)))
    measures = fields.String(load_default="metric", validate=validate.OneOf(MEASURES))
    id = fields.String(load_default=None, allow_none=True, validate=validate.Length(max=36))


class PaperSchema(Schema):
    """One kind of paper."""

    name = fields.String(required=True)
    ending = fields.String(required=True)
    long = fields.Boolean(required=True)
    about = fields.String(required=True, allow_none=True)


class PapersSchema(Schema):
    """All kinds of papers."""

    papers = fields.List(fields.Nested(PaperSchema), required=True)


class JobSchema(Schema):
    """A paper in the making."""

    job = fields.String(required=True)


class JobStateSchema(Schema):
    """How far a paper has come."""

    done = fields.Integer(required=True)
    of = fields.Integer(required=True)
    ready = fields.Boolean(required=True)


def _jobs() -> PaperJobs:
    found: PaperJobs = current_app.extensions["makegood_papers"]
    return found


def _wish(site_id: str, name: str, given: dict[str, Any]) -> Wish:
    device = current_device()
    current_app.extensions["makegood_sync_pace"].enter(f"{device.id} papers")
    about = given["id"] if is_uuid(given["id"]) else None
    ask = Ask(given["language"], given["measures"], about, now())
    return wish_of(device, site_id, name, ask, (current_app.config["PHOTO_BYTES"], request.host_url.rstrip("/")))


def _owner(site_id: str) -> Owner:
    device = current_device()
    return Owner(device.id, site_id, (device.grants.get(site_id), device.limited.get(site_id)))


def _called(name: str) -> str:
    return f"makegood-{name}-{now():%Y-%m-%d}.{paper_named(name).ending}"


def _sent(content: BinaryIO | str, name: str, media_type: str) -> Response:
    response = send_file(content, mimetype=media_type, as_attachment=True, download_name=name)
    response.headers["Cache-Control"] = "no-store"
    response.headers["Content-Security-Policy"] = "sandbox"
    response.headers["X-Content-Type-Options"] = "nosniff"
    return response


@blueprint.get("")
@blueprint.response(200, PapersSchema)
def kinds() -> dict[str, Any]:
    """The papers there are."""
    current_device()
    return {"papers": [{**vars(one), "name": name} for name, one in PAPERS.items()]}


@blueprint.get("/<site_id>/<paper>")
@blueprint.alt_response(404, schema=RefusalSchema, description="no such paper, site, hand-out or ticket for this device")
@blueprint.arguments(AskSchema, location="query")
@blueprint.response(200, content_type="application/pdf", schema=_FILE)
@blueprint.doc(responses=_KINDS)
def fetch(given: dict[str, Any], site_id: str, paper: str) -> Response:
    """A short paper, made at once."""
    wish = _wish(site_id, paper, given)
    if wish.paper.long:
        raise Conflict("paper_takes_long", "This paper takes a while. Ask for it with POST and watch how far it has come.")
    out = BytesIO()
    wish.make(out, lambda _done, _of: None)
    out.seek(0)
    return _sent(out, _called(paper), wish.paper.media_type)


@blueprint.post("/<site_id>/<paper>")
@blueprint.alt_response(429, schema=RefusalSchema, description="several papers are in hand already")
@blueprint.arguments(AskSchema)
@blueprint.response(202, JobSchema)
def begin(given: dict[str, Any], site_id: str, paper: str) -> dict[str, str]:
    """Begin to make a paper."""
    wish = _wish(site_id, paper, given)
    return {"job": _jobs().start(_owner(site_id), (_called(paper), wish.paper.media_type), wish.make)}


@blueprint.get("/jobs/<job>")
@blueprint.alt_response(404, schema=RefusalSchema, description="no such job of this device")
@blueprint.response(200, JobStateSchema)
def look(job: str) -> dict[str, Any]:
    """How far a paper has come."""
    return vars(_jobs().look(job, _owner(_jobs().site_of(job))))


@blueprint.get("/jobs/<job>/file")
@blueprint.alt_response(409, schema=RefusalSchema, description="still being made")
@blueprint.response(200, content_type="application/pdf", schema=_FILE)
@blueprint.doc(responses=_KINDS)
def fetch_made(job: str) -> Response:
    """The finished paper; it is kept for a quarter of an hour."""
    made = _jobs().finished(job, _owner(_jobs().site_of(job)))
    return _sent(str(made.file), made.name, made.media_type)


@blueprint.delete("/jobs/<job>")
@blueprint.response(204)
def stop(job: str) -> Response:
    """Stop making a paper, or throw it away."""
    _jobs().stop(job, _owner(_jobs().site_of(job)))
    return Response(status=204)
