"""The guide at /lan: what trusting the certificate means, the certificate itself, each step with its picture."""

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from html import escape
from http import HTTPStatus
from typing import Any

from makegood.lan.drawing import draw
from makegood.lan.words import KINDS, Book
from makegood.lan.words.en import EN
from makegood.lan.words.es import ES

BOOKS = {"en": EN, "es": ES}
CERTIFICATE, LOOKS = "/lan/makegood-ca.crt", "/lan/guide.css"
_PAIRS_A_LINE = 8
_CSS = """
*{box-sizing:border-box}
body{margin:0 auto;max-width:46rem;padding:16px;background:#f8f5ee;color:#211d18;
 font:1.0625rem/1.5 system-ui,-apple-system,"Segoe UI",Roboto,"Noto Sans","DejaVu Sans",sans-serif}
h1,h2{font-family:"Iowan Old Style",Palatino,"Noto Serif","DejaVu Serif",Georgia,serif;line-height:1.2;margin:0 0 .5rem}
h1{font-size:1.6rem}h2{font-size:1.25rem}p{margin:0 0 .7rem}a{color:#26365f}
header{display:flex;flex-wrap:wrap;align-items:center;justify-content:space-between;gap:8px;margin-bottom:8px}
.other{display:inline-grid;place-items:center;min-height:48px;padding:0 8px}
section,details{background:#fffdf8;border:1px solid #d9d0c0;border-radius:14px;padding:14px;margin:0 0 12px}
.caution{border-left:6px solid #83361a}
.deed{display:grid;place-items:center;min-height:56px;padding:10px 16px;border-radius:12px;background:#26365f;color:#fff;
 font-weight:600;text-decoration:none;text-align:center}
details{padding:0 14px}details[open]{padding-bottom:14px}
summary{min-height:56px;display:flex;align-items:center;gap:10px;font-weight:700;cursor:pointer}
summary::before{content:"\\25B8";font-size:1.3rem}details[open]>summary::before{content:"\\25BE"}
ol{list-style:none;margin:8px 0 0;padding:0;display:grid;gap:18px;grid-template-columns:repeat(auto-fill,minmax(17rem,1fr))}
ol b{font-size:1.25rem;margin-right:6px}svg{display:block;width:100%;max-width:20rem;height:auto;margin-bottom:6px}
code{display:block;font:700 1rem/1.7 ui-monospace,"DejaVu Sans Mono",monospace;letter-spacing:.02em}
:focus-visible{outline:3px solid #26365f;outline-offset:2px}
"""


@dataclass(frozen=True)
class Page:
    """One answer of the door itself."""

    status: HTTPStatus
    content: bytes = b""
    kind: str = "text/plain; charset=utf-8"
    headers: list[tuple[str, str]] = field(default_factory=list)

    @classmethod
    def of_json(cls, status: HTTPStatus, told: Mapping[str, Any]) -> "Page":
        """Return a refusal in the one shape of the API."""
        return cls(status, json.dumps(told).encode(), "application/json")


