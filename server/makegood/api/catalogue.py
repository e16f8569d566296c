"""The coefficients and words a phone keeps, so that it can estimate without signal."""

import json

from flask import Response, request

from makegood.api.guard import StrictBlueprint
from makegood.domain.catalogue import build_catalogue

blueprint = StrictBlueprint("catalogue", __name__, description=__doc__)


@blueprint.get("/api/catalogue")
@blueprint.response(200)
def catalogue() -> Response:
    """The whole catalogue; 304 if the phone has this one."""
    built = build_catalogue()
    # Not by jsonify, which sorts keys: the order of steps, methods and materials is the order they are shown in.
    response = Response(json.dumps(built, ensure_ascii=False), mimetype="application/json")
    response.set_etag(str(built["hash"]))
    response.headers["Cache-Control"] = "no-cache"
    response.make_conditional(request)
    return response
