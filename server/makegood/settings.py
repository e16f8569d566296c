"""Every setting: its name outside, its default and its meaning. DEVELOPERS.md shows the same table."""

import os
from collections.abc import Mapping
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any


@dataclass(frozen=True)
class Settings:
    """What a running server was told. Made by `from_environment()`, or by keyword in tests."""

    data: Path = Path("makegood-data")
    database_url: str = ""
    demo: bool = False
    proxies: int = 0
    session_days: int = 60
    invite_days: int = 14
    enrols_per_minute: int = 10
    body_limit_kib: int = 256

    @property
    def database_address(self) -> str:
        """The SQLAlchemy address in use."""
        return self.database_url or f"sqlite:///{self.data.resolve() / 'makegood.sqlite'}"

    @property
    def photo_folder(self) -> Path:
        """Where photo bytes are kept."""
        return self.data / "photos"


# Setting -> its name in the environment, its meaning.
MEANINGS = {
    "data": ("MAKEGOOD_DATA", "folder for the database and the photos"),
    "database_url": (
        "DATABASE_URL",
        "another database, as an SQLAlchemy address; empty: SQLite in the data folder",
    ),
    "demo": ("MAKEGOOD_DEMO", "anybody may join every site as keeper; for throw-away folders only"),
    "proxies": ("MAKEGOOD_PROXIES", "how many reverse proxies stand in front and set X-Forwarded-*"),
    "session_days": ("MAKEGOOD_SESSION_DAYS", "days a device stays enrolled without being used"),
    "invite_days": ("MAKEGOOD_INVITE_DAYS", "days an enrolment link can be used"),
    "enrols_per_minute": ("MAKEGOOD_ENROLS_PER_MINUTE", "tries to enrol per minute and address"),
    "body_limit_kib": (
        "MAKEGOOD_BODY_LIMIT_KIB",
        "largest JSON body taken, KiB; photo chunks have their own limit",
    ),
}


def from_environment(environ: Mapping[str, str] | None = None, **given: Any) -> Settings:
    """Read the settings from the environment; what is `given` by keyword wins."""
    env = os.environ if environ is None else environ
    read: dict[str, object] = {}
    for one in fields(Settings):
        name, _ = MEANINGS[one.name]
        if env.get(name):
            read[one.name] = _as_kind(name, env[name], one.default)
    return Settings(**{**read, **given})


def _as_kind(name: str, text: str, default: object) -> object:
    if isinstance(default, bool):
        return text.lower() in {"1", "true", "yes", "on"}
    if isinstance(default, int):
        if not text.isdecimal():
            raise ValueError(f"{name} must be a whole number, not {text!r}")
        return int(text)
    return Path(text) if isinstance(default, Path) else text
