"""A line between the phone and the server that loses or damages what the test tells it to."""

import http.client
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from threading import Thread

_OF_ONE_HOP = {"connection", "transfer-encoding", "keep-alive"}


class BadLine:
    """Passes every request on; `drop_answers` and `damage` name what goes wrong, each `times` times."""

    def __init__(self, server_port: int) -> None:
        self.server_port = server_port
        self.answers: Counter[tuple[str, str, int]] = Counter()
        self._drop: list[tuple[str, str]] = []
        self._damage: list[tuple[str, str]] = []
        self._listener = ThreadingHTTPServer(("127.0.0.1", 0), self._handler())
        self.address = f"http://localhost:{self._listener.server_address[1]}"

    def drop_answers(self, method: str, path: str, times: int = 1) -> None:
        """Let requests reach the server and be acted on, but cut the line before the answer."""
        self._drop += [(method, path)] * times

    def damage(self, method: str, path: str, times: int = 1) -> None:
        """Turn over one bit in the middle of the body on its way up."""
        self._damage += [(method, path)] * times

    def statuses(self, method: str, path: str) -> list[int]:
        """Return which statuses the server gave to such requests, each as often as it did."""
        found = [(s, n) for (m, p, s), n in self.answers.items() if m == method and p.startswith(path)]
        return sorted(s for s, n in found for _ in range(n))

    @contextmanager
    def up(self) -> Iterator["BadLine"]:
        """Listen while the test runs."""
        thread = Thread(target=self._listener.serve_forever, daemon=True)
        thread.start()
        yield self
        self._listener.shutdown()
        self._listener.server_close()

    def _meets(self, faults: list[tuple[str, str]], method: str, path: str) -> bool:
        found = next((one for one in faults if one[0] == method and path.startswith(one[1])), None)
        if found:
            faults.remove(found)
        return found is not None

    def _carry(self, asked: BaseHTTPRequestHandler) -> None:
        body = bytearray(asked.rfile.read(int(asked.headers.get("Content-Length") or 0)))
        if body and self._meets(self._damage, asked.command, asked.path):
            body[len(body) // 2] ^= 1
        there = http.client.HTTPConnection("127.0.0.1", self.server_port, timeout=60)
        headers = {name: value for name, value in asked.headers.items() if name.lower() not in _OF_ONE_HOP}
        there.request(asked.command, asked.path, bytes(body) or None, headers)
        answer = there.getresponse()
        content = answer.read()
        there.close()
        self.answers[asked.command, asked.path, answer.status] += 1
        if self._meets(self._drop, asked.command, asked.path):
            asked.close_connection = True
            return
        asked.send_response_only(answer.status, answer.reason)
        for name, value in answer.getheaders():
            if name.lower() not in _OF_ONE_HOP:
                asked.send_header(name, value)
        if answer.getheader("Content-Length") is None:
            asked.send_header("Content-Length", str(len(content)))
        asked.end_headers()
        asked.wfile.write(content)

    def _handler(self) -> Callable[..., BaseHTTPRequestHandler]:
        line = self

        class Handler(BaseHTTPRequestHandler):
            def _any(self) -> None:
                try:
                    line._carry(self)
                except OSError:
                    # The server is down, or the page went away: either way nothing comes back.
                    self.close_connection = True

            do_GET = do_POST = do_PUT = do_PATCH = do_HEAD = do_DELETE = _any  # noqa: N815

            def log_message(self, *words: object) -> None:
                """Keep the test's output free of every request."""

        return Handler
