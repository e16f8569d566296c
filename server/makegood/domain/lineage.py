"""Which rows a row hangs on."""

from collections.abc import Mapping
from functools import cache
from typing import Any

from makegood.domain.row import Key, fields_of


def parents(row_type: str, site_id: str, fields: Mapping[str, Any]) -> list[Key]:
    """Return the rows that must be there before this one can be."""
    found = [Key(of, site_id, fields[name]) for name, of in _refs(row_type) if isinstance(fields.get(name), str)]
    if row_type in ("photo", "note"):
        found.append(Key(str(fields.get("of_type")), site_id, str(fields.get("of_id"))))
    if row_type == "ticket" and isinstance(fields.get("defect_ids"), list):
        found += [Key("defect", site_id, str(one)) for one in fields["defect_ids"]]
    return found


@cache
def _refs(row_type: str) -> tuple[tuple[str, str], ...]:
    """Return the fields of a type that name a row, each with the type it is of."""
    return tuple((name, spec["of"]) for name, spec in fields_of(row_type).items() if spec["kind"] == "ref")
