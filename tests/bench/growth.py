"""How a pull of few changes stands a growing site."""

import secrets
import tempfile
from collections.abc import Callable, Iterable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from flask import Flask

from makegood.app import bring_up_to_date, create_app
from makegood.settings import Settings
from makegood.store.device import device
from makegood.work.receive_changes import receive_changes
from makegood.work.send_changes import send_changes
from tests.bench import Line, best_s
from tests.make import PIN, Grounds, make_edit, make_grounds, make_op

SIZES = (1_000, 10_000, 100_000)
AT_ONCE = 200
# What a delta may cost more on the large site.
FLAT = 1.5


def cases() -> Iterable[Line]:
    """Return the lines of growth."""
    with tempfile.TemporaryDirectory() as folder:
        app = _app(Path(folder) / "growth")
        yield from _deltas(app, make_grounds(app))


def _app(folder: Path) -> Flask:
    app = create_app(Settings(data=folder, enrols_per_minute=10_000, syncs_per_minute=1_000_000))
    bring_up_to_date(app)
    return app


def _ops(grounds: Grounds, n: int) -> list[dict[str, Any]]:
    told = {"elevation_id": grounds.elevation, "kind": "spalling", "mark": PIN}
    return [make_op("defect", grounds.site, set={**told, "note": f"at the foot, {i}"}) for i in range(n)]


def _push(app: Flask, grounds: Grounds, ops: list[dict[str, Any]]) -> None:
    with app.app_context():
        sender = device(grounds.keeper.device_id)
        assert sender is not None
        for start in range(0, len(ops), AT_ONCE):
            results = receive_changes(sender, ops[start : start + AT_ONCE], datetime.now(UTC))
            assert all(one.st == "applied" for one in results)


def _deltas(app: Flask, grounds: Grounds) -> Iterable[Line]:
    cost, there = {}, 0
    for size in SIZES:
        ops = _ops(grounds, size - there)
        _push(app, grounds, ops)
        there = size
        cost[size] = best_s(_delta(app, grounds, ops[-10:]), times=40)
    for size in SIZES[1:]:
        name = f"pull of 10 changes on a site of {size:,} rows, beside one of {SIZES[0]:,}"
        yield Line(name, cost[size] * 1000, cost[SIZES[0]] * 1000, "ms", "peer", FLAT)


def _delta(app: Flask, grounds: Grounds, ops: list[dict[str, Any]]) -> Callable[[], object]:
    """Return a pull that brings ten rows, changed just before."""
    with app.app_context():
        reader = device(grounds.keeper.device_id)
        assert reader is not None
        since = {grounds.site: 0}
        while (page := send_changes(reader, since, 1000)).more:
            since = page.since
        before = page.since
    _push(app, grounds, [make_edit("defect", grounds.site, op["id"], 2**40, note=secrets.token_hex(4)) for op in ops])

    def pull() -> None:
        with app.app_context():
            assert len(send_changes(reader, before, 500).rows) >= len(ops)

    return pull
