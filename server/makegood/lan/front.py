"""One port for phones: https and plain http alike are passed on, byte by byte, to the server on the loopback.

Nothing of what passes is read or changed. Who is calling, and whether by https, is told beside the line: by the port
from which the front calls the server, so no caller can forge it.
"""

import asyncio
import logging
import socket
import ssl
import threading
from collections import Counter
from dataclasses import dataclass
from pathlib import Path

from makegood.errors import BadInput

# A phone opens six lines at most to one address, a tab more of its own; the server behind takes 100.
MOST_OPEN, MOST_EACH = 100, 24
_PATIENCE_S = 10.0
_STUCK_S = 120.0
_SHUT_S = 5.0
_CHUNK_BYTES = 65_536
# The first byte of a TLS record that begins a conversation (RFC 8446, 5.1); no word of http begins with it.
_TLS_HELLO = b"\x16"
log = logging.getLogger(__name__)


@dataclass(frozen=True)
class Caller:
    """Who is at the other end of a line."""

    address: str
    https: bool


def listen(host: str, port: int) -> socket.socket:
    """Open the port; raises BadInput if it is taken."""
    try:
        listener = socket.create_server((host, port), backlog=128)
    except OSError as why:
        raise BadInput(
            "port_refused", f"Port {port} cannot be used ({why.strerror}). Choose another with --port."
        ) from why
    listener.setblocking(False)
    return listener


def tls_of(pem: Path) -> ssl.SSLContext:
    """Return the server's side of https with the certificate and key of a file."""
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.minimum_version = ssl.TLSVersion.TLSv1_2
    context.set_alpn_protocols(["http/1.1"])
    context.load_cert_chain(pem)
    return context


class Front:
    """Passes lines on in a thread of its own; `callers` tells who calls, by the port the front calls from."""

    def __init__(self, listener: socket.socket, tls: ssl.SSLContext, server_port: int) -> None:
        self.callers: dict[int, Caller] = {}
        self._listener, self.tls, self._server_port = listener, tls, server_port
        self._open: Counter[str] = Counter()
        self._lines: set[asyncio.Task[None]] = set()
        self._ready = threading.Event()
        self._thread = threading.Thread(target=self._run, daemon=True)

    def start(self) -> None:
        """Begin to take lines."""
        self._thread.start()
        self._ready.wait()

    def stop(self) -> None:
        """Cut every line and close the port."""
        self._loop.call_soon_threadsafe(self._accepting.cancel)
        self._thread.join()
        self._listener.close()

    def _run(self) -> None:
        # The other kind of loop, usual on Windows, cannot wait for a line without reading from it.
        with asyncio.Runner(loop_factory=asyncio.SelectorEventLoop) as runner:
            try:
                runner.run(self._accept())
            except asyncio.CancelledError:
                return

    async def _accept(self) -> None:
        self._loop = asyncio.get_running_loop()
        self._loop.set_exception_handler(lambda _, told: log.debug("a line broke: %s", told.get("message")))
        accepting = asyncio.current_task()
        assert accepting is not None
        self._accepting = accepting
        self._ready.set()
        while True:
            try:
                line, (address, *_) = await self._loop.sock_accept(self._listener)
            except OSError:
                await asyncio.sleep(0.2)  # out of file handles: those that close meanwhile give some back
                continue
            if self._open.total() >= MOST_OPEN or self._open[address] >= MOST_EACH:
                line.close()
                continue
            task = self._loop.create_task(self._attend(line, address))
            self._lines.add(task)
            task.add_done_callback(self._lines.discard)

    async def _attend(self, line: socket.socket, address: str) -> None:
        self._open[address] += 1
        try:
            async with asyncio.timeout(_PATIENCE_S):
                first = await _first_byte(self._loop, line)
            if first:
                await self._pass_on(line, Caller(address, https=first == _TLS_HELLO))
        except OSError as why:
            log.debug("a line from %s broke: %s", address, why)
        finally:
            line.close()
            self._open[address] -= 1
            if not self._open[address]:
                del self._open[address]

    async def _pass_on(self, line: socket.socket, caller: Caller) -> None:
        near, near_out = await self._greet(line, caller)
        try:
            far, far_out = await asyncio.open_connection("127.0.0.1", self._server_port)
        except OSError:
            near_out.close()
            raise
        port: int = far_out.get_extra_info("sockname")[1]
        self.callers[port] = caller
        asking = self._loop.create_task(_ask(near, far_out))
        try:
            await _answer(far, near_out)
        finally:
            asking.cancel()
            del self.callers[port]
            far_out.close()
            near_out.close()

    async def _greet(self, line: socket.socket, caller: Caller) -> tuple[asyncio.StreamReader, asyncio.StreamWriter]:
        reader = asyncio.StreamReader(limit=_CHUNK_BYTES)
        protocol = asyncio.StreamReaderProtocol(reader)
        secured = (
            {"ssl": self.tls, "ssl_handshake_timeout": _PATIENCE_S, "ssl_shutdown_timeout": _SHUT_S} if caller.https else {}
        )
        transport, _ = await self._loop.connect_accepted_socket(lambda: protocol, line, **secured)  # type: ignore[arg-type]
        return reader, asyncio.StreamWriter(transport, protocol, reader, self._loop)


async def _first_byte(loop: asyncio.AbstractEventLoop, line: socket.socket) -> bytes:
    """Return the first byte of a line without taking it; empty if the caller has gone."""
    while True:
        try:
            return line.recv(1, socket.MSG_PEEK)
        except BlockingIOError:
            await _readable(loop, line)


async def _readable(loop: asyncio.AbstractEventLoop, line: socket.socket) -> None:
    told = asyncio.Event()
    loop.add_reader(line, told.set)
    try:
        await told.wait()
    finally:
        loop.remove_reader(line)


async def _ask(near: asyncio.StreamReader, far_out: asyncio.StreamWriter) -> None:
    try:
        while chunk := await near.read(_CHUNK_BYTES):
            far_out.write(chunk)
            await far_out.drain()
    except OSError as why:
        log.debug("a caller broke off: %s", why)
    # Half closed: the server ends what it has begun, then closes its side.
    if not far_out.is_closing():
        far_out.write_eof()


async def _answer(far: asyncio.StreamReader, near_out: asyncio.StreamWriter) -> None:
    """Pass answers on until the server closes; for a caller who left they are read all the same, and dropped."""
    while chunk := await far.read(_CHUNK_BYTES):
        if near_out.is_closing():
            continue
        near_out.write(chunk)
        try:
            async with asyncio.timeout(_STUCK_S):
                await near_out.drain()
        except OSError:
            near_out.transport.abort()
