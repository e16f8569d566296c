"""The demo site: reproducible, small, and nothing in it that the server would refuse."""

import hashlib
import json
import sys
from collections.abc import Iterator
from datetime import UTC, date, datetime
from functools import cache
from io import BytesIO
from itertools import groupby
from pathlib import Path
from typing import Any

import exifread
import pytest
from flask import Flask
from PIL import Image, ImageChops, ImageStat

from makegood.domain.building import check_coats, check_mark, check_openings, check_surface
from makegood.domain.repair.known import size_of_mark
from makegood.domain.row import check_fields, fields_of, is_append_only, is_uuid
from makegood.domain.step import place_step
from makegood.domain.ticket import TicketStep, state_of
from makegood.domain.urgency import Facts, judge
from makegood.domain.vocabulary import choices, shared
from makegood.work.invite import invite_first
from tests.make import Phone

Op = dict[str, Any]
DEMO = Path(__file__).parents[2] / "demo_data"  # the scripts are in the checkout only
MOST_BYTES, MOST_PHOTO_BYTES = 10_000_000, 6_000_000
DAY_AFTER = date(2026, 7, 1)
REDRAWN = (0, 19, 54)


@cache
def site() -> dict[str, Any]:
    read: dict[str, Any] = json.loads((DEMO / "site.json").read_text(encoding="utf-8"))
    return read


def ops(row_type: str | None = None) -> list[Op]:
    return [one["op"] for one in site()["ops"] if row_type in (None, one["op"]["type"])]


def rows(row_type: str) -> dict[str, Op]:
    """Return the fields of each row of a type by its id, later changes laid over earlier ones."""
    found: dict[str, Op] = {}
    for op in ops(row_type):
        found[op["id"]] = {**found.get(op["id"], {}), **op["set"]}
    return found


def steps_of(ticket: str) -> list[TicketStep]:
    return [
        TicketStep(op["set"]["kind"], op["set"]["at"], op["id"])
        for op in ops("step")
        if op["set"]["ticket_id"] == ticket
    ]


