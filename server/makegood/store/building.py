"""Tables of what stands: sites, structures, elevations, finishes."""

from sqlalchemy import String
from sqlalchemy.orm import Mapped, mapped_column

from makegood.store.row_table import Choice, Day, LongText, Name, Phrase, Shape, SyncedRow, Uuid, refers


class Site(SyncedRow):
    """The grounds; its id is its site_id."""

    __tablename__ = "site"

    name: Mapped[Name]
    note: Mapped[LongText | None]
    currency: Mapped[str | None] = mapped_column(String(3))
    lat: Mapped[float | None]
    lon: Mapped[float | None]
    bucket_l: Mapped[float | None]
    loss: Mapped[float | None]
    bags: Mapped[Shape | None]
    own_figures: Mapped[bool | None]
    thickness_factor: Mapped[float | None]


class Structure(SyncedRow):
    """One building or free-standing wall."""

    __tablename__ = "structure"

    name: Mapped[Name]
    wall_material: Mapped[Choice]
    wall_thickness_mm: Mapped[float | None]
    note: Mapped[LongText | None]


class Elevation(SyncedRow):
    """One side of a structure as drawn."""

    __tablename__ = "elevation"
    __table_args__ = (refers("structure_id", "structure"),)

    structure_id: Mapped[Uuid]
    name: Mapped[Name]
    surface: Mapped[Shape]
    bearing_deg: Mapped[float]
    openings: Mapped[Shape | None]
    backdrop: Mapped[Shape | None]


class Finish(SyncedRow):
    """What covers a region of an elevation."""

    __tablename__ = "finish"
    __table_args__ = (refers("elevation_id", "elevation"), refers("ticket_id", "ticket"))

    elevation_id: Mapped[Uuid]
    name: Mapped[Name]
    coats: Mapped[Shape]
    region: Mapped[Shape | None]
    made_on: Mapped[Day | None]
    ended_on: Mapped[Day | None]
    sample_panel: Mapped[bool | None]
    ticket_id: Mapped[Uuid | None]
    by: Mapped[Name | None]
    weather: Mapped[Phrase | None]
    batches: Mapped[Phrase | None]
    sand: Mapped[Phrase | None]
    water: Mapped[Phrase | None]
    cure: Mapped[Phrase | None]
    note: Mapped[LongText | None]
