"""What every response tells the browser to refuse."""

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
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}


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
