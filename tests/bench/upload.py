"""Sending a photo through the chunk route, beside a bare PUT of the same bytes to a sink that also flushes to the disk.

Both are served by waitress in a process of its own. Ours checks the session for every chunk, checks the hash, decodes the
picture and keeps it so that a power cut leaves it whole; the bare sink does none of that.
"""

import http.client
import tempfile
from collections.abc import Callable, Iterable, Iterator
from contextlib import ExitStack, contextmanager
from hashlib import sha256
from pathlib import Path

from makegood.app import bring_up_to_date, create_app
from makegood.settings import Settings
from makegood.work.take_in_photo import MAX_CHUNK_BYTES
from tests.bench import Line, best_in_turn_s
from tests.bench._serving import served, sunk
from tests.bench.photos import wall_like
from tests.faults.line import Line as Wire
from tests.make import make_grounds

RUNS = 12
# Half the speed of the sink.
AIM = 2.0
Send = Callable[[bytes], None]


def cases() -> Iterable[Line]:
    """Return the whole upload beside a sink that looks at the photo too, and beside the bare one; and the bytes alone."""
    with _lines() as sends:
        photos = _photos()
        name = f"photo of {len(next(photos)) / 1e6:.1f} MB by chunks"
        deeds = [lambda send=send: send(next(photos)) for send in sends]
        ours, arrived, sink, sink_that_looks = best_in_turn_s(deeds, RUNS)
    yield Line(f"{name}, bytes alone, beside a bare PUT", arrived, sink, "s", "peer", AIM)
    yield Line(f"{name}, looked at and kept, beside a PUT looked at alike", ours, sink_that_looks, "s", "peer", AIM)
    yield Line(f"{name}, looked at and kept, beside a bare PUT", ours, sink, "s", "peer", None)


def _photos() -> Iterator[bytes]:
    plain, n = wall_like(), 0
    while True:
        n += 1
        # A comment makes the bytes of each its own.
        yield plain[:2] + b"\xff\xfe\x00\x0a" + f"{n:08d}".encode() + plain[2:]


@contextmanager
def _lines() -> Iterator[tuple[Send, Send, Send, Send]]:
    with ExitStack() as stack:
        folder = Path(stack.enter_context(tempfile.TemporaryDirectory()))
        settings = Settings(data=folder / "data", enrols_per_minute=1000)
        settings.data.mkdir()
        app = create_app(settings)
        bring_up_to_date(app)
        grounds = make_grounds(app)
        (folder / "sink").mkdir()
        wire = Wire.of(grounds.keeper, stack.enter_context(served(settings)))
        sink = http.client.HTTPConnection("127.0.0.1", stack.enter_context(sunk(folder / "sink")), timeout=20)

        def whole(content: bytes) -> None:
            if not wire.upload(grounds.site, content, MAX_CHUNK_BYTES):
                raise RuntimeError("the photo did not arrive")

        yield whole, lambda content: _all_but_the_end(wire, grounds.site, content), _put(sink, "bare"), _put(sink, "looked")


def _all_but_the_end(wire: Wire, site: str, content: bytes) -> None:
    """Send all but the last byte, so that the photo is not looked at."""
    path = f"/api/blobs/{site}/{sha256(content).hexdigest()}"
    kind = {"Content-Type": "application/offset+octet-stream"}
    _fine(wire.ask("PUT", f"{path}?length={len(content)}", content[:MAX_CHUNK_BYTES], **kind)[0])
    for offset in range(MAX_CHUNK_BYTES, len(content) - 1, MAX_CHUNK_BYTES):
        part = content[offset : min(offset + MAX_CHUNK_BYTES, len(content) - 1)]
        _fine(wire.ask("PATCH", path, part, **kind, **{"Upload-Offset": str(offset)})[0])


def _put(sink: http.client.HTTPConnection, folder: str) -> Send:
    def send(content: bytes) -> None:
        sink.request("PUT", f"/{folder}/{sha256(content).hexdigest()}", content)
        answer = sink.getresponse()
        answer.read()
        _fine(answer.status)

    return send


def _fine(status: int) -> None:
    if status >= 300:
        raise RuntimeError(f"answered {status}")
