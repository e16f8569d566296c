"""What every response tells the browser to refuse, and the packing of long answers."""

import gzip

from flask import Response, request

_POLICY = "; ".join(
    (
        "default-src 'self'",
        "img-src 'self' blob:",
        "object-src 'none'",
        "base-uri 'none'",
        "form-action 'self'",
        "frame-ancestors 'none'",
        "worker-src 'self'",
        "require-trusted-types-for 'script'",
        "trusted-types makegood",
    )
)
_ALWAYS = {
    "Content-Security-Policy": _POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Permissions-Policy": "camera=(self), geolocation=(self), microphone=()",
    "X-Robots-Tag": "noindex, nofollow",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}


# Only answers without a secret: packed together with words from outside, the length would tell of it.
_PACKED_PATHS = frozenset({"/api/sync/pull", "/api/catalogue"})
_LEAST_BYTES = 1400
# 256 KiB of rows to 26 KiB in 2 ms; harder squeezing gains 4 % for four times as long.
_LEVEL = 5


def pack_answer(response: Response) -> Response:
    """Gzip a long answer where the browser takes that: a line in a village is slow."""
    if request.path not in _PACKED_PATHS or response.status_code != 200:
        return response
    response.vary.add("Accept-Encoding")
    content = response.get_data()
    if len(content) < _LEAST_BYTES or request.accept_encodings.quality("gzip") <= 0:
        return response
    response.set_data(gzip.compress(content, _LEVEL, mtime=0))
    response.headers["Content-Encoding"] = "gzip"
    tag, _ = response.get_etag()
    if tag:
        # The same meaning in other bytes.
        response.set_etag(tag, weak=True)
    return response


def add_headers(response: Response) -> Response:
    """Add the headers a view did not set itself."""
    for name, value in _ALWAYS.items():
        response.headers.setdefault(name, value)
    if request.path.startswith("/api/"):
        response.headers.setdefault("Cache-Control", "no-store")
    host = request.host.split(":")[0]
    # A browser that has once heard this refuses plain http for months: never say it where https cannot last.
    if (
        request.is_secure
        and host != "localhost"
        and not host.endswith(".local")
        and not host.replace(".", "").isdigit()
    ):
        response.headers.setdefault("Strict-Transport-Security", "max-age=31536000")
    return response
