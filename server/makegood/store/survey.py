"""Tables of what was found: storms, surveys, defects, readings, scores of finishes."""

from sqlalchemy.orm import Mapped

from makegood.store.row_table import (
    Choice,
    Day,
    Instant,
    LongText,
    Name,
    Phrase,
    Shape,
    SyncedRow,
    Uuid,
    refers,
)


class Storm(SyncedRow):
    """One weather event."""

    __tablename__ = "storm"

    name: Mapped[Name]
    began_on: Mapped[Day]
    duration_h: Mapped[float | None]
    rain_mm: Mapped[float | None]
    wind_m_s: Mapped[float | None]
    wind_from_deg: Mapped[float | None]
    gust_m_s: Mapped[float | None]
    hail: Mapped[bool | None]
    rain_1h_mm: Mapped[float | None]
    rain_24h_mm: Mapped[float | None]
    hours: Mapped[Shape | None]
    source: Mapped[Phrase | None]
    note: Mapped[LongText | None]


class Survey(SyncedRow):
    """One walk round on a date."""

    __tablename__ = "survey"
    __table_args__ = (refers("storm_id", "storm"),)

    on: Mapped[Day]
    storm_id: Mapped[Uuid | None]
    elevation_ids: Mapped[Shape | None]
    note: Mapped[LongText | None]


class Defect(SyncedRow):
    """One thing wrong, shown by its mark."""

    __tablename__ = "defect"
    __table_args__ = (refers("elevation_id", "elevation"),)

    number: Mapped[int | None]
    elevation_id: Mapped[Uuid]
    kind: Mapped[Choice | None]
    mark: Mapped[Shape]
    cause: Mapped[Choice | None]
    signs: Mapped[Shape | None]
    note: Mapped[LongText | None]


class Reading(SyncedRow):
    """One dated look at a defect."""

    __tablename__ = "reading"
    __table_args__ = (refers("defect_id", "defect"), refers("survey_id", "survey"))

    defect_id: Mapped[Uuid]
    survey_id: Mapped[Uuid | None]
    at: Mapped[Instant]
    mark: Mapped[Shape | None]
    area_m2: Mapped[float | None]
    length_m: Mapped[float | None]
    depth_mean_mm: Mapped[float | None]
    depth_max_mm: Mapped[float | None]
    crack_width_mm: Mapped[float | None]
    count: Mapped[int | None]
    state: Mapped[Choice | None]
    note: Mapped[LongText | None]


class Score(SyncedRow):
    """One dated score sheet of a finish: how it has stood up."""

    __tablename__ = "score"
    __table_args__ = (refers("finish_id", "finish"), refers("survey_id", "survey"))

    finish_id: Mapped[Uuid]
    survey_id: Mapped[Uuid | None]
    at: Mapped[Instant]
    verdict: Mapped[Choice]
    crack_width_mm: Mapped[float | None]
    crack_spacing_mm: Mapped[float | None]
    rub: Mapped[Choice | None]
    tap: Mapped[Choice | None]
    bead: Mapped[Choice | None]
    colour: Mapped[Choice | None]
    depth_mean_mm: Mapped[float | None]
    depth_max_mm: Mapped[float | None]
    note: Mapped[LongText | None]
