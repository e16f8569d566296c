"""Asking the server, and telling its answers from those of anything else on the line, as net/transport.ts has it."""

import json
from datetime import datetime
from typing import Any

from tests.simulate.kernel import pause
from tests.simulate.line import Letter, NotReached
from tests.simulate.phone.tab import Tab
from tests.simulate.server import Reply


class Refused(Exception):
    """The server, or a proxy on its behalf, said no."""

    def __init__(self, code: str, status: int) -> None:
        super().__init__(code)
        self.code, self.status = code, status


class Transport:
    """The line of one tab."""

    def __init__(self, tab: Tab) -> None:
        self.tab = tab
        self.problem: str | None = None

    async def send(self, method: str, url: str, headers: dict[str, str], body: bytes = b"") -> Reply:
        """Send one request; raises NotReached when no whole answer comes."""
        sent = {"Cookie": f"makegood={self.tab.phone.session}", **headers}
        if method not in ("GET", "HEAD"):
            sent["X-CSRF"] = (self.tab.me or {}).get("csrf", "")
        reply: Reply = await pause(Letter(self.tab.phone.number, method, url, sent, body))
        return reply

    async def ask(self, method: str, url: str, json_body: Any = None) -> Any:
        """Ask with JSON and get JSON of our own server."""
        asked = self.tab.phone.local()
        headers = {} if json_body is None else {"Content-Type": "application/json"}
        raw = b"" if json_body is None else json.dumps(json_body).encode()
        reply = await self.send(method, url, headers, raw)
        answer = read_json(reply)
        if reply.status >= 300:
            raise refusal_of(reply)
        if answer is None:
            raise NotReached("the answer was not ours")
        if isinstance(answer.get("now"), str):
            self.tab.learn_clock(datetime.fromisoformat(answer["now"]), asked)
        return answer


def refusal_of(reply: Reply) -> Exception:
    """Return the refusal in a failed answer; what is not in our error shape did not come from our server."""
    answer = read_json(reply)
    if answer and isinstance(answer.get("code"), str):
        return Refused(answer["code"], reply.status)
    if reply.status in (413, 429):
        return Refused("too_large" if reply.status == 413 else "too_many_tries", reply.status)
    return NotReached(f"status {reply.status} without our error shape")


def read_json(reply: Reply) -> Any:
    """Return the JSON of an answer that says it is JSON, and is; None for anything else."""
    answer = reply.json() if "json" in reply.headers.get("Content-Type", "") else None
    return answer if isinstance(answer, dict) else None
