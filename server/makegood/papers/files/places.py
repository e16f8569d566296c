"""Places for maps: GeoJSON (RFC 7946), longitude before latitude, WGS 84; only places the asker may see."""

import json
from collections.abc import Iterable
from typing import Any, BinaryIO

from makegood.domain.repair.known import Plain

_LEFT_OUT = ("lat", "lon", "file_facts", "bags")


def feature(row_type: str, row: Plain) -> dict[str, Any]:
    """Return a site or photo that has a place as a feature."""
    told = {"row_type": row_type, **{name: value for name, value in row.items() if name not in _LEFT_OUT}}
    point = {"type": "Point", "coordinates": [row["lon"], row["lat"]]}
    return {"type": "Feature", "id": row["id"], "geometry": point, "properties": told}


def places(rows: Iterable[tuple[str, Plain]]) -> dict[str, Any]:
    """Return all of these rows that have a place."""
    found = [feature(row_type, row) for row_type, row in rows if None not in (row.get("lat"), row.get("lon"))]
    return {"type": "FeatureCollection", "features": found}


def write_places(out: BinaryIO, rows: Iterable[tuple[str, Plain]]) -> None:
    """Write the places as a file."""
    out.write(json.dumps(places(rows), ensure_ascii=False, indent=1).encode())
