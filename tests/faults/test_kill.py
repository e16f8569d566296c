"""The real server killed (signal 9) again and again under load: nothing it acknowledged is lost, nothing is torn.

Killing a process leaves the kernel's page cache, so this shows nothing about power cuts; for those the database runs
with synchronous=FULL and photo files are flushed before they get their names. MAKEGOOD_KILLS sets how often (default 8).
"""

import os
import random
import signal
import subprocess
import sys
import threading
import time
from hashlib import sha256

import pytest

from makegood.__main__ import main
from makegood.app import create_app
from tests.api.test_photos import picture
from tests.faults.line import BROKEN, Line
from tests.make import make_grounds, make_id, make_op
from tests.postgres import free_port

KILLS = int(os.environ.get("MAKEGOOD_KILLS", "8"))
LOADERS, OPS_AT_ONCE, CHUNK = 3, 10, 32 * 1024


@pytest.fixture
def settings(sqlite_settings):
    """SQLite only: PostgreSQL is no part of the process that is killed."""
    return sqlite_settings


class Server:
    """The real server as a process that can be killed."""

    def __init__(self, settings, port):
        self.words = [
            sys.executable,
            "-m",
            "makegood",
            "serve",
            "--data",
            str(settings.data),
            "--port",
            str(port),
        ]
        self.port = port
        self.start()

    def start(self):
        environment = {**os.environ, "MAKEGOOD_SYNCS_PER_MINUTE": "100000"}
        self.process = subprocess.Popen(
            self.words, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )

    def kill(self):
        self.process.send_signal(signal.SIGKILL)
        self.process.wait()


class Load:
    """Phones that send without pause, and what the server has acknowledged to them."""

    def __init__(self, grounds, port):
        self.grounds, self.port = grounds, port
        self.over = threading.Event()
        self.ops, self.photos, self.faults = [], [], []
        self.unanswered = 0
        senders = [self._push] * LOADERS + [self._send_photos]
        self.threads = [threading.Thread(target=self._keep, args=(one,)) for one in senders]
        for thread in self.threads:
            thread.start()

    def _keep(self, send):
        line = Line.of(self.grounds.keeper, self.port)
        while not self.over.is_set():
            try:
                send(line)
            except BROKEN:
                self.unanswered += 1
                time.sleep(0.05)
            except AssertionError as fault:
                self.faults.append(fault)
                return

    def _push(self, line):
        defects = [self.grounds.op("defect", note=make_id()) for _ in range(OPS_AT_ONCE)]
        results = line.post("/api/sync/push", {"v": 1, "epoch": None, "ops": defects})["results"]
        assert [one["st"] for one in results] == ["applied"] * OPS_AT_ONCE
        self.ops += [
            (op["id"], op["set"]["note"], one["rev"]) for op, one in zip(defects, results, strict=True)
        ]

    def _send_photos(self, line):
        content = picture(size=(320, 240))
        fields = {
            "of_type": "elevation",
            "of_id": self.grounds.elevation,
            "sha256": sha256(content).hexdigest(),
            "bytes": len(content),
        }
        row = make_op("photo", self.grounds.site, set=fields)
        while not self.over.is_set():
            try:
                line.post("/api/sync/push", {"v": 1, "epoch": None, "ops": [row]})
                if line.upload(self.grounds.site, content, CHUNK):
                    self.photos.append((row["id"], content))
                    return
            except BROKEN:
                self.unanswered += 1
                time.sleep(0.05)

    def stop(self):
        self.over.set()
        for thread in self.threads:
            thread.join()


def wait_until_it_answers(port):
    """Wait for the server to come up."""
    line = Line(port, "", "")
    for _ in range(400):
        try:
            return line.ask("GET", "/healthz")
        except BROKEN:
            time.sleep(0.05)
    raise AssertionError("the server did not come up")


def test_killed_server_loses_nothing_it_acknowledged(settings, capsys):
    grounds = make_grounds(create_app(settings))
    port, chance = free_port(), random.Random(3)
    server = Server(settings, port)
    wait_until_it_answers(port)
    load = Load(grounds, port)
    for _ in range(KILLS):
        time.sleep(0.2 + chance.random() * 0.8)
        server.kill()
        server.start()
        wait_until_it_answers(port)
    time.sleep(0.3)
    load.stop()
    server.kill()
    assert not load.faults, load.faults[0]
    assert len(load.ops) > 10 * KILLS
    assert load.photos
    grounds.keeper.pull()
    for row_id, note, rev in load.ops:
        row = grounds.keeper.row("defect", row_id)
        assert (row["note"], row["rev"]) == (note, rev)
    for photo, content in load.photos:
        answer = grounds.keeper.client.get(f"/api/photos/{grounds.site}/{photo}/original")
        assert answer.data == content
    assert main(["check", "--data", str(settings.data)]) == 0, capsys.readouterr()
    capsys.readouterr()
    with capsys.disabled():
        kept = f"{len(load.ops)} acknowledged changes and {len(load.photos)} photos, nothing lost"
        sys.stdout.write(f"\n{KILLS} kills: {kept}; {load.unanswered} requests unanswered\n")
