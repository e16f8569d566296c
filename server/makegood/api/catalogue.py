"""The coefficients and words a phone keeps, so that it can estimate without signal."""

from flask import Response, jsonify, request

from makegood.api.guard import StrictBlueprint
from makegood.domain.catalogue import build_catalogue

blueprint = StrictBlueprint("catalogue", __name__, description=__doc__)


@blueprint.get("/api/catalogue")
@blueprint.response(200)
def catalogue() -> Response:
    """The whole catalogue; 304 if the phone has this one."""
    built = build_catalogue()
    response = jsonify(built)
    response.set_etag(str(built["hash"]))
    response.headers["Cache-Control"] = "no-cache"
    response.make_conditional(request)
    return response