@pytest.fixture
def makers(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Put the scripts of demo_data on the import path for one test."""
    monkeypatch.syspath_prepend(str(DEMO))
    before = set(sys.modules)
    yield
    for name in set(sys.modules) - before:
        if str(DEMO) in str(getattr(sys.modules[name], "__file__", "")):
            del sys.modules[name]


@pytest.mark.usefixtures("makers")
def test_site_json_is_what_make_site_writes() -> None:
    import make_site

    assert (DEMO / "site.json").read_text(encoding="utf-8") == make_site.as_text(make_site.site())


@pytest.mark.usefixtures("makers")
@pytest.mark.parametrize("number", REDRAWN)
def test_a_picture_drawn_anew_is_the_committed_one(number: int) -> None:
    import draw_photos
    from shots import file_name

    kept = Image.open(DEMO / "photos" / file_name(number)).convert("RGB")
    anew = Image.open(BytesIO(draw_photos.photo_bytes(number))).convert("RGB")
    # Another JPEG library may round otherwise, so one level of 256 on average is let pass.
    assert kept.size == anew.size
    assert max(ImageStat.Stat(ImageChops.difference(kept, anew)).mean) < 1.0


@pytest.mark.usefixtures("makers")
def test_the_listed_pictures_and_no_others_are_kept() -> None:
    from shots import SHOTS, file_name

    kept = {path.name for path in (DEMO / "photos").iterdir()}
    assert kept == {file_name(number) for number in range(len(SHOTS))}


def test_demo_is_small() -> None:
    files = [path for path in DEMO.rglob("*") if path.is_file() and path.suffix != ".pyc"]
    sizes = {path: path.stat().st_size for path in files}
    assert sum(sizes.values()) < MOST_BYTES
    assert sum(size for path, size in sizes.items() if path.suffix == ".jpg") < MOST_PHOTO_BYTES


def test_demo_holds_enough_to_show() -> None:
    surfaces = [row["surface"] for row in rows("elevation").values()]
    defects = rows("defect").values()
    assert {(one["kind"], one.get("shape")) for one in surfaces} >= {
        ("flat", None),
        ("round_wall", None),
        ("dome", "lancet"),
    }
    assert len(rows("structure")) >= 3
    assert len(surfaces) >= 8
    assert len(rows("storm")) == 3
    assert len(rows("survey")) == 2
    assert len(defects) >= 34
    assert len({one["kind"] for one in defects}) >= 16
    assert {one["mark"]["shape"] for one in defects} == {"pin", "line", "outline"}
    assert {one["mark"]["view"] for one in defects} == {"seen", "unrolled", "above"}
    assert sum(one["sample_panel"] for one in rows("finish").values()) == 9
    assert {one["verdict"] for one in rows("score").values()} == choices("verdicts")
    assert len({one["at"][:7] for one in rows("score").values()}) >= 4
    assert len(rows("photo")) >= 40
    assert {one["state"] for one in rows("reading").values()} == choices("reading_states")
    assert {row["kind"] for one in rows("elevation").values() for row in one.get("openings", [])} == choices(
        "opening_kinds"
    )


def test_second_survey_reads_known_defects_again() -> None:
    readings = [(one["defect_id"], one["survey_id"]) for one in rows("reading").values()]
    assert len(readings) == len(set(readings))
    assert sum(len([d for d, _ in readings if d == defect]) == 2 for defect in rows("defect")) >= 20


def test_a_reading_of_what_was_drawn_tells_the_size_of_its_drawing() -> None:
    """As the app keeps it: nobody is asked for an area or a length beside a drawing that has one."""
    defects, walls, compared = rows("defect"), rows("elevation"), 0
    standing: dict[str, Op] = {}
    for one in sorted(rows("reading").values(), key=lambda reading: reading["at"]):
        defect = defects[one["defect_id"]]
        mark = standing[one["defect_id"]] = one.get("mark") or standing.get(one["defect_id"], defect["mark"])
        size = size_of_mark(mark, walls[defect["elevation_id"]]["surface"])
        drawn = {"area_m2": size.area_m2, "length_m": size.length_m}
        told = {name: drawn[name] for name in drawn if one.get(name) is not None and drawn[name] is not None}
        assert {name: one[name] for name in told} == pytest.approx(told, abs=0.006), defect
        compared += len(told)
    assert compared >= 40


@pytest.mark.parametrize("op", ops(), ids=lambda op: f"{op['type']}-{op['id'][:8]}")
def test_every_change_passes_the_checks_of_the_server(op: Op) -> None:
    is_new = op is next(one for one in ops() if one["id"] == op["id"])
    assert is_new or not is_append_only(op["type"])
    assert len(json.dumps(op)) < 16_000
    given = check_fields(op["type"], op["set"], is_new, DAY_AFTER)
    for name, value in given.items():
        if value is not None:
            check_shape(fields_of(op["type"])[name].get("shape"), value, op)


def check_shape(shape: str | None, value: Any, op: Op) -> None:
    if shape == "surface":
        assert check_surface(value) == value
    elif shape == "openings":
        assert check_openings(value, op["set"]["surface"]) == value
    elif shape == "mark":
        assert check_mark(value, surface_under(op)) == value
    elif shape == "coats":
        check_coats(value)
        assert {coat["mix"] for coat in value} <= choices("mixes")
    elif shape == "bags":
        assert set(value) <= choices("materials")


def surface_under(op: Op) -> dict[str, Any]:
    given = rows("defect")[op["set"]["defect_id"]] if op["type"] == "reading" else op["set"]
    surface: dict[str, Any] = rows("elevation")[given["elevation_id"]]["surface"]
    return surface


def test_every_row_is_named_only_after_it_was_made() -> None:
    made: dict[str, str] = {}
    for op in ops():
        named = [(spec["of"], op["set"][name]) for name, spec in fields_of(op["type"]).items()
                 if spec["kind"] == "ref" and name in op["set"]]  # fmt: skip
        named += [("defect", one) for one in op["set"].get("defect_ids", [])]
        if "of_id" in op["set"]:
            named.append((op["set"]["of_type"], op["set"]["of_id"]))
        for row_type, row_id in named:
            assert made.get(row_id) == row_type, f"{op['type']} {op['id']} names {row_type} {row_id}"
        made.setdefault(op["id"], op["type"])


def test_ids_are_uuids_and_each_person_counts_up() -> None:
    changes = site()["ops"]
    counts: dict[str, int] = {}
    for one in changes:
        counts[one["person"]] = counts.get(one["person"], 0) + 1
        assert one["op"]["n"] == counts[one["person"]]
        assert is_uuid(one["op"]["op"])
        assert is_uuid(one["op"]["id"])
        assert one["op"]["site"] == site()["site_id"]
    assert len({one["op"]["op"] for one in changes}) == len(changes)
    assert [one["at"] for one in changes] == sorted(one["at"] for one in changes)
    assert ops()[0]["type"] == "site"
    assert ops()[0]["id"] == site()["site_id"]


def test_everybody_does_only_what_their_role_may() -> None:
    roles = shared("roles")["roles"]
    role = {one["person"]: roles[one["role"]] for one in site()["people"]}
    seen: set[str] = set()
    for one in site()["ops"]:
        op, may = one["op"], role[one["person"]]
        assert op["type"] in may["edit" if op["id"] in seen else "make"]
        assert op["type"] != "step" or op["set"]["kind"] in may["steps"]
        seen.add(op["id"])
    assert {one["role"] for one in site()["people"]} == set(roles)


def test_every_step_is_legal_when_its_turn_comes() -> None:
    for ticket in rows("ticket"):
        steps = steps_of(ticket)
        for number, step in enumerate(steps):
            assert place_step(steps[:number], step.kind, step.at) == step.at


def test_tickets_stand_in_every_state_and_some_came_back() -> None:
    states = {ticket: state_of(steps_of(ticket), shared("ticket_states")).state for ticket in rows("ticket")}
    assert set(states.values()) == choices("ticket_states")
    came_back = {op["set"]["ticket_id"] for op in ops("step") if op["set"]["kind"] == "reopened"}
    assert {states[ticket] for ticket in came_back} >= {"open", "taken"}


def test_no_ticket_is_put_off_longer_than_the_rules_say() -> None:
    table = shared("urgency")
    for ticket in rows("ticket").values():
        judged = [judge(facts_of(defect), table) for defect in ticket["defect_ids"]]
        most = min(table["order"].index(one.urgency) for one in judged)
        assert table["order"].index(ticket["urgency"]) <= most, ticket
        assert ticket["method"] == "engineer_first" or not any(one.engineer_first for one in judged), ticket


def facts_of(defect_id: str) -> Facts:
    defect = rows("defect")[defect_id]
    looks = [one for one in rows("reading").values() if one["defect_id"] == defect_id]
    read = [one for one in looks if one["state"] != "repaired"][-1]
    structure = rows("structure")[rows("elevation")[defect["elevation_id"]]["structure_id"]]
    signs = (*defect["signs"], *(["growing"] if read["state"] == "grown" else []))
    measured = {name: read.get(name) for name in ("depth_max_mm", "area_m2", "crack_width_mm")}
    return Facts(defect["kind"], signs, wall_material=structure["wall_material"], **measured)


def test_server_takes_every_change_as_sent(app: Flask) -> None:
    role = {one["person"]: one["role"] for one in site()["people"]}
    keeper = next(person for person, held in role.items() if held == "keeper")
    with app.app_context():
        first = invite_first(datetime.now(UTC), 1)
    phones = {keeper: Phone(app.test_client()).enrol(first.token, keeper)}
    results = phones[keeper].push(ops()[0])
    for person in role.keys() - {keeper}:
        body = {"site_id": site()["site_id"], "role": role[person]}
        token = phones[keeper].post("/api/invites", body).json["token"]
        phones[person] = Phone(app.test_client()).enrol(token, person)
    for person, sent in groupby(site()["ops"][1:], key=lambda one: one["person"]):
        results += phones[person].push(*(one["op"] for one in sent))
    clashes = [result for result in results if result["st"] == "clash"]
    assert [result for result in results if result["st"] == "rejected"] == []
    assert [result["fields"] for result in clashes] == [["cause"]]
    assert len(results) == len(ops())


def test_photo_rows_name_the_kept_files() -> None:
    listed = site()["photos"]
    assert {one["sha256"] for one in rows("photo").values()} == set(listed)
    for row in rows("photo").values():
        content = (DEMO / listed[row["sha256"]]).read_bytes()
        assert len(content) == row["bytes"]
        assert hashlib.sha256(content).hexdigest() == row["sha256"]


@pytest.mark.parametrize("photo", rows("photo").values(), ids=lambda photo: site()["photos"][photo["sha256"]])
def test_camera_file_says_what_the_phone_said_or_nothing(photo: Op) -> None:
    path = DEMO / site()["photos"][photo["sha256"]]
    with path.open("rb") as file:
        tags = exifread.process_file(file, details=False)
    if not tags:
        assert photo.get("position_source") in ("phone", "hand", None)
        return
    assert str(tags["Image Make"]) == "Makegood drawn picture"
    lat, lon = exifread.utils.get_gps_coords(tags)
    assert 0 <= float(tags["GPS GPSImgDirection"].values[0]) < 360
    taken = photo["taken_at"].replace("-", ":", 2).replace("T", " ").rstrip("Z")
    assert str(tags["EXIF DateTimeOriginal"]) == taken
    if "lat" in photo:
        assert abs(lat - photo["lat"]) < 1e-4
        assert abs(lon - photo["lon"]) < 1e-4
    else:
        assert "position_source" not in photo


def test_some_camera_files_carry_nothing_and_some_lie_on_their_side() -> None:
    turned = [Image.open(DEMO / path).getexif().get(0x0112) for path in site()["photos"].values()]
    assert 3 <= turned.count(None) <= 10
    assert turned.count(6) >= 2
