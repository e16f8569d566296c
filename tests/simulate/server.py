"""The real server: its whole WSGI app on one SQLite connection in memory, set back to the same start for each seed."""

import base64
import io
import json
import sqlite3
import sys
import zlib
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from tempfile import mkdtemp
from typing import Any, BinaryIO
from unittest import mock

from flask import Flask

from makegood.app import create_app
from makegood.domain.row import types
from makegood.settings import Settings
from makegood.store import clock, device
from makegood.store.database import WRITES, Base, db, writing
from makegood.store.photo_uploads import UploadKey
from makegood.work.enrol import csrf_of
from tests.make import make_op
from tests.simulate.kernel import START, Clock, iso

DEVICES = [f"d0000000-0000-4000-8000-00000000000{n}" for n in range(6)]
SITES = [f"50000000-0000-4000-8000-00000000000{n}" for n in range(2)]
STRUCTURE, ELEVATION = "51000000-0000-4000-8000-000000000000", "52000000-0000-4000-8000-000000000000"
_JSON = {of: [n for n, s in spec["fields"].items() if s["kind"] == "json"] for of, spec in types().items()}
_FLAGS = {of: [n for n, s in spec["fields"].items() if s["kind"] == "flag"] for of, spec in types().items()}


@dataclass(frozen=True)
class Reply:
    """A whole answer as it left the server."""

    status: int
    headers: dict[str, str]
    body: bytes

    def json(self) -> Any:
        """Return the body's JSON, or None if it has none."""
        try:
            return json.loads(self.body)
        except ValueError:
            return None


class MemoryPhotoBytes:
    """PhotoBytes without a disk; `clock` stands in for the file system's times."""

    def __init__(self, clock: Clock) -> None:
        self.clock = clock
        self.partial: dict[UploadKey, tuple[bytes, datetime]] = {}
        self.kept: dict[tuple[str, str], bytes] = {}
        self.copies: dict[tuple[str, str, int], bytes] = {}

    @contextmanager
    def locked(self, site_id: str, sha256: str) -> Iterator[None]:
        """One thread: nobody to hold off."""
        yield

    def received(self, key: UploadKey) -> int:
        """Return how many bytes of an upload have arrived."""
        return len(self.partial[key][0]) if key in self.partial else 0

    def touched_at(self, key: UploadKey) -> datetime | None:
        """Return when the last bytes of an upload arrived."""
        return self.partial[key][1] if key in self.partial else None

    def append(self, key: UploadKey, chunk: bytes) -> int:
        """Add bytes to an upload."""
        before = self.partial[key][0] if key in self.partial else b""
        self.partial[key] = (before + chunk, self.clock.now)
        return len(before) + len(chunk)

    def open_received(self, key: UploadKey) -> BinaryIO:
        """Open what has arrived."""
        return io.BytesIO(self.partial[key][0])

    def drop_received(self, key: UploadKey) -> None:
        """Forget what has arrived."""
        self.partial.pop(key, None)

    def keep(self, key: UploadKey) -> None:
        """Keep a complete upload."""
        self.kept[key.site_id, key.sha256] = self.partial.pop(key)[0]

    def keep_copies(self, site_id: str, sha256: str, copies: dict[int, bytes]) -> None:
        """Keep copies."""
        self.copies.update({(site_id, sha256, size_px): content for size_px, content in copies.items()})

    def open_original(self, site_id: str, sha256: str) -> BinaryIO:
        """Open an original."""
        if (site_id, sha256) not in self.kept:
            raise FileNotFoundError(sha256)
        return io.BytesIO(self.kept[site_id, sha256])

    def open_copy(self, site_id: str, sha256: str, size_px: int) -> BinaryIO:
        """Open a copy."""
        if (site_id, sha256, size_px) not in self.copies:
            raise FileNotFoundError(sha256)
        return io.BytesIO(self.copies[site_id, sha256, size_px])

    def drop_idle(self, site_id: str, since: datetime) -> int:
        """Forget uploads of a site that got no bytes since then."""
        idle = [key for key, (_, at) in self.partial.items() if key.site_id == site_id and at < since]
        for key in idle:
            del self.partial[key]
        return len(idle)


