"""A whole database as one SQLite file, and photo bytes carried from one place to another.

The file is a snapshot of one moment, made while the server runs. It takes its name only when it is complete.
"""

import os
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO
from uuid import UUID

from sqlalchemy import Connection, delete, insert, select

from makegood.store.database import Base
from makegood.store.photo_bytes import PhotoBytes, sha256_of_bytes
from makegood.store.photo_uploads import UploadKey

_ROWS_AT_ONCE = 500
_BLOCK_BYTES = 1024 * 1024
# Bytes are carried as if one device had sent them; it belongs to nobody.
_CARRIER = str(UUID(int=0))
_TABLES = {"site_clock", "op", "change", "photo_blob", "meta"}


@dataclass(frozen=True)
class KeptPhoto:
    """Bytes that a database says are kept."""

    site_id: str
    sha256: str
    length: int


def save_database(source: Path, target: Path) -> None:
    """Copy a SQLite database in use to a file, in one moment."""
    with (
        replacing(target) as unfinished,
        closing(_connect(source)) as old,
        closing(sqlite3.connect(unfinished)) as new,
    ):
        old.backup(new)
        new.execute("PRAGMA journal_mode=DELETE")  # one file, with nothing beside it


def _connect(path: Path) -> sqlite3.Connection:
    connection = sqlite3.connect(path, timeout=30)
    connection.execute("PRAGMA query_only=ON")
    return connection


@contextmanager
def replacing(target: Path) -> Iterator[Path]:
    """Have a file written under another name; it takes the place of the old one when it is whole."""
    unfinished = target.with_name(f"{target.name}.new")
    unfinished.unlink(missing_ok=True)
    try:
        yield unfinished
        with open(unfinished, "rb+") as written:
            os.fsync(written.fileno())
        os.replace(unfinished, target)
    finally:
        unfinished.unlink(missing_ok=True)


def backup_faults(file: Path) -> list[str]:
    """Return why a file cannot serve as a backup; an empty list if it is a whole database of ours."""
    if not file.is_file():
        return ["there is no such file"]
    try:
        with closing(_connect(file)) as connection:
            named = connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
            names = {name for (name,) in named}
            return _faults(connection) if names >= _TABLES else ["it is another kind of file"]
    except sqlite3.DatabaseError as error:
        return [str(error)]


def _faults(connection: sqlite3.Connection) -> list[str]:
    said = [text for (text,) in connection.execute("PRAGMA integrity_check")]
    torn = connection.execute("PRAGMA foreign_key_check").fetchall()
    refers = [f"a row of {table} refers to a missing row of {parent}" for table, _, parent, _ in torn]
    return [text for text in said if text != "ok"] + refers


def kept_photos(file: Path) -> list[KeptPhoto]:
    """Return the photos whose bytes belong to the database in a file."""
    query = "SELECT site_id, sha256, length FROM photo_blob WHERE refusal IS NULL ORDER BY site_id, sha256"
    with closing(_connect(file)) as connection:
        return [KeptPhoto(*row) for row in connection.execute(query)]


@dataclass(frozen=True)
class Carried:
    """How many photos were copied and how many lay there before; `troubles` says what could not be."""

    copied: int
    there: int
    troubles: tuple[str, ...]


def carry_photos(photos: Sequence[KeptPhoto], source: PhotoBytes, target: PhotoBytes) -> Carried:
    """Carry photos to another place; go on past those that are lost or damaged, and say so. Copies are made anew there."""
    copied, there, troubles = 0, 0, []
    for photo in photos:
        if _is_there(photo, target):
            there += 1
        elif trouble := _carry(photo, source, target):
            troubles.append(f"The photo {photo.sha256} of site {photo.site_id} {trouble}.")
        else:
            copied += 1
    return Carried(copied, there, tuple(troubles))


def _carry(photo: KeptPhoto, source: PhotoBytes, target: PhotoBytes) -> str | None:
    key = UploadKey(photo.site_id, photo.sha256, _CARRIER)
    try:
        with source.open_original(photo.site_id, photo.sha256) as content:
            if sha256_of_bytes(content) != photo.sha256:
                return "is damaged and was left out"
            target.drop_received(key)
            content.seek(0)
            while block := content.read(_BLOCK_BYTES):
                target.append(key, block)
    except FileNotFoundError:
        return "is missing"
    target.keep(key)
    return None


def _is_there(photo: KeptPhoto, target: PhotoBytes) -> bool:
    try:
        with target.open_original(photo.site_id, photo.sha256) as content:
            return length_of(content) == photo.length
    except FileNotFoundError:
        return False


def length_of(content: BinaryIO) -> int:
    """Return how many bytes a file has."""
    return content.seek(0, os.SEEK_END)


def copy_rows(source: Connection, target: Connection) -> None:
    """Put every row of one database into another one with empty tables, whatever kinds the two are."""
    for table in Base.metadata.sorted_tables:
        target.execute(delete(table))
        rows = source.execute(select(table).execution_options(yield_per=_ROWS_AT_ONCE)).mappings()
        for some in rows.partitions(_ROWS_AT_ONCE):
            target.execute(insert(table), [dict(row) for row in some])
