"""A site on the farm's own network: https by a private authority, one port, a name, a picture guide; outside the rings."""

from pathlib import Path

from makegood.errors import BadInput


def serve(data: Path, host: str | None, port: int) -> None:
    """Run a site for the local network; raises BadInput, also where the extra is not installed."""
    try:
        import cryptography  # noqa: F401
        import zeroconf  # noqa: F401
    except ImportError as why:
        raise BadInput("lan_needs_extra", "--lan needs two more libraries: pip install 'makegood[lan]'.") from why
    from makegood.lan.on_lan import serve_on_lan

    serve_on_lan(data, host, port)
