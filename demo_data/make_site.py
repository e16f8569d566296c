"""Write site.json, the demo as the changes its people's phones sent: `python demo_data/make_site.py`.

Needs makegood installed (it reckons the areas on curved walls) and the pictures of draw_photos.py in photos/.
"""

import hashlib
import json
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from random import Random
from typing import Any
from uuid import NAMESPACE_URL, uuid5

from defects import DEFECTS, found_by
from found import Defect, Second
from panels import LAID, SHEETS
from repairs import NOTES, TICKETS
from shots import SHOTS, clock, file_name, looked_at, taken_at, true_place
from site_plan import ELEVATIONS, FINISHES, PEOPLE, SITE, STORMS, STRUCTURES, SURVEYS, Mark

from makegood.science.outline import reckon_area, reckon_length

HERE = Path(__file__).parent
Fields = dict[str, Any]


@dataclass(frozen=True)
class Change:
    """One row as one person's phone first sent it, or changed it."""

    at: datetime
    person: str
    type: str
    key: str
    fields: Fields


def row_id(row_type: str, key: str) -> str:
    """Return the id of a row; the same each time."""
    return str(uuid5(NAMESPACE_URL, f"makegood demo {row_type} {key}"))


def instant(at: datetime) -> str:
    """Return an instant as phones send it."""
    return at.strftime("%Y-%m-%dT%H:%M:%SZ")


def _coats(coats: tuple[tuple[str, float], ...] | None) -> list[Fields] | None:
    return [{"mix": mix, "thickness_mm": thick} for mix, thick in coats] if coats else None


def _walls() -> Iterator[Change]:
    at = clock("02-21 18:30")
    yield Change(at, "Maren", "site", "site", SITE)
    for key, structure in STRUCTURES.items():
        yield Change(at := at + timedelta(minutes=4), "Maren", "structure", key, structure)
    for key, side in ELEVATIONS.items():
        yield Change(
            at := at + timedelta(minutes=3),
            "Maren",
            "elevation",
            key,
            {
                "structure_id": row_id("structure", side.structure),
                "name": side.name,
                "surface": side.surface,
                "bearing_deg": side.bearing_deg,
                "openings": side.openings,
            },
        )
    for key, finish in FINISHES.items():
        yield Change(
            at := at + timedelta(minutes=2),
            "Maren",
            "finish",
            key,
            {
                "elevation_id": row_id("elevation", finish.elevation),
                "name": finish.name,
                "coats": _coats(finish.coats),
                "region": finish.region,
                "made_on": finish.made_on,
                "sample_panel": finish.sample_panel,
                "note": finish.note,
            },
        )


def _weather_and_walks() -> Iterator[Change]:
    for key, when in (("october", "02-21 21:00"), ("march", "03-11 19:20"), ("may", "05-23 08:10")):
        yield Change(clock(when), "Maren", "storm", key, STORMS[key])
    for key, when in (("first", "03-12 08:30"), ("second", "05-24 08:30")):
        walk = SURVEYS[key]
        yield Change(
            clock(when),
            "Idris",
            "survey",
            key,
            {
                "on": walk["on"],
                "storm_id": row_id("storm", walk["storm"]),
                "elevation_ids": [row_id("elevation", key) for key in ELEVATIONS if key.startswith(walk["looked_at"])],
                "note": walk["note"],
            },
        )


def _panels() -> Iterator[Change]:
    for key, laid in LAID.items():
        fields = {
            "elevation_id": row_id("elevation", laid.elevation),
            "name": laid.name,
            "coats": _coats(laid.coats),
            "region": laid.region,
            "made_on": laid.made_on,
            "sample_panel": laid.sample_panel,
            "ticket_id": row_id("ticket", laid.ticket) if laid.ticket else None,
            **laid.made,
        }
        yield Change(clock(laid.logged), "Maren", "finish", key, fields)
    set_up = clock("02-21 21:15")
    for number, sheet in enumerate(SHEETS):
        at = datetime.fromisoformat(sheet.at)
        fields = {"finish_id": row_id("finish", sheet.finish), "at": instant(at), "verdict": sheet.verdict}
        typed = max(at, set_up + timedelta(minutes=number))
        yield Change(typed, sheet.who, "score", f"{sheet.finish} {sheet.at}", {**fields, **sheet.told})


