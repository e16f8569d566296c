"""A visitor who sends rows through the API, to fill a demo site with more than anybody would tap in a test."""

import json
import random
import time
import urllib.error
import urllib.request
from http import HTTPStatus
from http.client import HTTPMessage
from typing import Any

from tests.make import make_op

AT_ONCE = 200
KINDS = ("spalling", "crazing", "washout", "delamination", "hairline_crack")
METHODS = ("patch_two_coats", "limewash", "dry_and_brush")
# What was done on every fourth ticket: nothing, taken, done, checked.
STEPS: tuple[tuple[str, ...], ...] = ((), ("taken",), ("taken", "done"), ("done", "checked"))


class Visitor:
    """A device of the demo, without a browser."""

    def __init__(self, address: str) -> None:
        self._address, self._cookie, self._csrf = address, "", ""
        self.epoch: str | None = None
        me, headers = self._post("/api/enrol", {"demo": True, "person": "Ada", "device_name": "a desk"})
        self._cookie = (headers["Set-Cookie"] or "").split(";")[0]
        self._csrf, self.epoch, self.site = me["csrf"], me["epoch"], me["grants"][0]["site_id"]

    def _post(self, path: str, body: dict[str, Any]) -> tuple[dict[str, Any], HTTPMessage]:
        headers = {"Content-Type": "application/json", "X-CSRF": self._csrf, "Cookie": self._cookie}
        asked = urllib.request.Request(self._address + path, json.dumps(body).encode(), headers)
        with urllib.request.urlopen(asked, timeout=60) as answer:
            return json.load(answer), answer.headers

    def _patient_post(self, body: dict[str, Any]) -> dict[str, Any]:
        """Push, and wait as long as the server asks to where this was too often."""
        while True:
            try:
                return self._post("/api/sync/push", body)[0]
            except urllib.error.HTTPError as error:
                if error.code != HTTPStatus.TOO_MANY_REQUESTS:
                    raise
                time.sleep(float(error.headers["Retry-After"]))

    def push(self, ops: list[dict[str, Any]]) -> None:
        """Send ops in the batches a phone sends; every one must be taken."""
        for start in range(0, len(ops), AT_ONCE):
            body = {"v": 1, "epoch": self.epoch, "ops": ops[start : start + AT_ONCE]}
            results = self._patient_post(body)["results"]
            refused = [one for one in results if one["st"] != "applied"]
            assert not refused, refused[0]

    def rows(self) -> list[dict[str, Any]]:
        """Pull every row this visitor may see."""
        since: dict[str, int] = {}
        found, more = [], True
        while more:
            answer = self._post("/api/sync/pull", {"v": 1, "epoch": self.epoch, "since": since, "limit": 500})[0]
            found += answer["rows"]
            since, more = answer["since"], answer["more"]
        return [{"id": row["id"], "type": row["type"], "rev": row["rev"], **row["d"]} for row in found if not row.get("deleted")]

    def crowd(self, elevation: dict[str, Any], marks: int, readings: int) -> None:
        """Put `marks` defects all over a flat wall, four pins to each outline, with `readings` looks at them."""
        chance = random.Random(7)
        width, height = elevation["surface"]["width_m"], elevation["surface"]["height_m"]
        defects = []
        for n in range(marks):
            x, y = chance.uniform(0.2, width - 0.4), chance.uniform(0.2, height - 0.4)
            corners = [[x, y], [x + 0.1, y], [x + 0.12, y + 0.1], [x, y + 0.12]]
            shape, points = ("outline", corners) if n % 5 == 0 else ("pin", corners[:1])
            mark = {"view": "seen", "shape": shape, "points_m": [[round(a, 3), round(b, 3)] for a, b in points]}
            given = {"elevation_id": elevation["id"], "kind": KINDS[n % len(KINDS)], "mark": mark}
            defects.append(make_op("defect", self.site, set=given))
        looks = [
            make_op("reading", self.site, set={"defect_id": defects[n % marks]["id"], "depth_max_mm": 5 + n % 20})
            for n in range(readings)
        ]
        self.push(defects + looks)

    def crowd_tickets(self, number: int) -> None:
        """Open `number` tickets for the defects there are, and leave a quarter of them in each state."""
        defects = [row["id"] for row in self.rows() if row["type"] == "defect"]
        tickets = [
            make_op("ticket", self.site, set={"defect_ids": [defects[n % len(defects)]], "method": METHODS[n % len(METHODS)]})
            for n in range(number)
        ]
        steps = [
            make_op("step", self.site, set={"ticket_id": tickets[n]["id"], "kind": kind, "own_work": kind == "checked" or None})
            for n in range(number)
            for kind in STEPS[n % len(STEPS)]
        ]
        self.push(tickets + steps)
