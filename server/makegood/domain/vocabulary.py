"""Terms and numbers of the trade, read from shared data: the only file of this ring that reads files, each of
them once.
"""

import json
from functools import cache
from typing import Any

from makegood.paths import shared_dir


@cache
def shared(name: str) -> dict[str, Any]:
    """Return the shared file `name`.json as it stands; its shape is told in shared/README.md. Never change
    what you get.
    """
    text = (shared_dir() / f"{name}.json").read_text(encoding="utf-8")
    read: dict[str, Any] = json.loads(text)
    return read


@cache
def choices(of: str) -> frozenset[str]:
    """Return the ids a field may choose from: a list of the vocabulary (`kinds`, `signs`), or `methods`,
    `mixes`, `materials`.
    """
    if of in ("methods", "mixes", "materials"):
        return frozenset(shared(of)[of])
    if of not in shared("vocabulary"):
        raise KeyError(f"the vocabulary has no list {of!r}")
    return frozenset(entry["id"] for entry in shared("vocabulary")[of])


@cache
def structural_signs() -> frozenset[str]:
    """Return the signs that mean: stop, keep people away, get an engineer."""
    return frozenset(sign["id"] for sign in shared("vocabulary")["signs"] if sign["structural"])
