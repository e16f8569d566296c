"""A browser on the farm's network: it trusts the authority and nothing else, and the app then works like any other https site."""

import http.client
import os
import re
import shutil
import socket
import ssl
import subprocess
import threading
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import serialization
from playwright.sync_api import Error, Playwright, expect

from makegood.lan.ca import read_authority
from tests.e2e import walk
from tests.e2e.conftest import FLAGS, PHONE, Device, Server
from tests.e2e.stops import faults
from tests.e2e.test_every_screen import violations
from tests.lan.test_ca import misuse

pytestmark = pytest.mark.e2e

ELSEWHERE = "bank.example"


@pytest.fixture
def farm(tmp_path):
    """`makegood serve --lan`, on the loopback only."""
    server = Server(["serve", "--lan", "--host", "127.0.0.1", "--data", str(tmp_path / "site")], tmp_path / "server.log")
    server.start()
    yield server
    server.stop()


def fetched(port):
    """Fetch the certificate from the guide, as a phone does."""
    line = http.client.HTTPConnection("127.0.0.1", port, timeout=10)
    line.request("GET", "/lan/makegood-ca.crt")
    content = line.getresponse().read()
    line.close()
    return content


def trust(home: Path, der: bytes) -> None:
    """Put an authority where Chromium looks for what this person trusts, in a throw-away home."""
    program = shutil.which("certutil")
    if program is None:
        pytest.skip("certutil (Debian: libnss3-tools) is not installed here")
    store = home / ".pki" / "nssdb"
    store.mkdir(parents=True)
    file = home / "authority.crt"
    file.write_bytes(der)
    for words in (["-N", "--empty-password"], ["-A", "-t", "C,,", "-n", "makegood", "-i", str(file)]):
        subprocess.run([program, "-d", f"sql:{store}", *words], check=True, capture_output=True)


@contextmanager
def device_that_trusts(driver: Playwright, home: Path, der: bytes, names: str):
    """A phone-sized browser with one more authority and some names of its own; certificate errors are errors."""
    trust(home, der)
    path = next(found for name in ("chromium", "chromium-browser", "google-chrome") if (found := shutil.which(name)))
    flags = [*FLAGS, f"--host-resolver-rules={names}"]
    chromium = driver.chromium.launch(executable_path=path, args=flags, env={**os.environ, "HOME": str(home)})
    context = chromium.new_context(viewport=PHONE, has_touch=True, locale="en-GB")
    context.set_default_timeout(15_000)
    yield Device(context)
    chromium.close()


@contextmanager
def impostor(folder: Path, name: str):
    """Somebody with the authority's key who shows a certificate for any name; says Yes to who believes it."""
    pair = misuse(read_authority(folder, datetime.now(UTC)), name)
    pem = folder / f"{name}.pem"
    plain = serialization.NoEncryption()
    key = pair.key.private_bytes(serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, plain)
    pem.write_bytes(pair.certificate.public_bytes(serialization.Encoding.PEM) + key)
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(pem)
    with socket.create_server(("127.0.0.1", 0)) as listener:
        threading.Thread(target=_shake_hands, args=(listener, context), daemon=True).start()
        yield listener.getsockname()[1]


def _shake_hands(listener, context):
    while True:
        try:
            line, _ = listener.accept()
            with context.wrap_socket(line, server_side=True) as safe:
                safe.recv(65536)
                safe.sendall(b"HTTP/1.1 200 OK\r\nContent-Length: 3\r\n\r\nYes")
        except ssl.SSLError:
            continue
        except OSError:
            return


def _told_by(device, folder, name):
    """Return what the browser shows of the impostor under a name, or its fault."""
    with impostor(folder, name) as port:
        page = device.context.new_page()
        try:
            page.goto(f"https://{name}:{port}/")
            return page.locator("body").inner_text()
        except Error as why:
            return re.sub(r".*(ERR_\w+).*", r"\1", why.message, flags=re.DOTALL)
        finally:
            page.close()


def test_phone_that_trusts_the_farm_works_without_signal_and_is_not_fooled_elsewhere(farm, driver, tmp_path):
    der = fetched(farm.port)
    name = x509.load_der_x509_certificate(der).subject.rfc4514_string()
    link = re.search(r"(https://(\S+\.local):\d+/join#\S+)", farm.said())
    assert link
    assert link.group(2) in name
    home = tmp_path / "home"
    names = f"MAP {link.group(2)} 127.0.0.1, MAP {ELSEWHERE} 127.0.0.1"
    with device_that_trusts(driver, home, der, names) as device:
        # The same key, the same way of making it: only the name differs.
        assert _told_by(device, tmp_path / "site", link.group(2)) == "Yes"
        assert _told_by(device, tmp_path / "site", ELSEWHERE) == "ERR_CERT_INVALID"
        page = device.page
        page.goto(f"{farm.address}/lan")
        assert violations(page) == []
        assert faults(page) == []
        page.get_by_role("link", name="Open Makegood").click()
        expect(page).to_have_url(re.compile(rf"^https://{re.escape(link.group(2))}:{farm.port}/"))
        walk.enrol(device, link.group(1), "Ada")
        assert page.evaluate("isSecureContext")
        walk.name_site(page, "Hollow Farm")
        walk.expect_sent(page)
        farm.stop()
        page = device.fresh_page()
        page.goto(link.group(1).partition("/join")[0])
        expect(page.get_by_role("heading", name="Hollow Farm")).to_be_visible()
        assert device.faults == []
