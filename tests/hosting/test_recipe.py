"""The hosted recipe as far as one machine allows: the shipped files, a real Caddy, a real PostgreSQL, a mock of a bucket.

Only names, ports and secrets are put in, and the proxy makes its certificate itself instead of asking a public authority.
"""

import hashlib
import json
import os
import re
import shlex
import shutil
import signal
import ssl
import subprocess
import sys
import time
from contextlib import contextmanager
from pathlib import Path

import boto3
import psycopg
import pytest
from moto.server import ThreadedMotoServer

from tests.api.test_photos import picture
from tests.house.tree import ROOT
from tests.lan.lines import ask, line
from tests.make import make_id, make_op
from tests.postgres import free_port

SHIPPED = ROOT / "server" / "hosting"
NAME, BUCKET = "walls.example", "walls"
UP_WITHIN_S = 60
_PROXY_ON_ONE_MACHINE = """{
	admin off
	local_certs
	skip_install_trust
	auto_https disable_redirects
}
import %s
"""


def shipped_settings(**put_in):
    """Return the settings of the shipped file with what must be put in; a name that is not in the file is a mistake."""
    lines = (SHIPPED / "makegood.env").read_text().splitlines()
    found = dict(one.split("=", 1) for one in lines if one and not one.startswith("#"))
    assert put_in.keys() <= found.keys()
    return {**found, **put_in}


def shipped_command(data, port):
    """Return the command of the shipped service, run by this Python on this folder and port."""
    found = re.search(r"^ExecStart=(\S+/makegood) (serve .*)$", (SHIPPED / "makegood.service").read_text(), re.MULTILINE)
    assert found
    words = [str(data) if one == "/var/lib/makegood" else one for one in shlex.split(found.group(2))]
    assert str(data) in words
    return [sys.executable, "-m", "makegood", *words, "--port", str(port)]


@contextmanager
def process(command, log, environment, up):
    """Run a command until the test leaves; `up` tells when it answers."""
    with log.open("wb") as out:
        running = subprocess.Popen(command, stdout=out, stderr=subprocess.STDOUT, env={**os.environ, **environment})
    try:
        ends = time.monotonic() + UP_WITHIN_S
        while not up() and running.poll() is None and time.monotonic() < ends:
            time.sleep(0.1)
        assert up(), log.read_text()
        yield
    finally:
        running.send_signal(signal.SIGINT)
        assert running.wait(30) == 0, log.read_text()


@pytest.fixture(scope="module")
def service(tmp_path_factory):
    """The address of an S3 service with one bucket, keys and all in the environment."""
    port = free_port()
    server = ThreadedMotoServer("127.0.0.1", port, verbose=False)
    server.start()
    yield f"http://127.0.0.1:{port}"
    server.stop()


@pytest.fixture
def hosted(service, postgres_settings, tmp_path):
    """(port of the proxy, whom to trust, what Makegood printed, its data folder, the bucket's client)."""
    keys = {"aws_access_key_id": "only-for-tests", "aws_secret_access_key": "only-for-tests", "region_name": "us-east-1"}
    bucket = boto3.client("s3", endpoint_url=service, **keys)
    bucket.create_bucket(Bucket=BUCKET)
    settings = shipped_settings(
        DATABASE_URL=postgres_settings.database_url,
        MAKEGOOD_PHOTO_BUCKET=BUCKET,
        MAKEGOOD_PHOTO_BUCKET_URL=service,
        AWS_ACCESS_KEY_ID=keys["aws_access_key_id"],
        AWS_SECRET_ACCESS_KEY=keys["aws_secret_access_key"],
    )
    inner, outer, data = free_port(), free_port(), tmp_path / "data"
    log = tmp_path / "makegood.log"
    told = tmp_path / "Caddyfile"
    told.write_text(_PROXY_ON_ONE_MACHINE % (SHIPPED / "Caddyfile"))
    home = {"HOME": str(tmp_path), "XDG_DATA_HOME": str(tmp_path / "proxy"), "XDG_CONFIG_HOME": str(tmp_path / "proxy")}
    proxied = {"MAKEGOOD_SITE": f"{NAME}:{outer}", "MAKEGOOD_UPSTREAM": f"127.0.0.1:{inner}", **home}
    root = tmp_path / "proxy" / "caddy" / "pki" / "authorities" / "local" / "root.crt"
    paced = {"MAKEGOOD_ENROLS_PER_MINUTE": "2"}
    proxy = ["caddy", "run", "--config", told, "--adapter", "caddyfile"]
    with (
        process(shipped_command(data, inner), log, {**settings, **paced}, lambda: "running on" in log.read_text()),
        process(proxy, tmp_path / "proxy.log", proxied, lambda: _up(outer, root)),
    ):
        yield Hosted(outer, ssl.create_default_context(cafile=str(root)), log.read_text(), data, bucket)


