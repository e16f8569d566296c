"""Write out everything a person can read without the app: tables, one JSON, places on a map, the photos as taken.

<site>/read me.txt
<site>/tables/<type>.csv           one line per row; shapes as JSON inside a cell
<site>/everything.json             the same rows, nothing turned into text
<site>/places.geojson              the site and every photo with a place (WGS 84)
<site>/photos/<structure>/<elevation>/<what it shows>/<when> <id>.jpg
"""

import json
import re
import shutil
from pathlib import Path

from makegood.domain.row import Key, Row
from makegood.papers.files.originals import ENDINGS
from makegood.papers.files.places import write_places
from makegood.papers.files.tables import write_rows
from makegood.papers.site_book import plain
from makegood.store.photo_bytes import PhotoBytes
from makegood.store.photo_uploads import blobs_of
from makegood.store.row import TABLES, fetch_all

_UNSAFE = re.compile(r"[^\w .,()-]+")
_LONGEST_NAME = 60
_READ_ME = """Everything Makegood holds about this site.

tables/*.csv     one table for each kind of row; UTF-8, comma, first line names the columns; units stand in the names.
                 A cell that a spreadsheet could take for a formula begins with an apostrophe.
everything.json  the same rows for programs.
places.geojson   the site and the photos that have a place.
photos/          the photos as they were taken. They say where and when; take care whom you give them to.
"""


def export_site(site_id: str, folder: Path, photo_bytes: PhotoBytes) -> tuple[Path, int, list[str]]:
    """Write a site into a folder of its own; return where, how many photos, and those that are not here."""
    rows = {row_type: fetch_all(row_type, site_id) for row_type in TABLES}
    name = rows["site"][0].fields["name"] if rows["site"] else "site"
    place = folder / f"{_safe(name)} {site_id[:8]}"
    (place / "tables").mkdir(parents=True)
    (place / "read me.txt").write_text(_READ_ME, encoding="utf-8")
    everything = {row_type: [plain(row) for row in some] for row_type, some in rows.items()}
    for row_type, told in everything.items():
        with open(place / "tables" / f"{row_type}.csv", "wb") as out:
            write_rows(out, row_type, told)
    _write_json(place / "everything.json", {"site_id": site_id, "rows": everything})
    with open(place / "places.geojson", "wb") as out:
        write_places(out, ((row_type, row) for row_type in ("site", "photo") for row in everything[row_type]))
    photos, missing = _write_photos(site_id, place / "photos", rows, photo_bytes)
    return place, photos, missing


def _write_json(file: Path, content: object) -> None:
    file.write_text(json.dumps(content, ensure_ascii=False, indent=1), encoding="utf-8")


def _write_photos(
    site_id: str, folder: Path, rows: dict[str, list[Row]], photo_bytes: PhotoBytes
) -> tuple[int, list[str]]:
    by_key = {row.key: row for some in rows.values() for row in some}
    blobs = blobs_of(site_id)
    written, missing = 0, []
    for photo in rows["photo"]:
        blob = blobs.get(photo.fields["sha256"])
        ending = ENDINGS.get(blob.media_type or "", "jpg") if blob else "jpg"
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
