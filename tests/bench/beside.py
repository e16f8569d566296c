"""Sync beside a general-purpose engine (express-pouchdb 4.2, pouchdb 9): both servers and clients on loopback, one run.

Same durability: ours flushes each acknowledged change to the disk (synchronous=FULL, photo files before they get their
names), and the peer's LevelDB is told to flush each write too, which it does not do by itself. Ours is the real server
as its own process with a client that keeps outbox and rows in SQLite; the peer's client and server share a process.
Ours also makes sure that a photo is one, decoding it whole; the peer keeps bytes. As it comes the peer sends a hundred
photos in one request, with one answer for all; ours answers for each, so that a weak line loses one at most. The peer is
shown both ways. npm fetches it for the run.
"""

import http.client
import io
import json
import random
import sqlite3
import subprocess
import tempfile
import time
from collections.abc import Iterable
from hashlib import sha256
from pathlib import Path
from typing import Any

from PIL import Image

from makegood.app import bring_up_to_date, create_app
from makegood.settings import Settings
from makegood.work.take_in_photo import MAX_CHUNK_BYTES
from tests.bench import Line
from tests.bench._serving import fetched, served
from tests.make import PIN, make_founder, make_id, make_op

PUSHED, FIRST_PULL, PHOTOS, PHOTO_BYTES = 2000, 5000, 200, 300_000
AT_ONCE, PAGE = 200, 500
PEER = {"express": "4.21.2", "express-pouchdb": "4.2.0", "pouchdb": "9.0.0"}
SCRIPT = Path(__file__).parent / "peer" / "peer.mjs"
NAMES = {
    "push": f"push of {PUSHED:,} rows",
    "pull": f"pull of {PUSHED:,} rows",
    "first": f"first pull of {FIRST_PULL:,} rows",
    "singly": f"push of {PHOTOS} photos of 300 kB, each acknowledged by itself, as ours always are",
    "photos": f"push of {PHOTOS} photos of 300 kB, the peer's in lots of 100",
    "idle": "sync with nothing new",
}


def cases() -> Iterable[Line]:
    """Return a line for each deed, ours beside the peer's."""
    ours = _ours()
    peer = _peer()
    for deed, name in NAMES.items():
        against = peer[deed] / 1000 if peer else None
        note = "" if peer else "LEFT OUT: the peer could not be installed (npm)"
        # Lots of a hundred have one answer for all of them: shown, not held against.
        upto = None if deed == "photos" else 1.0
        yield Line(name, ours.get(deed, ours["photos"]), against, "s", "peer", upto, note=note)


def _peer() -> dict[str, float] | None:
    with tempfile.TemporaryDirectory() as folder:
        if not fetched(Path(folder), PEER):
            return None
        words = ["node", str(SCRIPT), folder, *map(str, (PUSHED, FIRST_PULL, PHOTOS, PHOTO_BYTES))]
        done = subprocess.run(words, check=True, capture_output=True, text=True)
        found: dict[str, float] = json.loads(done.stdout)
        return found


class Client:
    """A phone without a screen: outbox, rows and cursors in SQLite, the protocol over one kept connection."""

    def __init__(self, port: int, cookie: str, csrf: str) -> None:
        self.line = http.client.HTTPConnection("127.0.0.1", port)
        self.head = {"Cookie": f"makegood={cookie}", "X-CSRF": csrf}
        self.folder = tempfile.mkdtemp()
        self.kept = sqlite3.connect(Path(self.folder) / "phone.sqlite")
        self.kept.executescript(
            "PRAGMA journal_mode=WAL; CREATE TABLE outbox (n INTEGER PRIMARY KEY, op TEXT);"
            "CREATE TABLE base (type TEXT, id TEXT, row TEXT, PRIMARY KEY (type, id));"
        )
        self.since: dict[str, int] = {}

    def ask(self, method: str, path: str, body: bytes, **headers: str) -> bytes:
        """Send one request; return the body of its answer."""
        self.line.request(method, path, body, {**self.head, **headers})
        answer = self.line.getresponse()
        content = answer.read()
        if answer.status >= 300:
            raise RuntimeError(f"{method} {path}: {answer.status} {content[:300]!r}")
        return content

    def keep(self, ops: Iterable[dict[str, Any]]) -> None:
        """Put ops in the outbox."""
        with self.kept:
            self.kept.executemany("INSERT INTO outbox (op) VALUES (?)", ((json.dumps(op),) for op in ops))

    def push(self) -> None:
        """Send the outbox."""
        while waiting := self.kept.execute("SELECT n, op FROM outbox ORDER BY n LIMIT ?", (AT_ONCE,)).fetchall():
            body = {"v": 1, "epoch": None, "ops": [json.loads(op) for _, op in waiting]}
            answer = json.loads(self._json("/api/sync/push", body))
            refused = [one for one in answer["results"] if one["st"] != "applied"]
            if refused:
                raise RuntimeError(str(refused[0]))
            with self.kept:
                self.kept.executemany("DELETE FROM outbox WHERE n=?", ((n,) for n, _ in waiting))

    def pull(self) -> int:
        """Fetch what is lacking; return how many rows came."""
        came, more = 0, True
        while more:
            answer = json.loads(self._json("/api/sync/pull", {"v": 1, "epoch": None, "since": self.since, "limit": PAGE}))
            rows = [(row["type"], row["id"], json.dumps(row)) for row in answer["rows"]]
            with self.kept:
                self.kept.executemany("INSERT OR REPLACE INTO base VALUES (?, ?, ?)", rows)
            came, more, self.since = came + len(rows), answer["more"], answer["since"]
        return came

    def send_photo(self, site: str, content: bytes) -> None:
        """Send a photo of one chunk as the app does: ask whether it is there, send it."""
        path = f"/api/blobs/{site}/{sha256(content).hexdigest()}"
        self.line.request("HEAD", path, headers=self.head)
        asked = self.line.getresponse()
        asked.read()
        if asked.status != 404 or len(content) > MAX_CHUNK_BYTES:
            raise RuntimeError(f"HEAD answered {asked.status} about {len(content)} bytes")
        kind = {"Content-Type": "application/offset+octet-stream"}
        self.ask("PUT", f"{path}?length={len(content)}", content, **kind)

    def _json(self, path: str, body: Any) -> bytes:
        return self.ask("POST", path, json.dumps(body).encode(), **{"Content-Type": "application/json"})


