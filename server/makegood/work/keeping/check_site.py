"""Check a site to the last byte: every row against its type, every reference, every counter, every photo."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date

from makegood.domain.lineage import parents
from makegood.domain.row import Key, Row, check_fields, fields_of
from makegood.domain.shape import check_shapes
from makegood.errors import MakegoodError
from makegood.store import clock
from makegood.store.change import last_revisions
from makegood.store.photo_bytes import PhotoBytes, sha256_of_bytes
from makegood.store.photo_uploads import Blob, blobs_of
from makegood.store.row import TABLES, fetch_deleted_too


@dataclass
class Findings:
    """What was looked at, and one sentence for each thing that is wrong."""

    counts: Counter[str] = field(default_factory=Counter)
    troubles: list[str] = field(default_factory=list)


def check_site(site_id: str, photo_bytes: PhotoBytes, today: date) -> Findings:
    """Look at everything a site has; nothing is changed."""
    rows = {row.key: row for row_type in TABLES for row in fetch_deleted_too(row_type, site_id)}
    blobs = blobs_of(site_id)
    found = Findings()
    found.counts.update(row.type for row in rows.values())
    for row in rows.values():
        found.troubles += [f"{_named(row.key)}: {fault}" for fault in _faults_of_row(row, rows, today)]
    found.troubles += _faults_of_counters(site_id, rows)
    found.troubles += _faults_of_blobs(rows, blobs)
    for sha256, blob in blobs.items():
        if blob.refusal is None:
            found.counts["photo bytes"] += 1
            faults = _faults_of_bytes(site_id, sha256, blob, photo_bytes)
            found.troubles += [f"photo bytes {sha256}: {fault}" for fault in faults]
    return found


def _named(key: Key) -> str:
    return f"{key.type} {key.id} of site {key.site_id}"


def _faults_of_row(row: Row, rows: dict[Key, Row], today: date) -> Iterator[str]:
    for key in parents(row.type, row.site_id, row.fields):
        if key not in rows:
            yield f"its {key.type} {key.id} is missing"
    if row.type != "clash":  # written by the server alone, with values of any type
        spec = fields_of(row.type)
        given = {name: value for name, value in row.fields.items() if not spec[name].get("server")}
        try:
            check_fields(row.type, given, True, today)
            check_shapes(row.type, given, _wall(row, rows))
        except MakegoodError as refused:
            yield f"{refused.code}: {refused.message}"
    if row.type == "site" and row.id != row.site_id:
        yield "it carries another site's id"


def _wall(row: Row, rows: dict[Key, Row]) -> object:
    """Return the surface a row's shapes lie on; None for rows that lie on none, or whose wall is missing."""
    above = {"reading": ("defect", "defect_id"), "defect": ("elevation", "elevation_id")}
    above["finish"] = above["defect"]
    while row.type in above:
        row_type, name = above[row.type]
        parent = rows.get(Key(row_type, row.site_id, str(row.fields.get(name))))
        if parent is None:
            return None
        row = parent
    return row.fields["surface"] if row.type == "elevation" else None


def _faults_of_counters(site_id: str, rows: dict[Key, Row]) -> Iterator[str]:
    rev, next_defect, next_ticket = clock.counters(site_id)
    noted = last_revisions(site_id)
    for key in noted.keys() - rows.keys():
        yield f"{_named(key)}: phones are told of it, but it is missing"
    for key, row in rows.items():
        if noted.get(key) != row.rev or row.rev > rev:
            yield f"{_named(key)}: its revision {row.rev} does not fit the list of changes ({noted.get(key)}, {rev})"
    for row_type, next_number in (("defect", next_defect), ("ticket", next_ticket)):
        numbers = Counter(row.fields["number"] for row in rows.values() if row.type == row_type)
        for number, times in numbers.items():
            if number is None or times > 1 or number >= next_number:
                yield f"{row_type} number {number} of site {site_id}: missing, given twice or not given out yet"


def _faults_of_blobs(rows: dict[Key, Row], blobs: dict[str, Blob]) -> Iterator[str]:
    for row in rows.values():
        if row.type == "photo" and row.fields["stored"]:
            blob = blobs.get(row.fields["sha256"])
            if blob is None or blob.refusal:
                yield f"{_named(row.key)}: it is marked as stored, but no bytes were kept"


def _faults_of_bytes(site_id: str, sha256: str, blob: Blob, photo_bytes: PhotoBytes) -> Iterator[str]:
    try:
        with photo_bytes.open_original(site_id, sha256) as content:
            if sha256_of_bytes(content) != sha256:
                yield "they were changed since they were kept"
            elif content.tell() != blob.length:
                yield "their length is not the one noted"
    except FileNotFoundError:
        yield "the original is missing"
