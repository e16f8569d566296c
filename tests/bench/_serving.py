"""What benches stand on: servers as processes of their own to speak to over loopback, and packages fetched for one run."""

import http.client
import json
import os
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from makegood.settings import Settings
from tests.house.tree import ROOT
from tests.postgres import free_port

_WAIT_S = 30


@contextmanager
def served(settings: Settings) -> Iterator[int]:
    """Run the real server on a data folder, not paced; gives its port."""
    with _running("makegood", "serve", "--data", str(settings.data), "--port") as port:
        yield port


@contextmanager
def sunk(folder: Path) -> Iterator[int]:
    """Run the bare sink of `_sink.py` on a folder; gives its port."""
    with _running("tests.bench._sink", str(folder)) as port:
        yield port


@contextmanager
def _running(module: str, *words: str) -> Iterator[int]:
    port = free_port()
    path = os.pathsep.join([str(ROOT / "server"), str(ROOT)])
    environment = {**os.environ, "PYTHONPATH": path, "MAKEGOOD_SYNCS_PER_MINUTE": "1000000"}
    command = [sys.executable, "-m", module, *words, str(port)]
    server = subprocess.Popen(command, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    try:
        _wait_for(server, port)
        yield port
    finally:
        server.terminate()
        server.wait()


def _wait_for(server: subprocess.Popen[bytes], port: int) -> None:
    ends = time.monotonic() + _WAIT_S
    while server.poll() is None and time.monotonic() < ends:
        line = http.client.HTTPConnection("127.0.0.1", port, timeout=2)
        try:
            line.request("GET", "/healthz")
            if line.getresponse().status == 200:
                return
        except OSError:
            time.sleep(0.05)
        finally:
            line.close()
    raise RuntimeError(f"the server on port {port} did not start")


def fetched(folder: Path, packages: dict[str, str]) -> bool:
    """Have npm install these packages, by name and exact version, into a folder; tell whether they are there."""
    npm = shutil.which("npm")
    if npm is None:
        return False
    (folder / "package.json").write_text(json.dumps({"private": True, "dependencies": packages}))
    return not subprocess.run([npm, "install", "--silent", "--no-audit", "--no-fund"], cwd=folder, check=False).returncode
