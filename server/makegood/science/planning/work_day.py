"""The plan of a work day and the days after it: which tickets in which order, who does what, what waits.

Model: tickets in the order of their urgency, then wall, then number; each takes the first of its visits that
nothing stands against. A coat is laid in one day, by one person or as few as it takes; preparing and other
work may go on the next day. The next coat waits as in `science.curing`, likely figure; the gate is asked as in
`science.planning.weather`. The same people come each day. Source: own derivation; hours are assumed.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import NamedTuple

from makegood.errors import BadInput
from makegood.science.curing import CuringCoat, curing_plan
from makegood.science.planning.hours import ANYBODY
from makegood.science.planning.mixing import Stretch, share_batches
from makegood.science.planning.shapes import (
    Ask,
    Batch,
    Block,
    ForecastDay,
    Job,
    Plan,
    PlannedDay,
    Reason,
    Visit,
    Waits,
    Worker,
)
from makegood.science.planning.weather import judge_day

URGENCIES = ("make_safe_now", "before_next_rain", "this_season", "keep_watch")
_NOTHING = 1e-9
# Nobody begins something new for less than a quarter of an hour (assumed).
_LEAST_H = 0.25
_MOST_DAYS = 90


@dataclass
class _Standing:
    """How far one ticket has come; `skilled` are those who can do each of its visits."""

    job: Job
    skilled: list[list[int]]
    ready: date
    visit: int = 0
    done_h: float = 0.0
    code: str | None = None

    @property
    def through(self) -> bool:
        return self.visit >= len(self.job["visits"])

    @property
    def begun(self) -> bool:
        return self.visit > 0 or self.done_h > 0

    @property
    def able(self) -> list[int]:
        return self.skilled[self.visit]

    @property
    def left_h(self) -> float:
        return self.job["visits"][self.visit]["hours"]["likely"] - self.done_h


@dataclass
class _Today:
    """One day as it fills up: until when each person is busy, and what was planned."""

    on: date
    crew: Sequence[Worker]
    going: Sequence[_Standing]
    busy_h: list[float]
    blocks: list[Block] = field(default_factory=list)
    cautions: dict[tuple[str, str], None] = field(default_factory=dict)


class _Share(NamedTuple):
    worker: int
    from_h: float
    hours: float


def plan_work(ask: Ask) -> Plan:
    """Return the days with work and who does what on them, and every ticket left out with its reason.

    Hours are counted from the start of the day's work; a day without work is not listed. Reasons: those known
    before (engineer_first and whatever the caller gives), no_people, no_skill, too_long, no_hours, curing, and
    the codes of the gate.
    Raises: BadInput `date_refused`, `hours_refused`, `out_of_range`.
    Source: own derivation. Valid for 1 to 90 days.
    """
    start = _check(ask)
    standing = [_standing(job, ask, start) for job in sorted(ask["jobs"], key=_order)]
    going = [one for one in standing if one.code is None]
    forecast = {day["on"]: day for day in ask["forecast"]}
    days = [_plan_day(start + timedelta(days=n), going, ask, forecast) for n in range(ask["days"])]
    return {
        "days": [day for day in days if day["blocks"]],
        "left_out": [_why(one) for one in standing if not one.begun],
        "goes_on": [one.job["id"] for one in standing if one.begun and not one.through],
    }


def _order(job: Job) -> tuple[int, str, float, str]:
    return URGENCIES.index(job["urgency"]), job["wall"], job["turn"], job["id"]


def can_do(worker: Worker, skill: str, covers: Mapping[str, list[str]]) -> bool:
    """Whether a person has a skill, by itself or within another. Source: own derivation."""
    return skill == ANYBODY or any(skill == own or skill in covers.get(own, ()) for own in worker["skills"])


def _standing(job: Job, ask: Ask, start: date) -> _Standing:
    one = _Standing(job, [_who_can(visit, ask) for visit in job["visits"]], start)
    one.code = job["left_out"] or _never(one, ask["crew"])
    return one


def _who_can(visit: Visit, ask: Ask) -> list[int]:
    crew = enumerate(ask["crew"])
    return [n for n, one in crew if one["hours"] > 0 and can_do(one, visit["skill"], ask["covers"])]


def _never(one: _Standing, crew: Sequence[Worker]) -> str | None:
    """Why a ticket cannot be planned on any day with these people; None if it can."""
    if not any(worker["hours"] > 0 for worker in crew):
        return "no_people"
    if not one.job["visits"]:
        return "no_size"
    if not all(one.skilled):
        return "no_skill"
    for visit, able in zip(one.job["visits"], one.skilled, strict=True):
        if visit["coat"] and visit["hours"]["likely"] > sum(crew[n]["hours"] for n in able) + _NOTHING:
            return "too_long"
    return None


def _why(one: _Standing) -> Reason:
    return {"job": one.job["id"], "code": one.code or "no_hours"}


def _plan_day(
    on: date, going: Sequence[_Standing], ask: Ask, forecast: Mapping[str, ForecastDay]
) -> PlannedDay:
    today = _Today(on, ask["crew"], going, [0.0] * len(ask["crew"]))
    for one in going:
        _work_on(one, today, forecast)
    waits: list[Reason] = [_why(one) for one in going if not one.through]
    worked = {block["job"] for block in today.blocks}
    return {
        "on": on.isoformat(),
        "blocks": sorted(today.blocks, key=lambda block: (block["worker"], block["from_h"])),
        "batches": _batches(today.blocks, going, ask),
        "waits": waits,
        "cautions": [{"job": job, "code": code} for job, code in today.cautions if job in worked],
    }


def _work_on(one: _Standing, today: _Today, forecast: Mapping[str, ForecastDay]) -> None:
    """Take up the ticket's visits one after the other until something stands against the next."""
    from_h, team = 0.0, list[int]()
    while not one.through:
        one.code = _stopped(one, today, forecast)
        if one.code:
            return
        visit = one.job["visits"][one.visit]
        shares = _shares(one, today, from_h, team)
        if not shares:
            one.code = "no_hours"
            return
        _book(one, shares, today)
        from_h, team = (
            max(from_h, *(share.from_h + share.hours for share in shares)),
            [s.worker for s in shares],
        )
        if one.left_h > _NOTHING:
            one.code = "no_hours"
            return
        one.visit, one.done_h = one.visit + 1, 0.0
        one.ready = next_coat_on(today.on, visit["coat"]) if visit["coat"] else today.on


