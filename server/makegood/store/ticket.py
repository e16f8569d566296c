"""Tables of what is to be repaired: tickets and their steps."""

from sqlalchemy.orm import Mapped

from makegood.store.row_table import Choice, Instant, LongText, Shape, SyncedRow, Uuid, refers


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
    __table_args__ = (refers("ticket_id", "ticket"),)

    ticket_id: Mapped[Uuid]
    kind: Mapped[Choice]
    at: Mapped[Instant]
    note: Mapped[LongText | None]
