"""What the server is, and whether it is well."""

from typing import Any

from flask.typing import ResponseReturnValue

from makegood import __version__
from makegood.api.guard import PROTOCOL, StrictBlueprint, known_device, now, settings
from makegood.api.schemas import MetaSchema
from makegood.domain.catalogue import build_catalogue
from makegood.domain.row import write_instant
from makegood.store.clock import epoch

blueprint = StrictBlueprint("meta", __name__, description=__doc__)


@blueprint.get("/api/meta")
@blueprint.response(200, MetaSchema)
def meta() -> dict[str, Any]:
    """Name, version, protocol and the catalogue in use."""
    return {
        "name": "makegood",
        "version": __version__,
        "protocol": PROTOCOL,
        "demo": settings().demo,
        "catalogue": build_catalogue()["hash"],
        "enrolled": known_device() is not None,
        "now": write_instant(now()),
    }


@blueprint.get("/healthz")
@blueprint.response(200)
def healthz() -> ResponseReturnValue:
    """Whether the server answers and its database too."""
    return {"ok": bool(epoch())}
