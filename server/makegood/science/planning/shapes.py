"""The shapes that the plan of a work day takes and gives; on the phone they stand in model/planning/shapes.ts.

Source: own derivation. Dates as 2026-04-01, hours counted from the start of the day's work.
"""

from typing import TypedDict

from makegood.science.range import Range


class Waits(TypedDict):
    """Waiting times of one coat [days], as in its mix."""

    damp_days: Range
    interval_days: Range
    frost_free_days: Range


class Portion(TypedDict):
    """How much of one mix goes on in a visit [L, with loss]."""

    mix: str
    litres: float


class Visit(TypedDict):
    """One piece of work at the wall: prepare, lay (a coat, in one day), or work (anything else).

    hours: of work, all people together; skill: what it asks for; coat: what is waited for afterwards, None for
    work without a coat.
    """

    kind: str
    skill: str
    hours: Range
    portions: list[Portion]
    coat: Waits | None


class Job(TypedDict):
    """One ticket as the plan sees it.

    turn: order among equals; wall, place: the side and the building; left_out: a reason known before;
    wall_dry, wet_on: the wall as last looked at; covered: sheeted against rain, frost.
    """

    id: str
    urgency: str
    turn: float
    wall: str
    place: str
    left_out: str | None
    wall_dry: bool | None
    wet_on: str | None
    covered: bool
    visits: list[Visit]


class Worker(TypedDict):
    """One person of the crew: hours a day, and what they can do."""

    person: str
    hours: float
    skills: list[str]


class ForecastDay(TypedDict):
    """The forecast of one date; None is not known."""

    on: str
    low_c: float | None
    high_c: float | None
    rain_mm: float | None


class MixWays(TypedDict):
    """The vessel a mix is made in [L], and how long it stays workable at least [h]."""

    container_l: float
    working_h: float


class Ask(TypedDict):
    """All that a plan is made from. covers: which skills each skill includes."""

    start: str
    days: int
    jobs: list[Job]
    crew: list[Worker]
    forecast: list[ForecastDay]
    mixes: dict[str, MixWays]
    covers: dict[str, list[str]]


class Block(TypedDict):
    """A stretch of one person's day on one visit; worker and visit count from 0."""

    worker: int
    job: str
    visit: int
    from_h: float
    to_h: float


class Batch(TypedDict):
    """One mixing: when, how much, and for which tickets of one building it is laid until when."""

    mix: str
    place: str
    at_h: float
    until_h: float
    litres: float
    jobs: list[str]


class Reason(TypedDict):
    """Why a ticket waits, is left out, or wants care, by code."""

    job: str
    code: str


class PlannedDay(TypedDict):
    """One day with work: the blocks, the batches, what waits and why, and what wants care."""

    on: str
    blocks: list[Block]
    batches: list[Batch]
    waits: list[Reason]
    cautions: list[Reason]


class Plan(TypedDict):
    """The days with work, the tickets that are in none with the reason, and those not through by the end."""

    days: list[PlannedDay]
    left_out: list[Reason]
    goes_on: list[str]