@dataclass
class Backup:
    """Yesterday's server: its database, the photos it had, and what the judge knew of it."""

    database: sqlite3.Connection
    photos: dict[tuple[str, str], bytes]
    known: Any = None


@dataclass
class Server:
    """The app and its one connection. Make one for each process and `begin` it for each seed."""

    app: Flask
    raw: sqlite3.Connection
    start: sqlite3.Connection
    clock: Clock = field(default_factory=Clock)
    photos: MemoryPhotoBytes = field(init=False)
    epochs: int = 0
    requests: int = 0

    def begin(self, clock: Clock) -> None:
        """Set everything back to the start."""
        self.start.backup(self.raw)
        self.clock, self.photos, self.epochs, self.requests = clock, MemoryPhotoBytes(clock), 0, 0
        self.app.config.update(CLOCK=lambda: self.clock.now, PHOTO_BYTES=self.photos)

    def handle(self, method: str, url: str, headers: dict[str, str], body: bytes) -> Reply:
        """Answer one request."""
        self.requests += 1
        told: list[tuple[str, list[tuple[str, str]]]] = []
        environ = _environ(method, url, headers, body)
        answer = self.app.wsgi_app(environ, lambda status, given, _exc=None: told.append((status, given)))
        try:
            content = b"".join(answer)
        finally:
            answer.close()  # type: ignore[attr-defined]
        status, given = told[0]
        return Reply(int(status[:3]), dict(given), content)

    def headers_for(self, session: str) -> dict[str, str]:
        """Return what a phone with this session sends with every write."""
        return {"Cookie": f"makegood={session}", "X-CSRF": csrf_of(session)}

    def write(self, statement: str, *values: object) -> None:
        """Change the tables by hand, as an operator would."""
        self.raw.execute("PRAGMA query_only=OFF")
        self.raw.execute(statement, values)

    def query(self, statement: str, *values: object) -> list[tuple[Any, ...]]:
        """Read the tables past all server code."""
        return self.raw.execute(statement, values).fetchall()

    def grant(self, device_id: str, site_id: str, role: str | None) -> None:
        """Give a device a role, or take it away."""
        self.write("DELETE FROM device_grant WHERE device_id=? AND site_id=?", device_id, site_id)
        if role and self.query("SELECT 1 FROM device WHERE id=?", device_id):
            self.write(
                "INSERT INTO device_grant (device_id, site_id, role) VALUES (?,?,?)", device_id, site_id, role
            )

    def grants(self, device_id: str) -> dict[str, str]:
        """Return the roles a device has now."""
        return dict(
            self.query("SELECT site_id, role FROM device_grant WHERE device_id=? ORDER BY site_id", device_id)
        )

    def add_device(self, device_id: str, person: str, session: str, founder: bool) -> None:
        """Enrol a device."""
        self.write(
            "INSERT INTO device (id, person, device_name, session_hash, may_found, made_at, seen_at) VALUES (?,?,?,?,?,?,?)",
            device_id,
            person,
            "phone",
            device.hashed(session),
            founder,
            iso(self.clock.now),
            iso(self.clock.now),
        )

    def row(self, row_type: str, site: str, row_id: str) -> dict[str, Any] | None:
        """Return a row as the table has it, JSON and flags read."""
        cursor = self.raw.execute(f'SELECT * FROM "{row_type}" WHERE site_id=? AND id=?', (site, row_id))
        found = cursor.fetchone()
        if found is None:
            return None
        row = dict(zip((one[0] for one in cursor.description), found, strict=True))
        for name in [*_JSON[row_type], "fv"]:
            # SQLite keeps a JSON number as a number.
            row[name] = json.loads(row[name]) if isinstance(row[name], str) else row[name]
        for name in _FLAGS[row_type]:
            row[name] = None if row[name] is None else bool(row[name])
        return row

    def back_up(self) -> Backup:
        """Return a copy of everything."""
        copy = sqlite3.connect(":memory:")
        self.raw.backup(copy)
        return Backup(copy, dict(self.photos.kept))

    def restore(self, backup: Backup) -> None:
        """Go back to a copy, as `makegood restore` does: a new epoch, uploads under way gone."""
        backup.database.backup(self.raw)
        self.photos.kept, self.photos.partial = dict(backup.photos), {}
        self.epochs += 1
        mark = f"epoch{self.epochs}"
        now = self.clock.now.timestamp()
        told = {clock.secrets: ("token_hex", lambda _n: mark), clock.time: ("time", lambda: now)}
        with ExitStack() as stack:
            for module, (name, answer) in told.items():
                stack.enter_context(mock.patch.object(module, name, answer))
            stack.enter_context(self.app.app_context())
            stack.enter_context(writing())
            clock.new_epoch()


