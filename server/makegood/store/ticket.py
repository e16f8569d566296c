"""Tables of what is to be repaired, by whom and when: tickets and their steps, work days, hand-outs."""

from sqlalchemy.orm import Mapped

from makegood.store.row_table import Choice, Day, Instant, LongText, Name, Shape, SyncedRow, Uuid, refers


class Ticket(SyncedRow):
    """One repair to do, for one or more defects."""

    __tablename__ = "ticket"

    number: Mapped[int | None]
    defect_ids: Mapped[Shape]
    method: Mapped[Choice | None]
    urgency: Mapped[Choice | None]
    coats: Mapped[Shape | None]
    loss: Mapped[float | None]
    margin_mm: Mapped[float | None]
    note: Mapped[LongText | None]


class Step(SyncedRow):
    """One move in a ticket's history; its state follows from them."""

    __tablename__ = "step"
    __table_args__ = (refers("ticket_id", "ticket"), refers("storm_id", "storm"))

    ticket_id: Mapped[Uuid]
    kind: Mapped[Choice]
    at: Mapped[Instant]
    used: Mapped[Shape | None]
    batches: Mapped[float | None]
    area_m2: Mapped[float | None]
    thickness_mm: Mapped[float | None]
    checks: Mapped[Shape | None]
    own_work: Mapped[bool | None]
    storm_id: Mapped[Uuid | None]
    note: Mapped[LongText | None]


class WorkDay(SyncedRow):
    """One day of work: who comes, with what, in which weather, and the tickets planned for it."""

    __tablename__ = "work_day"

    on: Mapped[Day]
    crew: Mapped[Shape | None]
    mixer: Mapped[bool | None]
    forecast: Mapped[Shape | None]
    ticket_ids: Mapped[Shape | None]
    note: Mapped[LongText | None]


class Handout(SyncedRow):
    """The tickets one helper gets for a day, in their order."""

    __tablename__ = "handout"
    __table_args__ = (refers("work_day_id", "work_day"),)

    work_day_id: Mapped[Uuid | None]
    person: Mapped[Name | None]
    on: Mapped[Day]
    ticket_ids: Mapped[Shape]
    language: Mapped[Choice | None]
    show_place: Mapped[bool | None]
    ended_on: Mapped[Day | None]
    note: Mapped[LongText | None]