def larger(mark: Mark, factor: float) -> Mark:
    """Return a mark drawn larger round its middle, not below the foot of the wall."""
    points = mark["points_m"]
    x0, y0 = (sum(point[n] for point in points) / len(points) for n in (0, 1))
    grown = [
        [round(x0 + (x - x0) * factor, 3), round(max(y0 + (y - y0) * factor, 0.0), 3)] for x, y in points
    ]
    return {**mark, "points_m": grown}


def _sizes(defect: Defect, mark: Mark) -> Fields:
    """Return the true area or length of a mark on its wall, as the phone reckons it."""
    surface = ELEVATIONS[defect.elevation].surface
    if mark["shape"] == "outline":
        return {"area_m2": round(reckon_area(surface, mark["view"], mark["points_m"]).area_m2, 3)}
    if mark["shape"] == "line":
        return {"length_m": round(reckon_length(surface, mark["view"], mark["points_m"]).length_m, 2)}
    return {}


def _reading(key: str, survey: str, seen: Second) -> Change:
    defect, at = DEFECTS[key], looked_at(key, survey)
    mark = larger(defect.mark, seen.larger) if seen.larger != 1 else defect.mark
    sizes = {} if seen.state == "repaired" else {**(seen.measures or {}), **_sizes(defect, mark)}
    return Change(
        at + timedelta(seconds=50),
        found_by(key),
        "reading",
        f"{key} {survey}",
        {
            "defect_id": row_id("defect", key),
            "survey_id": row_id("survey", survey),
            "at": instant(at),
            "mark": None if mark == defect.mark else mark,
            **sizes,
            "state": seen.state,
            "note": seen.note,
        },
    )


def _findings() -> Iterator[Change]:
    for key, one in DEFECTS.items():
        yield Change(
            looked_at(key, one.found),
            found_by(key),
            "defect",
            key,
            {
                "elevation_id": row_id("elevation", one.elevation),
                "kind": one.kind,
                "mark": one.mark,
                "cause": one.cause,
                "signs": one.signs.split(),
                "note": one.note,
            },
        )
        yield _reading(key, one.found, Second("new", one.measures))
        if one.second:
            yield _reading(key, "second", one.second)


def _second_thoughts() -> Iterator[Change]:
    """Two edits: one by the person who found it, one that clashes with what somebody else said."""
    crack = DEFECTS["east_crack"]
    yield Change(
        looked_at("east_crack", "second") + timedelta(minutes=2),
        "Idris",
        "defect",
        "east_crack",
        {
            "elevation_id": row_id("elevation", crack.elevation),
            "mark": crack.mark,
            "signs": ["growing", "through_wall"],
        },
    )
    yield Change(
        clock("05-25 19:05"),
        "Maren",
        "defect",
        "south_foot_damp",
        {
            "elevation_id": row_id("elevation", "shed_south"),
            "mark": DEFECTS["south_foot_damp"].mark,
            "cause": "rising_damp",
        },
    )


def _repairs() -> Iterator[Change]:
    for key, ticket in TICKETS.items():
        yield Change(
            clock(ticket.opened),
            ticket.by,
            "ticket",
            key,
            {
                "defect_ids": [row_id("defect", one) for one in ticket.defects],
                "method": ticket.method,
                "urgency": ticket.urgency,
                "coats": _coats(ticket.coats),
                "margin_mm": ticket.margin_mm,
                "note": ticket.note,
            },
        )
        for number, step in enumerate(ticket.steps):
            yield Change(
                clock(step.when),
                step.who,
                "step",
                f"{key} {number}",
                {
                    "ticket_id": row_id("ticket", key),
                    "kind": step.kind,
                    "at": instant(clock(step.when)),
                    "note": step.note,
                },
            )


