"""The peer of tests/bench/upload.py: keeps the body of a PUT in a file, flushed to the disk, and does nothing else.

Under /looked it checks the SHA-256 and decodes the picture too, by the server's own functions. Arguments: folder, port.
"""

import os
import shutil
import sys
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

from waitress import serve

from makegood.store.photo_bytes import sha256_of_bytes
from makegood.work.picture import check_whole

_BLOCK_BYTES = 1024 * 1024


def sink(folder: Path) -> Callable[[dict[str, Any], Any], Iterable[bytes]]:
    """Return the WSGI app; the last part of a path names the file, for /copies it is the hash."""

    def app(environ: dict[str, Any], start: Any) -> Iterable[bytes]:
        name = environ["PATH_INFO"].rpartition("/")[2]
        if environ["REQUEST_METHOD"] == "PUT":
            with open(folder / name, "wb") as out:
                shutil.copyfileobj(environ["wsgi.input"], out, _BLOCK_BYTES)
                _to_disk(out)
            if environ["PATH_INFO"].startswith("/looked/"):
                _look(folder / name)
        start("200 OK", [("Content-Length", "0")])
        return []

    return app


def _look(path: Path) -> None:
    with open(path, "rb") as content:
        if sha256_of_bytes(content) != path.name:
            raise ValueError("the bytes differ from their hash")
        check_whole(content, "image/jpeg")


def _to_disk(out: Any) -> None:
    out.flush()
    os.fsync(out.fileno())


if __name__ == "__main__":
    serve(sink(Path(sys.argv[1])), host="127.0.0.1", port=int(sys.argv[2]), threads=4, recv_bytes=65536, inbuf_overflow=2**25)