def _defects(site: str, elevation: str, n: int) -> list[dict[str, Any]]:
    told = {"elevation_id": elevation, "kind": "spalling", "mark": PIN}
    return [
        make_op("defect", site, set={**told, "note": f"what was seen at the foot of the wall, number {i}"})
        for i in range(n)
    ]


def _pictures(n: int) -> list[bytes]:
    """Return JPEG files of about 300 kB: the grain of a wall, each a little different."""
    chance = random.Random(7)
    grain = Image.frombytes("RGB", (900, 620), chance.randbytes(900 * 620 * 3))
    out = io.BytesIO()
    grain.save(out, "JPEG", quality=30)
    plain = out.getvalue()[:-2]
    # A comment segment makes the bytes of each its own and all of one length.
    return [plain[:2] + _comment(i, PHOTO_BYTES - len(plain) - 6) + plain[2:] + b"\xff\xd9" for i in range(n)]


def _comment(i: int, length: int) -> bytes:
    parts = []
    while length > 0:
        size = min(length, 60_000)
        parts.append(b"\xff\xfe" + (size + 2).to_bytes(2, "big") + f"{i:06d}".encode().ljust(size, b"."))
        length -= size + 4
    return b"".join(parts)


def _timed(deed: Any) -> float:
    begun = time.perf_counter()
    deed()
    return time.perf_counter() - begun


def _ours() -> dict[str, float]:
    with tempfile.TemporaryDirectory() as folder:
        settings = Settings(data=Path(folder) / "data", enrols_per_minute=1000)
        app = create_app(settings)
        bring_up_to_date(app)
        phones = [make_founder(app, f"Person {n}") for n in range(3)]
        sessions = [phone.client.get_cookie("makegood").value for phone in phones]  # type: ignore[union-attr]
        with served(settings) as port:
            one, two, four = (Client(port, s, p.csrf) for s, p in zip(sessions, phones, strict=True))
            return _measured(one, two, four)


def _ground(client: Client) -> tuple[str, str]:
    site, structure, elevation = make_id(), make_id(), make_id()
    client.keep(
        [
            make_op("site", site),
            make_op("structure", site, structure),
            make_op("elevation", site, elevation, set={"structure_id": structure}),
        ]
    )
    client.push()
    return site, elevation


def _measured(one: Client, two: Client, four: Client) -> dict[str, float]:
    site, elevation = _ground(one)
    one.keep(_defects(site, elevation, PUSHED))
    found = {"push": _timed(one.push)}
    # The same person's second phone: it must have a part in the site, so it is the founder's own session.
    two.head, came = one.head, []
    found["pull"] = _timed(lambda: came.append(two.pull()))
    if came[0] < PUSHED:
        raise RuntimeError(f"only {came[0]} rows came")
    one.pull()
    found["idle"] = _timed(lambda: (one.push(), one.pull()))
    large, wall = _ground(four)
    four.keep(_defects(large, wall, FIRST_PULL))
    four.push()
    found["first"] = _timed(four.pull)
    pictures = _pictures(PHOTOS)
    rows = [
        make_op(
            "photo",
            site,
            set={"of_type": "elevation", "of_id": elevation, "sha256": sha256(one_).hexdigest(), "bytes": len(one_)},
        )
        for one_ in pictures
    ]
    one.keep(rows)
    found["photos"] = _timed(lambda: (one.push(), [one.send_photo(site, content) for content in pictures]))
    return found
