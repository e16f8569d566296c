"""An invented site as plain rows, and readers that take a PDF apart again."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime
from io import BytesIO
from typing import Any

from PIL import Image
from pypdf import PdfReader
from pypdf.generic import DictionaryObject

from makegood.papers.ask import Ask, unheard
from makegood.papers.press import PAPERS, Sources
from makegood.papers.site_book import SiteBook
from tests.make import make_id

NOW = datetime(2026, 11, 25, 9, tzinfo=UTC)
AT = "2026-11-20T10:00:00.000Z"
OUTLINE = {"view": "seen", "shape": "outline", "points_m": [[1.0, 1.0], [2.0, 1.0], [2.0, 2.0], [1.0, 2.0]]}
NASTY = '=HYPERLINK("http://a.test") <img onerror=alert(1)> \u202eevil\u202c \u200fمرحبا 🧱'


def jpeg(colour: str = "#b9a789", size: tuple[int, int] = (400, 300)) -> bytes:
    """Return a small picture as the photo store's copies are: no metadata."""
    out = BytesIO()
    Image.new("RGB", size, colour).save(out, "JPEG", quality=80)
    return out.getvalue()


@dataclass
class Ground:
    """Rows by type; `add` makes one with an id of its own."""

    rows: dict[str, list[dict[str, Any]]] = field(default_factory=dict)
    site: str = field(default_factory=make_id)
    copies: dict[str, bytes] = field(default_factory=dict)

    def add(self, row_type: str, **fields: Any) -> dict[str, Any]:
        """Add a row."""
        row = {"id": make_id(), "made_at": AT, "made_by": "Kit", "rev": 1, **fields}
        self.rows.setdefault(row_type, []).append(row)
        return row

    def book(self, origin: str = "http://barn.test") -> SiteBook:
        """Return the rows as papers read them."""
        return SiteBook(self.site, self.rows, lambda photo, _size: self.copies.get(photo["sha256"]), origin)

    def photo(self, of_type: str, of_id: str, **fields: Any) -> dict[str, Any]:
        """Add a photo that is on the server."""
        sha256 = make_id()
        self.copies[sha256] = jpeg()
        place = {"lat": 48.62031, "lon": -9.35127, "accuracy_m": 5, "heading_deg": 190, "taken_at": AT}
        told = {**place, "media_type": "image/jpeg", "same_place_as": None, **fields}
        return self.add("photo", of_type=of_type, of_id=of_id, sha256=sha256, **told)


def make_ground(note: str = "Soft below the gutter.", name: str = "Wader barn") -> Ground:
    """Return a site with one wall, two defects (one bulging), a ticket done and checked, one open, one to keep away from."""
    ground = Ground()
    ground.rows["site"] = [{
        "id": ground.site, "made_at": AT, "made_by": "Kit", "rev": 1, "name": name, "note": note, "lat": 48.6, "lon": -9.3,
        "currency": "EUR", "bucket_l": 12, "loss": None, "thickness_factor": None, "bags": {"nhl_2": {"bag_kg": 25, "price": 14}},
    }]  # fmt: skip
    barn = ground.add("structure", name=name, wall_material="cob")
    surface = {"kind": "flat", "width_m": 6.0, "height_m": 3.0, "batter_deg": 0.0}
    door = {"kind": "door", "x_m": 3, "y_m": 0, "width_m": 1, "height_m": 2, "head": "arched"}
    wall = ground.add("elevation", structure_id=barn["id"], name="South", surface=surface, bearing_deg=180, openings=[door])
    coats = [{"mix": "lime_coat", "thickness_mm": 10}]
    ground.add("finish", elevation_id=wall["id"], name="Lime", coats=coats, region=None, made_on="2024-05-01", ended_on=None)
    for n, kind, signs in ((1, "spalling", []), (2, "bulge", ["bulging"]), (3, "washout", [])):
        told = {"kind": kind, "mark": OUTLINE, "signs": signs, "note": note, "cause": None}
        defect = ground.add("defect", number=n, elevation_id=wall["id"], **told)
        ground.add("reading", defect_id=defect["id"], at=AT, mark=None, depth_mean_mm=16, depth_max_mm=28, note=None)
        ground.photo("defect", defect["id"])
        method = "engineer_first" if n == 2 else "patch_two_coats"
        ground.add("ticket", number=10 + n, defect_ids=[defect["id"]], method=method, urgency=None, coats=None, loss=None,
                   margin_mm=None, note=note)  # fmt: skip
    return ground


def close_first(ground: Ground) -> dict[str, Any]:
    """Take the first ticket to its closure, with a photo after the work from the same place; return the ticket."""
    ticket = ground.rows["ticket"][0]
    for n, (kind, who, more) in enumerate((
        ("taken", "Hal", {}),
        ("done", "Hal", {"used": {"nhl_2": {"kg": 7.5}}}),
        ("checked", "Kit", {"checks": {"tap": "ok"}}),
    )):  # fmt: skip
        step = ground.add("step", ticket_id=ticket["id"], kind=kind, at=f"2026-11-2{n}T10:00:00.000Z", made_by=who, **more)
        if kind == "done":
            ground.photo("step", step["id"], same_place_as=ground.rows["photo"][0]["id"])
    return ticket


def printed(ground: Ground, name: str, about: str | None = None, language: str = "en", measures: str = "metric") -> bytes:
    """Make a paper."""
    out = BytesIO()
    PAPERS[name].make(Sources(ground.book()), Ask(language, measures, about, NOW), unheard, out)
    return out.getvalue()


def text_of(pdf: bytes) -> str:
    """Return all words of a PDF, blanks and line ends alike."""
    return " ".join(" ".join(page.extract_text() for page in PdfReader(BytesIO(pdf)).pages).split())


def tags_of(pdf: bytes) -> list[tuple[str, str | None]]:
    """Return every tag with its words for what cannot be seen, in reading order."""
    return list(_walk(PdfReader(BytesIO(pdf)).trailer["/Root"]["/StructTreeRoot"]))


def _walk(branch: DictionaryObject) -> Iterator[tuple[str, str | None]]:
    for kid in branch.get("/K", []):
        if isinstance(kid := kid.get_object(), DictionaryObject):
            yield str(kid["/S"]), kid.get("/Alt")
            yield from _walk(kid)


def check_clean(pdf: bytes, language: str = "en") -> None:
    """Hold that a PDF is tagged, says its language, describes each figure, and that no picture in it holds metadata."""
    reader = PdfReader(BytesIO(pdf))
    root = reader.trailer["/Root"]
    assert root["/Lang"] == language
    assert root["/MarkInfo"]["/Marked"]
    figures = [alt for kind, alt in tags_of(pdf) if kind == "/Figure"]
    assert all(figures), figures
    for page in reader.pages:
        for image in page.images:
            found = Image.open(BytesIO(image.data))
            assert not found.getexif()
            assert not {"exif", "xmp", "comment", "photoshop", "icc_profile"} & set(found.info)
            assert b"Exif" not in image.data
    assert b"48.62031" not in pdf
