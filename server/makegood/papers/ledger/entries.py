"""Every finish of a site with what it was seen to stand, as web/src/parts/lasting/ledger.ts puts it together."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from makegood.domain.ledger.exported import COLUMNS
from makegood.domain.ledger.follow import Done, Followed, Found, Look, RainOn, Scored, Side, Walk, follow
from makegood.domain.ledger.place import Laid, face_of
from makegood.domain.ledger.tried import Panel, tried_mixes
from makegood.domain.repair.known import Plain
from makegood.science.driving_rain import Face
from makegood.science.weather.told import Told, told_dose

if TYPE_CHECKING:
    from makegood.papers.site_book import SiteBook


@dataclass(frozen=True)
class Entry:
    """One finish, the side it lies on, and what is known of it."""

    finish: Plain
    elevation: Plain
    structure: Plain | None
    followed: Followed


def entries(book: "SiteBook") -> list[Entry]:
    """Return the finishes of all sides that may be seen."""
    return [entry for elevation in book.all("elevation") for entry in _of_side(book, elevation)]


def tried_on(book: "SiteBook", structure_id: object) -> list[str]:
    """Return the mixes that count as tried on a building."""
    panels = [
        Panel(one.structure["id"] if one.structure else None, tuple(coat["mix"] for coat in one.finish["coats"]),
              bool(one.finish.get("sample_panel")), one.followed.verdict)
        for one in book.ledger
    ]  # fmt: skip
    structure = book.one("structure", structure_id)
    return tried_mixes(panels, structure["id"] if structure else None, book.catalogue["lasting"]["panels"]["needed"])


def _of_side(book: "SiteBook", elevation: Plain) -> Iterator[Entry]:
    finishes = book.under("finish", elevation["id"])
    if not finishes:
        return
    kinds = book.catalogue["lasting"]["kinds"]
    verdicts = {kind: verdict for verdict in ("worn", "let_go") for kind in kinds[verdict]}
    structure = book.one("structure", elevation["structure_id"])
    for finish, followed in zip(finishes, follow(side_of(book, elevation), verdicts), strict=True):
        yield Entry(finish, elevation, structure, followed)


def side_of(book: "SiteBook", elevation: Plain) -> Side:
    """Return all that was recorded of a side. Days are those of the instants in UTC."""
    finishes = book.under("finish", elevation["id"])
    return Side(
        elevation["surface"],
        tuple(
            Laid(one["id"], _day(one.get("made_on")), _day(one.get("ended_on")), one.get("region"), one.get("ticket_id"))
            for one in finishes
        ),
        tuple(
            Scored(one["id"], finish["id"], _on(one["at"]), one["verdict"])
            for finish in finishes
            for one in book.under("score", finish["id"])
        ),
        tuple(_found(book, one) for one in book.under("defect", elevation["id"])),
        tuple(
            Walk(one["id"], _on(one["on"]))
            for one in book.all("survey")
            if elevation["id"] in (one.get("elevation_ids") or ())
        ),
        tuple(Done(one["id"], one["ticket_id"], one["kind"], _on(one["at"])) for one in book.all("step")),
        {one["id"]: _rain_on(book, elevation, one.get("region")) for one in finishes},
    )


def _found(book: "SiteBook", defect: Plain) -> Found:
    looks = tuple(
        Look(one["id"], _on(one["at"]), one.get("state"), one.get("survey_id"), one.get("mark"))
        for one in book.under("reading", defect["id"])
    )
    return Found(defect["id"], defect.get("kind"), defect["mark"], looks)


def _rain_on(book: "SiteBook", elevation: Plain, region: Plain | None) -> tuple[RainOn, ...]:
    face = face_of(elevation["surface"], elevation["bearing_deg"], region)
    return tuple(RainOn(_on(one["began_on"]), storm_l_m2(one, face)) for one in book.all("storm"))


def storm_l_m2(storm: Plain, face: Face) -> float | None:
    """Return the likely driving rain of a storm on a face [L/m2].

    None where rain or wind of it, or of one of its hours, isn't recorded.
    """
    told = Told(*(storm.get(name) for name in ("rain_mm", "wind_m_s", "wind_from_deg", "duration_h", "hours")))
    dose = told_dose(told, face)
    return dose["likely"] if dose is not None and dose["missing_h"] == 0 else None


def _on(text: str) -> date:
    return date.fromisoformat(text[:10])


def _day(text: str | None) -> date | None:
    return _on(text) if text else None


def lasted_rows(book: "SiteBook") -> tuple[tuple[str, ...], list[list[object]]]:
    """Return the ledger for a table that `makegood lasted` reads: one finish a line."""
    return COLUMNS, [_row(book, one) for one in book.ledger]


def _row(book: "SiteBook", entry: Entry) -> list[object]:
    finish, elevation, structure, followed = entry.finish, entry.elevation, entry.structure or {}, entry.followed
    coats = finish["coats"]
    days, l_m2 = followed.days or (None, None), followed.l_m2 or (None, None)
    ends = [
        *(None if end is None else round(end) for end in days),
        *(None if end is None else round(end, 2) for end in l_m2),
    ]
    return [
        book.site["name"], structure.get("name"), elevation["name"], elevation["bearing_deg"], structure.get("wall_material"),
        finish["name"], "; ".join(f"{one['mix']} {one['thickness_mm']:g} mm" for one in coats),
        coats[-1]["mix"] if coats else None, sum(one["thickness_mm"] for one in coats),
        "yes" if finish.get("sample_panel") else "no", finish.get("made_on"), finish.get("ended_on"), followed.verdict,
        followed.looks, *ends,
    ]  # fmt: skip
