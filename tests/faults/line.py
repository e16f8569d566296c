"""A phone on a real line: HTTP over loopback with a session of its own, and a line that can be cut at any byte."""

import http.client
import json
import socket
import struct
import threading
from dataclasses import dataclass, field
from hashlib import sha256
from typing import Any

from tests.make import Phone

BROKEN = (OSError, http.client.HTTPException)


class _WholeLines:
    """A reader that takes no half line for a whole one, as http.client does when a cut comes amid the headers."""

    def __init__(self, inner: Any) -> None:
        self._inner = inner

    def __getattr__(self, name: str) -> Any:
        return getattr(self._inner, name)

    def readline(self, *limit: int) -> bytes:
        line: bytes = self._inner.readline(*limit)
        if not line.endswith(b"\n"):
            raise ConnectionResetError("cut amid the headers")
        return line


class _WholeAnswer(http.client.HTTPResponse):
    def __init__(self, *given: Any, **named: Any) -> None:
        super().__init__(*given, **named)
        self.fp = _WholeLines(self.fp)  # type: ignore[assignment]


@dataclass
class Line:
    """One connection after the other to a server; `sent` counts the photo bytes handed to it."""

    port: int
    cookie: str
    csrf: str
    sent: int = field(default=0)
    connection: http.client.HTTPConnection | None = field(default=None)

    @classmethod
    def of(cls, phone: Phone, port: int) -> "Line":
        """Return a line under the session of a phone that enrolled in-process."""
        return cls(port, phone.client.get_cookie("makegood").value, phone.csrf)

    def ask(
        self, method: str, path: str, body: bytes | None = None, **headers: str
    ) -> tuple[int, Any, bytes]:
        """Send one request; return status, headers and body. After a cut the next one begins a new connection."""
        if self.connection is None:
            self.connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=20)
            self.connection.response_class = _WholeAnswer
        told = {"Cookie": f"makegood={self.cookie}", "X-CSRF": self.csrf, **headers}
        try:
            self.connection.request(method, path, body, told)
            answer = self.connection.getresponse()
            return answer.status, answer.headers, answer.read()
        except BROKEN:
            self.connection.close()
            self.connection = None
            raise

    def post(self, path: str, body: Any) -> dict[str, Any]:
        """Post JSON; the answer must be 200."""
        status, _, answer = self.ask(
            "POST", path, json.dumps(body).encode(), **{"Content-Type": "application/json"}
        )
        assert status == 200, answer
        return json.loads(answer)

    def upload(self, site: str, content: bytes, chunk: int) -> bool:
        """Send a photo from where the server stands to its end; True once the server says it has it whole."""
        path = f"/api/blobs/{site}/{sha256(content).hexdigest()}"
        status, headers, _ = self.ask("HEAD", path)
        if status == 404:
            status, headers = self._send("PUT", f"{path}?length={len(content)}", content[:chunk])
            assert status in (200, 201), status
        while headers["Upload-Complete"] != "?1":
            offset = int(headers["Upload-Offset"])
            status, headers = self._send("PATCH", path, content[offset : offset + chunk], **{"Upload-Offset": str(offset)})
            assert status == 204, status
        return True

    def _send(self, method: str, path: str, part: bytes, **headers: str) -> tuple[int, Any]:
        self.sent += len(part)
        told = {"Content-Type": "application/offset+octet-stream", **headers}
        status, answered, _ = self.ask(method, path, part, **told)
        return status, answered


class Cutter:
    """A proxy that passes so many bytes in one direction and then resets the connection, once."""

    def __init__(self, port: int) -> None:
        self.target = port
        self.left: dict[str, int | None] = {"up": None, "down": None}
        self.cuts = 0
        self.listener = socket.create_server(("127.0.0.1", 0))
        self.port = int(self.listener.getsockname()[1])
        threading.Thread(target=self._accept, daemon=True).start()

    def cut_after(self, direction: str, count: int) -> None:
        """Cut once, after so many bytes in a direction ("up" is to the server)."""
        self.left[direction] = count

    def close(self) -> None:
        """Take no more connections."""
        self.listener.close()

    def _accept(self) -> None:
        while True:
            try:
                near, _ = self.listener.accept()
            except OSError:
                return
            far = socket.create_connection(("127.0.0.1", self.target))
            for one, other, direction in ((near, far, "up"), (far, near, "down")):
                threading.Thread(target=self._pump, args=(one, other, direction), daemon=True).start()

    def _pump(self, source: socket.socket, sink: socket.socket, direction: str) -> None:
        try:
            while content := source.recv(65536):
                left = self.left[direction]
                if left is not None and len(content) > left:
                    sink.sendall(content[:left])
                    self.left[direction] = None
                    self.cuts += 1
                    break
                if left is not None:
                    self.left[direction] = left - len(content)
                sink.sendall(content)
        except OSError:
            pass  # the other pump of this connection has closed it
        for end in (source, sink):
            # Zero seconds to linger: closing sends a reset, as a lost radio link in the end does.
            try:
                end.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
                end.shutdown(socket.SHUT_RDWR)  # wakes the other pump, which still reads from it
            except OSError:
                pass  # reset by the other side already
            end.close()