def make_server() -> Server:
    """Return the app on an empty database in memory that holds one site with one wall."""
    app = create_app(
        Settings(data=Path(mkdtemp(prefix="simulate")), database_url="sqlite://", syncs_per_minute=1_000_000)
    )
    with app.app_context():
        connection = db.engine.execution_options(**{WRITES: True}).connect()
        Base.metadata.create_all(connection)
        connection.commit()
        with writing(), mock.patch.object(clock.secrets, "token_hex", return_value="epoch0"):
            clock.ensure_epoch()
        raw: sqlite3.Connection = db.engine.raw_connection().driver_connection  # type: ignore[assignment]
    server = Server(app, raw, sqlite3.connect(":memory:"))
    server.photos = MemoryPhotoBytes(server.clock)
    app.config.update(CLOCK=lambda: START, PHOTO_BYTES=server.photos)
    for n, device_id in enumerate(DEVICES):
        server.add_device(device_id, f"Person {n}", f"session-{n}", founder=n == 0)
    _found_sites(server)
    raw.backup(server.start)
    return server


def _found_sites(server: Server) -> None:
    site, other = SITES
    ops = [
        make_op("site", site),
        make_op("site", other),
        make_op("structure", site, STRUCTURE),
        make_op("elevation", site, ELEVATION, set={"structure_id": STRUCTURE}),
    ]
    body = json.dumps({"v": 1, "epoch": None, "ops": ops}).encode()
    headers = {**server.headers_for("session-0"), "Content-Type": "application/json"}
    reply = server.handle("POST", "/api/sync/push", headers, body)
    if reply.status != 200 or any(one["st"] != "applied" for one in reply.json()["results"]):
        raise RuntimeError(reply.body)


def _environ(method: str, url: str, headers: dict[str, str], body: bytes) -> dict[str, Any]:
    path, _, query = url.partition("?")
    given = {f"HTTP_{name.upper().replace('-', '_')}": value for name, value in headers.items()}
    return {
        "REQUEST_METHOD": method, "PATH_INFO": path, "QUERY_STRING": query, "SCRIPT_NAME": "",
        "SERVER_NAME": "server.test", "SERVER_PORT": "80", "SERVER_PROTOCOL": "HTTP/1.1", "REMOTE_ADDR": "192.0.2.1",
        "wsgi.version": (1, 0), "wsgi.url_scheme": "http", "wsgi.input": io.BytesIO(body), "wsgi.errors": sys.stderr,
        "wsgi.multithread": False, "wsgi.multiprocess": False, "wsgi.run_once": False,
        "CONTENT_TYPE": given.pop("HTTP_CONTENT_TYPE", ""), "CONTENT_LENGTH": str(len(body)), **given,
    }  # fmt: skip


def tiny_png(shade: int) -> bytes:
    """Return a picture of 8 by 8 pixels in one grey, in a few hundred bytes."""

    def chunk(kind: bytes, content: bytes) -> bytes:
        return (
            len(content).to_bytes(4, "big") + kind + content + zlib.crc32(kind + content).to_bytes(4, "big")
        )

    rows = b"".join(b"\0" + bytes([(shade + x * y) % 256 for x in range(8)]) for y in range(8))
    head = base64.b64decode("iVBORw0KGgo=")
    return (
        head
        + chunk(b"IHDR", bytes([0, 0, 0, 8, 0, 0, 0, 8, 8, 0, 0, 0, 0]))
        + chunk(b"IDAT", zlib.compress(rows))
        + chunk(b"IEND", b"")
    )
