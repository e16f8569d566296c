"""A photo whose line is cut at a random byte arrives with the same hash, and at most one chunk is sent again.

MAKEGOOD_CUTS sets how many photos are sent, each cut once (default 50).
"""

import os
import random
import threading
from hashlib import sha256

import pytest
from waitress.server import create_server

from tests.api.test_photos import picture
from tests.faults.line import BROKEN, Cutter, Line
from tests.make import make_grounds

CUTS = int(os.environ.get("MAKEGOOD_CUTS", "50"))
CHUNK = 64 * 1024


@pytest.fixture
def served(app):
    """A site behind a real socket: its grounds and port."""
    grounds = make_grounds(app)
    server = create_server(app, host="127.0.0.1", port=0, threads=4)
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    yield grounds, server.effective_port
    server.close()


def test_photo_cut_at_any_byte_arrives_whole_and_costs_one_chunk_at_most(served):
    grounds, port = served
    chance = random.Random(7)
    cutter = Cutter(port)
    for n in range(CUTS):
        content = picture(size=(400, 300))
        line = Line.of(grounds.keeper, cutter.port)
        direction = "down" if n % 4 == 3 else "up"
        headers = 400 * (2 + len(content) // CHUNK)
        cutter.cut_after(
            direction, chance.randrange(len(content) + headers if direction == "up" else headers)
        )
        for _ in range(5):
            try:
                if line.upload(grounds.site, content, CHUNK):
                    break
            except BROKEN:
                continue
        cutter.cut_after(direction, 10**12)
        assert line.sent - len(content) <= CHUNK, (n, direction)
        where = {"of_type": "elevation", "of_id": grounds.elevation}
        photo = grounds.add("photo", sha256=sha256(content).hexdigest(), bytes=len(content), **where)
        status, _, kept = line.ask("GET", f"/api/photos/{grounds.site}/{photo}/original")
        assert (status, kept == content) == (200, True)
    cutter.close()
    assert cutter.cuts > CUTS * 0.6