class Hosted:
    """A hosted Makegood, met from outside."""

    def __init__(self, port, trust, said, data, bucket):
        self.port, self.trust, self.said, self.data, self.bucket = port, trust, said, data, bucket

    def line(self, caller="127.0.0.1"):
        return line(self.port, self.trust, caller, NAME)


def _up(port: int, root: Path) -> bool:
    try:
        return root.is_file() and ask(line(port, ssl.create_default_context(cafile=str(root)), name=NAME), "/healthz")[0] == 200
    except (OSError, ssl.SSLError):
        return False


@pytest.mark.skipif(shutil.which("caddy") is None, reason="caddy (Debian: caddy) is not installed here")
def test_enrol_push_photo_pull_over_proxy_database_and_bucket(hosted, postgres_settings):
    one = hosted.line()
    link = re.search(rf"https://{re.escape(NAME)}/join#(\S+)", hosted.said)
    assert link, hosted.said
    status, headers, content = ask(one, "/api/enrol", {"token": link.group(1), "person": "Ada", "device_name": "phone"})
    assert status == 201, content
    me, cookie = json.loads(content), headers["Set-Cookie"].partition(";")[0]
    assert cookie.startswith("__Host-makegood=")
    assert "Secure" in headers["Set-Cookie"]
    assert headers["Strict-Transport-Security"] == "max-age=31536000"
    session = {"Cookie": cookie, "X-CSRF": me["csrf"]}
    site, structure, wall, photo, shot = make_id(), make_id(), make_id(), make_id(), picture()
    sha256 = hashlib.sha256(shot).hexdigest()
    ops = [
        make_op("site", site),
        make_op("structure", site, structure),
        make_op("elevation", site, wall, set={"structure_id": structure}),
        make_op("photo", site, photo, set={"of_type": "elevation", "of_id": wall, "sha256": sha256, "bytes": len(shot)}),
    ]
    _, _, content = ask(one, "/api/sync/push", {"v": 1, "epoch": me["epoch"], "ops": ops}, **session)
    assert [row["st"] for row in json.loads(content)["results"]] == ["applied"] * 4, content
    path = f"/api/blobs/{site}/{sha256}"
    assert _send(one, "PUT", f"{path}?length={len(shot)}", b"", session)[0] == 201
    status, headers = _send(one, "PATCH", path, shot, {**session, "Upload-Offset": "0"})
    assert (status, headers["Upload-Complete"]) == (204, "?1")
    body = {"v": 1, "epoch": me["epoch"], "since": {}, "limit": 500}
    _, _, content = ask(hosted.line(), "/api/sync/pull", body, **session)
    assert {row["type"] for row in json.loads(content)["rows"]} == {"site", "structure", "elevation", "photo"}
    assert ask(one, f"/api/photos/{site}/{photo}/original", **session)[2] == shot
    assert ask(one, f"/api/photos/{site}/{photo}/400", **session)[2][:3] == b"\xff\xd8\xff"
    # What was kept lies where the settings say, and nowhere else.
    assert hosted.bucket.get_object(Bucket=BUCKET, Key=f"{site}/blobs/{sha256}")["Body"].read() == shot
    with psycopg.connect(postgres_settings.database_url) as connection:
        assert connection.execute("SELECT name FROM site WHERE site_id = %s", (site,)).fetchone() == ("Hollow Farm",)
    assert [path for path in hosted.data.rglob("*") if path.is_file()] == []

    def guess(caller, told_for):
        body = {"token": "guess", "person": "Ada", "device_name": "phone"}
        return ask(hosted.line(caller), "/api/enrol", body, **{"X-Forwarded-For": told_for})[0]

    assert [guess("127.0.0.8", f"203.0.113.{n}") for n in range(3)] == [404, 404, 429]
    assert guess("127.0.0.9", "203.0.113.0") == 404


def _send(one, method, path, content, headers):
    one.request(method, path, content, {"Content-Type": "application/offset+octet-stream", **headers})
    answer = one.getresponse()
    answer.read()
    return answer.status, answer.headers
