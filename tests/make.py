"""Builders with sensible defaults: a test names only what matters to it."""

import itertools
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any
from uuid import UUID

from flask import Flask
from flask.testing import FlaskClient

from makegood.work.invite import invite_first

_counter = itertools.count(1)
NOW = "2026-11-25T09:00:00.000Z"


def make_id() -> str:
    """Return an id not used before in this run."""
    return str(UUID(int=next(_counter) | 4 << 76 | 8 << 60))


SURFACE = {"kind": "flat", "width_m": 6.0, "height_m": 3.0, "batter_deg": 0.0}
PIN = {"view": "seen", "shape": "pin", "points_m": [[1.0, 1.0]]}
OUTLINE = {"view": "seen", "shape": "outline", "points_m": [[1.0, 1.0], [2.0, 1.0], [2.0, 2.0]]}

_NEEDED: dict[str, dict[str, Any]] = {
    "site": {"name": "Hollow Farm"},
    "structure": {"name": "Barn", "wall_material": "cob"},
    "elevation": {"name": "South", "surface": SURFACE, "bearing_deg": 180},
    "finish": {"name": "Lime", "coats": [{"mix": "bedding_mortar", "thickness_mm": 10}]},
    "storm": {"name": "First gale", "began_on": "2026-11-20"},
    "survey": {"on": "2026-11-21"},
    "defect": {"mark": PIN},
    "reading": {"at": NOW},
    "ticket": {},
    "step": {"kind": "taken", "at": NOW},
    "work_day": {"on": "2026-11-26"},
    "handout": {"on": "2026-11-26", "ticket_ids": []},
    "score": {"at": NOW, "verdict": "held"},
    "photo": {"sha256": "ab" * 32, "media_type": "image/jpeg", "bytes": 1000},
    "note": {"at": NOW, "text": "Look at the gutter."},
}


def make_op(row_type: str, site: str, row_id: str | None = None, **how: Any) -> dict[str, Any]:
    """Return a put op that makes a row; `set` adds fields, other keywords replace parts of the op."""
    given = how.pop("set", {})
    row_id = row_id or (site if row_type == "site" else make_id())
    op = {
        "op": make_id(),
        "n": 1,
        "type": row_type,
        "id": row_id,
        "site": site,
        "kind": "put",
        "base": 0,
        "at": NOW,
    }
    return {**op, "set": {**_NEEDED.get(row_type, {}), **given}, **how}


def make_edit(row_type: str, site: str, row_id: str, base: int, **fields: Any) -> dict[str, Any]:
    """Return a put op that sets these fields of a row seen at `base`."""
    op = make_op(row_type, site, row_id, base=base, at=fields.pop("at", NOW))
    return {**op, "set": fields}


def make_drop(row_type: str, site: str, row_id: str, base: int) -> dict[str, Any]:
    """Return a del op for a row seen at `base`."""
    op = make_op(row_type, site, row_id, base=base, kind="del")
    del op["set"]
    return op


@dataclass
class Phone:
    """A device with its own session: pushes ops, pulls rows and keeps them by (type, id)."""

    client: FlaskClient
    csrf: str = ""
    device_id: str = ""
    since: dict[str, int] = field(default_factory=dict)
    rows: dict[tuple[str, str], dict[str, Any]] = field(default_factory=dict)
    sites: dict[tuple[str, str], str] = field(default_factory=dict)

    def enrol(self, token: str, person: str) -> "Phone":
        """Come in by a link."""
        body = {"token": token, "person": person, "device_name": f"{person}'s phone"}
        answer = self.client.post("/api/enrol", json=body)
        assert answer.status_code == 201, answer.json
        self.csrf, self.device_id = answer.json["csrf"], answer.json["device_id"]
        return self

    def post(self, path: str, body: Any) -> Any:
        """Post JSON with the session's own token."""
        return self.client.post(path, json=body, headers={"X-CSRF": self.csrf})

    def push(self, *ops: Any) -> list[dict[str, Any]]:
        """Send ops; return their results."""
        answer = self.post("/api/sync/push", {"v": 1, "epoch": None, "ops": list(ops)})
        assert answer.status_code == 200, answer.json
        return list(answer.json["results"])

    def pull(self, limit: int = 500) -> "Phone":
        """Fetch until nothing more comes."""
        more = True
        while more:
            answer = self.post("/api/sync/pull", {"v": 1, "epoch": None, "since": self.since, "limit": limit})
            assert answer.status_code == 200, answer.json
            for key in [key for key in self.rows if self.sites[key] in answer.json["drop"]]:
                del self.rows[key]
            for row in answer.json["rows"]:
                self._take(row)
            more, self.since = answer.json["more"], answer.json["since"]
        return self

    def _take(self, row: Mapping[str, Any]) -> None:
        key = (row["type"], row["id"])
        self.sites[key] = row["site"]
        if row.get("deleted"):
            self.rows.pop(key, None)
        else:
            self.rows[key] = {**row["d"], "rev": row["rev"]}

    def row(self, row_type: str, row_id: str) -> dict[str, Any]:
        """Return a row as last pulled."""
        return self.rows[row_type, row_id]

    def all(self, row_type: str) -> list[dict[str, Any]]:
        """Return all rows of a type as last pulled."""
        return [row for (of_type, _), row in self.rows.items() if of_type == row_type]


def make_founder(app: Flask, person: str = "Keeper Kit") -> Phone:
    """Return a phone that may start sites."""
    from datetime import UTC, datetime

    with app.app_context():
        token = invite_first(datetime.now(UTC), 14).token
    return Phone(app.test_client()).enrol(token, person)


def make_guest(app: Flask, keeper: Phone, site: str, role: str, person: str) -> Phone:
    """Return a phone that came in by a link from the site's keeper."""
    invited = keeper.post("/api/invites", {"site_id": site, "role": role})
    assert invited.status_code == 201, invited.json
    return Phone(app.test_client()).enrol(invited.json["token"], person)


def make_limited(app: Flask, keeper: Phone, site: str, handout: str, person: str = "Hal") -> Phone:
    """Return a phone that came in by the link of a hand-out."""
    invited = keeper.post("/api/invites", {"site_id": site, "role": "helper", "handout_id": handout})
    assert invited.status_code == 201, invited.json
    return Phone(app.test_client()).enrol(invited.json["token"], person)


@dataclass
class Grounds:
    """A site with one wall on the server: the ids, and the keeper's phone."""

    keeper: Phone
    site: str
    structure: str
    elevation: str

    def op(self, row_type: str, **fields: Any) -> dict[str, Any]:
        """Return an op that makes a row on this site, with its parent where the wall is the parent."""
        if row_type in ("defect", "finish"):
            fields = {"elevation_id": self.elevation, **fields}
        return make_op(row_type, self.site, set=fields)

    def add(self, row_type: str, **fields: Any) -> str:
        """Make a row as the keeper; return its id."""
        op = self.op(row_type, **fields)
        (result,) = self.keeper.push(op)
        assert result["st"] == "applied", result
        return str(op["id"])


def make_grounds(app: Flask) -> Grounds:
    """Return a site with one structure and one flat elevation, 6 m by 3 m."""
    keeper, site = make_founder(app), make_id()
    structure = make_op("structure", site)
    elevation = make_op("elevation", site, set={"structure_id": structure["id"]})
    results = keeper.push(make_op("site", site), structure, elevation)
    assert [one["st"] for one in results] == ["applied"] * 3, results
    return Grounds(keeper, site, structure["id"], elevation["id"])
