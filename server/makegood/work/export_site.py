"""Write out everything a person can read without the app: tables, one JSON, places on a map, the photos as taken.

<site>/read me.txt
<site>/tables/<type>.csv           one line per row; shapes as JSON inside a cell
<site>/everything.json             the same rows, nothing turned into text
<site>/places.geojson              the site and every photo with a place (WGS 84)
<site>/photos/<structure>/<elevation>/<what it shows>/<when> <id>.jpg
"""

import csv
import json
import re
import shutil
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from makegood.domain.row import Key, Row, fields_of
from makegood.store.photo_bytes import PhotoBytes
from makegood.store.photo_uploads import blobs_of
from makegood.store.row import TABLES, fetch_all

_OWN = ("id", "rev", "made_at", "made_by")
_FORMULA = "=+-@\t\r"
# Characters that show as nothing, which a spreadsheet may skip before it looks for a formula.
_BLANK = " \u00a0\u2007\u202f\ufeff\u200b"
_LINES = re.compile(r"(\r\n|\r|\n)")
_UNSAFE = re.compile(r"[^\w .,()-]+")
_LONGEST_NAME = 60
_ENDINGS = {"image/jpeg": "jpg", "image/png": "png", "image/heic": "heic"}
_READ_ME = """Everything Makegood holds about this site.

tables/*.csv     one table for each kind of row; UTF-8, comma, first line names the columns; units stand in the names.
                 A cell that a spreadsheet could take for a formula begins with an apostrophe.
everything.json  the same rows for programs.
places.geojson   the site and the photos that have a place.
photos/          the photos as they were taken. They say where and when; take care whom you give them to.
"""


def harmless(text: str) -> str:
    """Return a cell that no spreadsheet takes for a formula, on whichever of its lines one may stand."""
    return "".join(_harmless_line(part) for part in _LINES.split(text))


def _harmless_line(line: str) -> str:
    if line in ("\r\n", "\r", "\n"):
        return line
    return f"'{line}" if line.lstrip(_BLANK)[:1] in tuple(_FORMULA) else line


def _cell(value: object) -> object:
    if value is None or isinstance(value, bool | int | float):
        return value
    text = value if isinstance(value, str) else json.dumps(value, ensure_ascii=False, sort_keys=True)
    return harmless(text)


def export_site(site_id: str, folder: Path, photo_bytes: PhotoBytes) -> tuple[Path, int, list[str]]:
    """Write a site into a folder of its own; return where, how many photos, and those that are not here."""
    rows = {row_type: fetch_all(row_type, site_id) for row_type in TABLES}
    name = rows["site"][0].fields["name"] if rows["site"] else "site"
    place = folder / f"{_safe(name)} {site_id[:8]}"
    (place / "tables").mkdir(parents=True)
    (place / "read me.txt").write_text(_READ_ME, encoding="utf-8")
    for row_type, some in rows.items():
        _write_table(place / "tables" / f"{row_type}.csv", row_type, some)
    everything = {row_type: [_plain(row) for row in some] for row_type, some in rows.items()}
    _write_json(place / "everything.json", {"site_id": site_id, "rows": everything})
    _write_json(place / "places.geojson", _places(rows))
    photos, missing = _write_photos(site_id, place / "photos", rows, photo_bytes)
    return place, photos, missing


def _write_table(file: Path, row_type: str, rows: Iterable[Row]) -> None:
    names = list(fields_of(row_type))
    with open(file, "w", encoding="utf-8-sig", newline="") as out:  # the mark tells spreadsheets it is UTF-8
        table = csv.writer(out)
        table.writerow([*_OWN, *names])
        for row in rows:
            own = [_cell(getattr(row, name)) for name in _OWN]
            table.writerow([*own, *(_cell(row.fields[name]) for name in names)])


def _plain(row: Row) -> dict[str, Any]:
    return {**{name: getattr(row, name) for name in _OWN}, **row.fields}


def _write_json(file: Path, content: object) -> None:
    file.write_text(json.dumps(content, ensure_ascii=False, indent=1), encoding="utf-8")


def _places(rows: dict[str, list[Row]]) -> dict[str, Any]:
    placed = [row for row_type in ("site", "photo") for row in rows[row_type]]
    found = [_feature(row) for row in placed if None not in (row.fields["lat"], row.fields["lon"])]
    return {"type": "FeatureCollection", "features": found}


def _feature(row: Row) -> dict[str, Any]:
    told = {"row_type": row.type, **_plain(row)}
    told = {name: value for name, value in told.items() if name not in ("lat", "lon", "file_facts", "bags")}
    point = {"type": "Point", "coordinates": [row.fields["lon"], row.fields["lat"]]}
    return {"type": "Feature", "id": row.id, "geometry": point, "properties": told}


def _write_photos(
    site_id: str, folder: Path, rows: dict[str, list[Row]], photo_bytes: PhotoBytes
) -> tuple[int, list[str]]:
    by_key = {row.key: row for some in rows.values() for row in some}
    blobs = blobs_of(site_id)
    written, missing = 0, []
    for photo in rows["photo"]:
        blob = blobs.get(photo.fields["sha256"])
        ending = _ENDINGS.get(blob.media_type or "", "jpg") if blob else "jpg"
        when = (photo.fields["taken_at"] or photo.made_at)[:10]
        file = folder.joinpath(*_shelf(photo, by_key)) / f"{when} {photo.id}.{ending}"
        try:
            with photo_bytes.open_original(site_id, photo.fields["sha256"]) as content:
                file.parent.mkdir(parents=True, exist_ok=True)
                with open(file, "wb") as out:
                    shutil.copyfileobj(content, out)
            written += 1
        except FileNotFoundError:
            missing.append(
                f"The photo {photo.id} of {when} is not here; the phone that took it may still have it."
            )
    return written, missing


def _shelf(photo: Row, rows: dict[Key, Row]) -> list[str]:
    """Return the names of the folders a photo goes into: structure, elevation, what it shows."""
    names: list[str] = []
    row = rows.get(Key(photo.fields["of_type"], photo.site_id, photo.fields["of_id"]))
    while row is not None:
        names.insert(0, _title(row))
        row = rows.get(_above(row))
    return names or ["elsewhere"]


def _above(row: Row) -> Key:
    names = {"step": ("ticket", "ticket_id"), "defect": ("elevation", "elevation_id")}
    names["elevation"] = ("structure", "structure_id")
    if row.type == "ticket":
        return Key("defect", row.site_id, row.fields["defect_ids"][0])
    row_type, name = names.get(row.type, ("", ""))
    return Key(row_type, row.site_id, str(row.fields.get(name)))


def _title(row: Row) -> str:
    if row.type in ("defect", "ticket"):
        return f"{row.type} {row.fields['number']}"
    return _safe(row.fields.get("name") or f"{row.type} {row.fields.get('kind', '')}")


def _safe(name: str) -> str:
    """Return a name that every file system takes: no separators, no dots or blanks at its ends, never empty."""
    return _UNSAFE.sub("_", name)[:_LONGEST_NAME].strip(" .") or "unnamed"
