"""Compares a table with its row type in shared/records.json."""

import json

from sqlalchemy import Boolean, Float, Integer, String
from sqlalchemy.types import JSON

from makegood.paths import shared_dir
from makegood.store.row import TABLES

TYPES = json.loads((shared_dir() / "records.json").read_text(encoding="utf-8"))["types"]
OWN = {"site_id", "id", "rev", "deleted", "fv", "made_at", "made_by", "made_on_device"}
_SQL = {
    "text": String,
    "choice": String,
    "ref": String,
    "date": String,
    "instant": String,
    "number": Float,
    "integer": Integer,
    "flag": Boolean,
    "json": JSON,
}


def faults(row_type: str) -> list[str]:
    """Return where the table differs from the contract: names, kinds, lengths, what may be empty."""
    columns = TABLES[row_type].__table__.columns
    fields = TYPES[row_type]["fields"]
    found = [f"{name}: only on one side" for name in set(columns.keys()) ^ (set(fields) | OWN)]
    for name, spec in fields.items():
        if name not in columns:
            continue
        column = columns[name]
        if not isinstance(column.type, _SQL[spec["kind"]]):
            found.append(f"{name}: {column.type} for {spec['kind']}")
        if spec["kind"] == "text" and column.type.length < spec["max"]:
            found.append(f"{name}: {column.type.length} characters for {spec['max']}")
        if spec.get("need") and column.nullable:
            found.append(f"{name}: may be empty though needed")
    return found