def _notes() -> Iterator[Change]:
    for number, note in enumerate(NOTES):
        yield Change(
            clock(note.when),
            note.who,
            "note",
            str(number),
            {
                "of_type": note.of_type,
                "of_id": row_id(note.of_type, note.of_key),
                "at": instant(clock(note.when)),
                "text": note.text,
            },
        )


def _phone_place(number: int) -> Fields:
    """Return the place as the phone took it: near the true one; nothing where it was not allowed to know."""
    shot, rng = SHOTS[number], Random(f"phone {number}")
    true = true_place(shot)
    if shot.place in ("camera_file", "nobody"):
        return {}
    place = {
        "lat": round(true.lat + rng.uniform(-2e-5, 2e-5), 6),
        "lon": round(true.lon + rng.uniform(-3e-5, 3e-5), 6),
    }
    if shot.place == "hand":
        return {**place, "position_source": "hand"}
    return {
        **place,
        "accuracy_m": round(rng.uniform(3.5, 14), 1),
        "heading_deg": round((true.heading_deg + rng.uniform(-4, 4)) % 360, 1),
        "position_source": "phone",
    }


def _photos() -> Iterator[Change]:
    for number, shot in enumerate(SHOTS):
        content, at = (HERE / "photos" / file_name(number)).read_bytes(), taken_at(shot)
        if isinstance(shot.at, int):
            kind, key, later = "step", f"{shot.of} {shot.at}", timedelta(minutes=5)
            person = TICKETS[shot.of].steps[shot.at].who
        else:
            kind, key, later, person = "defect", shot.of, timedelta(minutes=4), found_by(shot.of)
        yield Change(
            at + later,
            person,
            "photo",
            shot.scene,
            {
                "of_type": kind,
                "of_id": row_id(kind, key),
                "sha256": hashlib.sha256(content).hexdigest(),
                "media_type": "image/jpeg",
                "bytes": len(content),
                "taken_at": instant(at),
                **_phone_place(number),
            },
        )


def changes() -> list[Change]:
    """Return everything that happened, in the order it happened."""
    happened = [
        *_walls(),
        *_weather_and_walks(),
        *_panels(),
        *_findings(),
        *_second_thoughts(),
        *_repairs(),
        *_notes(),
        *_photos(),
    ]
    return sorted(happened, key=lambda change: change.at)


def site() -> Fields:
    """Return the whole of site.json."""
    site_id, sent = row_id("site", "site"), Counter[str]()
    ops = []
    for place, change in enumerate(changes()):
        sent[change.person] += 1
        op = {
            "op": row_id("op", str(place)),
            "n": sent[change.person],
            "type": change.type,
            "id": row_id(change.type, change.key),
            "site": site_id,
            "kind": "put",
            "base": 0,
            "at": instant(change.at),
            "set": {name: value for name, value in change.fields.items() if value is not None},
        }
        ops.append({"person": change.person, "at": instant(change.at), "op": op})
    people = [
        {"person": name, "role": role, "device_name": device} for name, (role, device) in PEOPLE.items()
    ]
    files = {
        hashlib.sha256((HERE / "photos" / name).read_bytes()).hexdigest(): f"photos/{name}"
        for name in map(file_name, range(len(SHOTS)))
    }
    return {"site_id": site_id, "people": people, "photos": files, "ops": ops}


def as_text(content: Fields) -> str:
    """Return site.json as it is kept: one change a line, so that a difference can be read."""
    head = {name: content[name] for name in ("site_id", "people", "photos")}
    lines = ",\n".join("  " + json.dumps(op, ensure_ascii=False) for op in content["ops"])
    return json.dumps(head, ensure_ascii=False, indent=1)[:-2] + ',\n "ops": [\n' + lines + "\n ]\n}\n"


def main() -> None:
    """Write site.json beside this file."""
    (HERE / "site.json").write_text(as_text(site()), encoding="utf-8")


if __name__ == "__main__":
    main()
