"""Push and pull for phones that work without signal."""

from collections.abc import Mapping
from typing import Any

from makegood.api.guard import PROTOCOL, StrictBlueprint, current_device, now
from makegood.api.schemas import NewsSchema, PulledSchema, PullSchema, PushedSchema, PushSchema, WaitSchema
from makegood.domain.row import Row, write_instant
from makegood.errors import Conflict, Gone, Outdated
from makegood.store.clock import beyond_horizon, epoch
from makegood.work.receive_changes import Result, receive_changes
from makegood.work.send_changes import send_changes
from makegood.work.take_in_bundle import author_vouched_for
from makegood.work.take_in_photo import settle_photos
from makegood.work.wait_for_news import tell_of_news, wait_for_news

# A phone that is too old to fetch may still send what it holds.
_FIRST = 1
blueprint = StrictBlueprint("sync", __name__, url_prefix="/api/sync", description=__doc__)


def _check_same_server(given: dict[str, Any], oldest: int) -> str:
    if not oldest <= given["v"] <= PROTOCOL["max"]:
        raise Outdated(
            "protocol_too_old",
            "This app and the server do not speak the same version. Load the app again.",
            {"v": "unknown"},
        )
    mark = epoch()
    if given["epoch"] not in (None, mark):
        raise Conflict(
            "epoch_changed",
            "The server was restored from a backup. Keep your changes and fetch everything again.",
        )
    return mark


def _check_horizon(grants: Mapping[str, str], given: dict[str, Any]) -> None:
    """Refuse cursors from before the last tidying; a site being fetched anew is low but not old."""
    cursors = {site: rev for site, rev in given["since"].items() if site in grants and site not in given["anew"]}
    if too_old := beyond_horizon(cursors):
        raise Gone(
            "horizon",
            "This phone was away for so long that it must fetch these sites anew. Its own changes stay.",
            dict.fromkeys(too_old, "begin at 0"),
        )


def _answer(result: Result) -> dict[str, Any]:
    told = {"st": result.st, "rev": result.rev, "code": result.code, "say": result.say}
    told_fields = {"fields_": list(result.fields)} if result.fields else {}
    return {
        "op": result.op,
        **{name: value for name, value in told.items() if value is not None},
        **told_fields,
    }


def _told(row: Row) -> dict[str, Any]:
    where = {"type": row.type, "id": row.id, "site": row.site_id, "rev": row.rev}
    if row.deleted:
        return {**where, "deleted": True}
    return {**where, "d": {**row.fields, "made_at": row.made_at, "made_by": row.made_by}}


def _sites_changed(ops: list[Any], results: list[Result]) -> set[str]:
    return {op["site"] for op, result in zip(ops, results, strict=True) if result.st != "rejected"}


@blueprint.post("/push")
@blueprint.arguments(PushSchema)
@blueprint.response(200, PushedSchema)
def push(given: dict[str, Any]) -> dict[str, Any]:
    """Take a phone's outbox, or one that it saved for the keeper; answer each op, in order."""
    device = current_device()
    mark = _check_same_server(given, _FIRST)
    author = device
    if "for_" in given:
        author = author_vouched_for(device, given["for_"], given["ops"], as_own=given["as_own"])
    results = receive_changes(author, given["ops"], now())
    for site_id in _sites_changed(given["ops"], results):
        settle_photos(site_id)
    tell_of_news()
    return {"epoch": mark, "now": write_instant(now()), "results": [_answer(one) for one in results]}


@blueprint.post("/pull")
@blueprint.arguments(PullSchema)
@blueprint.response(200, PulledSchema)
def pull(given: dict[str, Any]) -> dict[str, Any]:
    """Give a phone the next page of what it lacks."""
    device = current_device()
    mark = _check_same_server(given, PROTOCOL["min"])
    _check_horizon(device.grants, given)
    page = send_changes(device, given["since"], given["limit"])
    rows = [_told(row) for row in page.rows]
    return {
        "epoch": mark,
        "now": write_instant(now()),
        "more": page.more,
        "since": page.since,
        "drop": page.drop,
        "rows": rows,
    }


@blueprint.get("/wait")
@blueprint.arguments(WaitSchema, location="query")
@blueprint.response(200, NewsSchema)
def wait(given: dict[str, Any]) -> dict[str, Any]:
    """Answer once a pull after these cursors would bring something, or after 25 seconds."""
    device = current_device()
    since = dict(one.split(":") for one in given["rev"])
    news = wait_for_news(device, {site_id: int(rev) for site_id, rev in since.items()})
    return {"epoch": epoch(), "now": write_instant(now()), "news": news}