def next_coat_on(on: date, coat: Waits) -> date:
    """The likely day for the coat after one laid on `on`. Source: `science.curing`."""
    plain = CuringCoat(0.0, {"kind": "plaster", "rich": 0.0, "stipple": True, "coverage_m2_per_l": None,
                             "coat_mm": None}, **coat)  # fmt: skip
    steps = curing_plan(on, [plain, plain], ()).steps
    return next(step.likely for step in steps if step.kind == "lay" and step.coat == 1)


def _stopped(one: _Standing, today: _Today, forecast: Mapping[str, ForecastDay]) -> str | None:
    if today.on < one.ready:
        return "curing"
    coat = _coat_ahead(one.job["visits"], one.visit)
    if coat is None:
        return None
    answer = judge_day(one.job, coat, today.on, forecast)
    if answer.stop is None:
        today.cautions |= {(one.job["id"], code): None for code in answer.cautions}
    return answer.stop


def _coat_ahead(visits: Sequence[Visit], place: int) -> Waits | None:
    """A wall is opened up only on a day on which it could be coated too."""
    if visits[place]["kind"] == "prepare" and place + 1 < len(visits):
        return visits[place + 1]["coat"]
    return visits[place]["coat"]


def _shares(one: _Standing, today: _Today, from_h: float, team: Sequence[int]) -> list[_Share]:
    """Who works on the ticket's visit today and for how long; nobody where a coat cannot be finished today."""
    starts = {n: max(today.busy_h[n], from_h) for n in one.able}
    free = {n: today.crew[n]["hours"] - starts[n] for n in one.able}
    alone = [n for n in one.able if free[n] >= one.left_h - _NOTHING]
    if alone:
        best = min(alone, key=lambda n: (n not in team, _is_wanted(n, one, today), starts[n], n))
        return [_Share(best, starts[best], one.left_h)]
    left, shares = one.left_h, list[_Share]()
    for n in sorted(one.able, key=lambda n: (-free[n], n)):
        hours = min(free[n], left)
        if hours < min(_LEAST_H, left) or hours <= _NOTHING:
            continue
        shares.append(_Share(n, starts[n], hours))
        left -= hours
    whole = left <= _NOTHING
    return shares if whole or one.job["visits"][one.visit]["coat"] is None else []


def _is_wanted(worker: int, one: _Standing, today: _Today) -> bool:
    """Whether something that fewer people can do waits for this person today: a ticket's next visit or the one after."""
    return any(
        worker in able and len(able) < len(one.able)
        for other in today.going
        if other.ready <= today.on
        for able in other.skilled[other.visit : other.visit + 2]
    )


def _book(one: _Standing, shares: Sequence[_Share], today: _Today) -> None:
    for worker, from_h, hours in shares:
        today.blocks.append(
            {
                "worker": worker,
                "job": one.job["id"],
                "visit": one.visit,
                "from_h": from_h,
                "to_h": from_h + hours,
            }
        )
        today.busy_h[worker] = from_h + hours
        one.done_h += hours


def _batches(blocks: Sequence[Block], going: Sequence[_Standing], ask: Ask) -> list[Batch]:
    jobs = {one.job["id"]: one.job for one in going}
    stretches: list[Stretch] = []
    for block in blocks:
        job = jobs[block["job"]]
        visit = job["visits"][block["visit"]]
        share = (block["to_h"] - block["from_h"]) / visit["hours"]["likely"]
        stretches += [
            {"job": job["id"], "mix": portion["mix"], "place": job["place"], "from_h": block["from_h"],
             "to_h": block["to_h"], "litres": portion["litres"] * share}
            for portion in visit["portions"]
        ]  # fmt: skip
    return share_batches(stretches, ask["mixes"])


def _check(ask: Ask) -> date:
    if not 1 <= ask["days"] <= _MOST_DAYS:
        raise BadInput("out_of_range", f"Plan 1 to {_MOST_DAYS} days.", {"days": "range"})
    hours = [one["hours"] for one in ask["crew"]]
    visits = [visit for job in ask["jobs"] for visit in job["visits"]]
    if not all(0 <= one <= 24 for one in hours) or not all(
        0 < one["hours"]["likely"] < 10_000 for one in visits
    ):
        raise BadInput(
            "hours_refused",
            "Give each person 0 to 24 hours and each visit more than none.",
            {"hours": "range"},
        )
    try:
        return date.fromisoformat(ask["start"])
    except ValueError as fault:
        raise BadInput("date_refused", "Give a day as 2026-04-01.", {"start": ask["start"]}) from fault
