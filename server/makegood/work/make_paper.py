"""Make a paper for whoever asks: from the rows they may see, and the copies of photos without metadata."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, BinaryIO

from makegood.domain import roles
from makegood.domain.row import Key, Row
from makegood.errors import MakegoodError, NotAllowed, NotFound
from makegood.papers.ask import Ask, Progress
from makegood.papers.files.originals import OpenOriginal
from makegood.papers.press import PAPERS, Paper, Sources
from makegood.papers.site_book import Photos, SiteBook, plain
from makegood.store.device import Device
from makegood.store.people.coverage import scope_if_limited
from makegood.store.photo_bytes import PhotoBytes
from makegood.store.photo_uploads import blobs_of
from makegood.store.row import TABLES, fetch, fetch_all
from makegood.work.photo_copies import open_copy
from makegood.work.picture import is_small_jpeg

# What somebody may ask for who came in by a hand-out's link.
_LIMITED_PAPERS = ("handout",)


@dataclass(frozen=True)
class Wish:
    """One paper as it will be made; everything from the database is in it, so that a thread of its own can make it."""

    paper: Paper
    sources: Sources
    ask: Ask

    def make(self, out: BinaryIO, progress: Progress) -> None:
        """Write the paper."""
        self.paper.make(self.sources, self.ask, progress, out)


def paper_named(name: str) -> Paper:
    """Return a paper by its name; raises NotFound."""
    if name not in PAPERS:
        raise NotFound("paper_unknown", f"There is no such paper. Choose one of: {', '.join(PAPERS)}.", {"paper": name})
    return PAPERS[name]


def wish_of(device: Device, site_id: str, name: str, ask: Ask, place: tuple[PhotoBytes, str]) -> Wish:
    """Return the paper as this device gets it; `place` is where photos lie and the address that codes begin with.

    Raises NotFound for a paper or site it may not see, NotAllowed for originals its role may not have.
    """
    paper, role = paper_named(name), device.grants.get(site_id)
    if role is None:
        raise NotFound("site_unknown", "There is no such site in what this device may see.")
    limited = site_id in device.limited
    if limited and name not in _LIMITED_PAPERS:
        raise NotAllowed("paper_not_allowed", "This device was let in for its hand-out; it can print that, and no other paper.")
    if paper.originals and (limited or not roles.sees_originals(role)):
        raise NotAllowed("originals_not_allowed", "Your role may see the photos, but not the originals.")
    photo_bytes, origin = place
    rows = _limited_rows(device, site_id) if limited else _rows_of_role(site_id, role)
    return _wish(site_id, paper, ask, rows, (photo_bytes, origin))


def owners_wish(site_id: str, name: str, ask: Ask, place: tuple[PhotoBytes, str]) -> Wish:
    """Return a paper as whoever holds the folder gets it: with everything a keeper sees."""
    return _wish(site_id, paper_named(name), ask, _rows_of_role(site_id, "keeper"), place)


def _wish(
    site_id: str, paper: Paper, ask: Ask, rows: Mapping[str, list[dict[str, Any]]], place: tuple[PhotoBytes, str]
) -> Wish:
    photo_bytes, origin = place
    book = SiteBook(site_id, rows, _copies(site_id, photo_bytes), origin)
    return Wish(paper, Sources(book, _originals(site_id, photo_bytes) if paper.originals else None), ask)


def _rows_of_role(site_id: str, role: str) -> dict[str, list[dict[str, Any]]]:
    return {
        row_type: [_seen(row, roles.without_hidden(role, row_type, row.fields)) for row in fetch_all(row_type, site_id)]
        for row_type in roles.visible_types(role)
        if row_type in TABLES
    }


def _limited_rows(device: Device, site_id: str) -> dict[str, list[dict[str, Any]]]:
    scope = scope_if_limited(site_id, device.id)
    if scope is None:
        raise NotFound("site_unknown", "There is no such site in what this device may see.")
    found: dict[str, list[dict[str, Any]]] = {row_type: [] for row_type in roles.limited_types()}
    keys = [Key(row_type, site_id, row_id) for row_type, ids in scope.rows.items() for row_id in ids]
    for key, row in fetch(keys).items():
        if not row.deleted:
            found[key.type].append(_seen(row, roles.as_limited_sees(row.type, row.fields, scope.show_place)))
    return found


def _seen(row: Row, fields: dict[str, Any]) -> dict[str, Any]:
    return {**plain(row), **fields}


def _copies(site_id: str, photo_bytes: PhotoBytes) -> Photos:
    here = {sha256: blob for sha256, blob in blobs_of(site_id).items() if blob.media_type is not None}

    def opened(photo: Mapping[str, Any], size_px: int) -> bytes | None:
        """The copy; until the original has arrived, that of the preview which its phone sent ahead."""
        ahead = here.get(str(photo.get("preview")))
        small = ahead is not None and is_small_jpeg(ahead.media_type, ahead.width_px, ahead.height_px)
        named = photo["sha256"] if photo["sha256"] in here else photo.get("preview") if small else None
        if named is None:
            return None
        try:
            with open_copy(site_id, named, size_px, photo_bytes) as content:
                return content.read()
        except (FileNotFoundError, MakegoodError):
            return None  # the paper says that a picture is not here

    return opened


def _originals(site_id: str, photo_bytes: PhotoBytes) -> OpenOriginal:
    return lambda photo: photo_bytes.open_original(site_id, photo["sha256"])