@dataclass
class Guide:
    """The guide of one server; `addresses` change when the network gives others."""

    certificate: bytes
    fingerprint: str
    name: str
    port: int
    until: str
    addresses: list[str]
    name_is_told: bool = True

    @property
    def origin(self) -> str:
        """Where phones open the app: by name, or by address where the network does not know the name."""
        return https(self.name if self.name_is_told else self.addresses[0], self.port)

    def page(self, path: str, environ: Mapping[str, Any]) -> Page:
        """Return what lies at a path below /lan."""
        if environ["REQUEST_METHOD"] not in {"GET", "HEAD"}:
            return Page(HTTPStatus.METHOD_NOT_ALLOWED, b"This page can only be read.\n", headers=[("Allow", "GET, HEAD")])
        if path == CERTIFICATE:
            return Page(HTTPStatus.OK, self.certificate, "application/x-x509-ca-cert")
        if path == LOOKS:
            return Page(HTTPStatus.OK, _CSS.encode(), "text/css; charset=utf-8")
        if path.rstrip("/") != "/lan":
            return Page(HTTPStatus.NOT_FOUND, b"There is nothing here. The guide is at /lan\n")
        language = _language(str(environ.get("QUERY_STRING", "")), str(environ.get("HTTP_ACCEPT_LANGUAGE", "")))
        text = self.text(BOOKS[language], _kind(str(environ.get("HTTP_USER_AGENT", ""))))
        return Page(HTTPStatus.OK, text.encode(), "text/html; charset=utf-8")

    def text(self, book: Book, kind: str) -> str:
        """Return the guide in one language, the steps for one kind of device open."""
        say = {key: escape(one) for key, one in book.sentences.items()}
        language = say["language"]
        other = "es" if language == "en" else "en"
        parts = [
            f'<!doctype html><html lang="{language}"><head><meta charset="utf-8">'
            '<meta name="viewport" content="width=device-width, initial-scale=1">'
            f'<title>{say["title"]}</title><link rel="stylesheet" href="{LOOKS}"></head><body>',
            f'<header><h1>{say["title"]}</h1><a class="other" lang="{other}" href="/lan?language={other}">{say["other"]}</a>'
            f'</header><main><p>{say["lead"]}</p>',
            self._meaning(say),
            f'<h2>{say["how"]}</h2><p>{say["names_differ"]}</p>',
            *(_steps(book, one, one == kind) for one in KINDS),
            self._compare(say),
            self._opening(say),
            _removing(book, say),
            "</main></body></html>",
        ]
        return "".join(parts)

    def _meaning(self, say: Mapping[str, str]) -> str:
        told = "".join(f"<p>{say[one]}</p>" for one in ("mean_name", "mean_no", "mean_key", "mean_who"))
        return (
            f'<section class="caution"><h2>{say["mean"]}</h2>{told.format(name=f"<b>{escape(self.name)}</b>")}</section>'
            f'<p><a class="deed" href="{CERTIFICATE}">{say["fetch"]}</a></p>'
            f'<p>{say["fetch_again"]} {say["until"].format(until=self.until)}</p>'
        )

    def _compare(self, say: Mapping[str, str]) -> str:
        lines = "".join(f"<code>{line}</code>" for line in in_lines(self.fingerprint))
        return f'<section class="caution"><h2>{say["compare"]}</h2><p>{say["compare_say"]}</p>{lines}</section>'

    def _opening(self, say: Mapping[str, str]) -> str:
        links = ", ".join(f'<a href="{one}">{one}</a>' for one in (https(at, self.port) for at in self.addresses))
        by_address = say["open_address" if self.name_is_told else "open_no_name"].format(links=links)
        return (
            f'<section><h2>{say["open"]}</h2><p><a class="deed" href="{self.origin}">{say["open_name"]}</a></p>'
            f'<p>{say["open_say"]}</p><p>{by_address} {say["address_own"]}</p></section>'
        )


def https(host: str, port: int) -> str:
    """Return the address of the app at a host."""
    return f"https://{host}" if port == 443 else f"https://{host}:{port}"


def in_lines(fingerprint: str) -> list[str]:
    """Return a fingerprint in lines short enough to compare by eye."""
    pairs = fingerprint.split(":")
    return [":".join(pairs[n : n + _PAIRS_A_LINE]) for n in range(0, len(pairs), _PAIRS_A_LINE)]


def _steps(book: Book, kind: str, is_open: bool) -> str:
    steps = "".join(
        f"<li>{draw(one, book.sentences['tap'])}<b>{n}</b>{escape(one.says)}</li>" for n, one in enumerate(book.steps[kind], 1)
    )
    return f"<details{' open' if is_open else ''}><summary>{escape(book.sentences[kind])}</summary><ol>{steps}</ol></details>"


def _removing(book: Book, say: Mapping[str, str]) -> str:
    ways = "".join(f"<p><b>{say[kind]}.</b> {escape(book.removal[kind])}</p>" for kind in KINDS)
    return f'<section><h2>{say["remove"]}</h2><p>{say["remove_say"]}</p>{ways}</section>'


def _language(query: str, accepted: str) -> str:
    for language in BOOKS:
        if query == f"language={language}":
            return language
    return "es" if accepted.strip().lower().startswith("es") else "en"


def _kind(agent: str) -> str:
    if "Android" in agent:
        return "android"
    return "iphone" if "iPhone" in agent or "iPad" in agent else "laptop"
