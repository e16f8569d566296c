"""Every setting: its name outside, its default and its meaning. DEVELOPERS.md shows the same table."""

import os
from collections.abc import Mapping
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any

_SHORT_POSTGRES = ("postgres", "postgresql")


@dataclass(frozen=True)
class Settings:
    """What a running server was told. Made by `from_environment()`, or by keyword in tests."""

    data: Path = Path("makegood-data")
    database_url: str = ""
    photo_bucket: str = ""
    photo_bucket_url: str = ""
    demo: bool = False
    proxies: int = 0
    session_days: int = 60
    invite_days: int = 14
    enrols_per_minute: int = 10
    syncs_per_minute: int = 60
    body_limit_kib: int = 256

    @property
    def database_address(self) -> str:
        """The SQLAlchemy address in use."""
        if not self.database_url:
            return f"sqlite:///{self.database_file.resolve()}"
        scheme, found, rest = self.database_url.partition("://")
        # Hosts hand out the short names; psycopg is the driver that `makegood[postgres]` brings.
        return f"postgresql+psycopg://{rest}" if found and scheme in _SHORT_POSTGRES else self.database_url

    @property
    def database_file(self) -> Path:
        """Where the SQLite database lies if no other database is named."""
        return self.data / "makegood.sqlite"

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
    "photo_bucket": (
        "MAKEGOOD_PHOTO_BUCKET",
        "keep the photos in this S3-compatible bucket instead of the data folder",
    ),
    "photo_bucket_url": (
        "MAKEGOOD_PHOTO_BUCKET_URL",
        "address of the bucket's service; empty: the one boto3 finds by itself, as it finds the keys",
    ),
    "demo": ("MAKEGOOD_DEMO", "anybody may join every site as keeper; for throw-away folders only"),
    "proxies": ("MAKEGOOD_PROXIES", "how many reverse proxies stand in front and set X-Forwarded-*"),
    "session_days": ("MAKEGOOD_SESSION_DAYS", "days a device stays enrolled without being used"),
    "invite_days": ("MAKEGOOD_INVITE_DAYS", "days an enrolment link can be used"),
    "enrols_per_minute": ("MAKEGOOD_ENROLS_PER_MINUTE", "wrong tries to enrol per minute and address"),
    "syncs_per_minute": ("MAKEGOOD_SYNCS_PER_MINUTE", "pushes, and pulls, per minute and device"),
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
