"""The twelve worst ways to lose work, and the tests that prove each is met; a proof that goes missing shows here.

A proof is `folder/file::test`, the file in that folder of tests/ or below it; a planted bug of tests/simulate/bugs.py
(caught within so many seeds); or the first words of a test of the web app. Where the database matters the test lies
where it runs on both kinds.
"""

import ast
import re
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.everything import NOT_ON_POSTGRES, ON_POSTGRES
from tests.house.tree import ROOT, functions
from tests.make import make_guest
from tests.simulate.bugs import BUGS


@dataclass(frozen=True)
class Pitfall:
    """One way to lose work, and its proofs: on both databases, by planted bugs, those of other kinds, and on the phone."""

    words: str
    server: tuple[str, ...] = ()
    planted: tuple[str, ...] = ()
    others: tuple[str, ...] = ()
    phone: tuple[str, ...] = ()


PITFALLS = {
    1: Pitfall(
        "a reader steps over rows whose revision was given out before their commit",
        server=(
            "faults/test_gaps.py::test_reader_misses_no_row_that_racing_writers_commit",
            "faults/test_gaps.py::test_the_race_does_catch_revisions_given_out_before_the_commit",
        ),
    ),
    2: Pitfall(
        "an answer is lost: the op counts twice, or is let go of too early",
        server=(
            "work/test_receive_changes.py::test_op_whose_answer_was_lost_is_done_once",
            "work/test_receive_changes.py::test_op_twice_in_one_push_is_done_once",
        ),
        planted=("no_dedupe", "ack_on_send"),
        others=("e2e/test_bad_line.py::test_an_answer_lost_on_the_way_back_makes_no_second_row",),
        phone=("store/net/sync.test.ts: a lost answer leaves the op in the outbox, and it takes effect once",),
    ),
    3: Pitfall(
        "the cursor is kept before its rows, or taken from the server's counter",
        server=("work/test_send_changes.py::test_cursor_is_the_last_row_given_and_never_the_counter",),
        planted=("cursor_first", "cursor_clock", "cursor_one_too_far"),
    ),
    4: Pitfall(
        "a pull writes over what was not sent yet, or an old value flashes up",
        planted=("pull_clobbers_outbox", "pull_hides_pending"),
        phone=(
            "store/net/sync.test.ts: a pull does not put the older value over an unsent edit",
            "store/net/sync.test.ts: between answer and pull the screen never falls back to the older value",
        ),
    ),
    5: Pitfall(
        "a wrong clock wins unseen, or a person clashes with themselves",
        server=(
            "work/test_receive_changes.py::test_true_clash_keeps_both_answers",
            "work/test_receive_changes.py::test_second_edit_of_the_same_phone_is_no_clash",
        ),
        planted=("self_conflict", "loser_not_recorded", "lww_row"),
    ),
    6: Pitfall(
        "one deletes, another edits: work vanishes",
        server=(
            "work/test_receive_changes.py::test_edit_then_unseen_delete_keeps_the_row_and_tells",
            "work/test_receive_changes.py::test_delete_then_unseen_edit_brings_the_row_back_and_tells",
            "work/test_receive_changes.py::test_child_for_a_deleted_row_brings_back_all_above_it",
        ),
        planted=("del_wins", "no_undelete", "child_unnoticed"),
        others=(
            "e2e/test_two_devices.py::test_removed_on_one_phone_and_changed_on_the_other_it_lives_with_both_answers",
        ),
    ),
    7: Pitfall(
        "one bad op holds up all others for ever",
        server=(
            "work/test_receive_bad_ops.py::test_any_op_replaced_by_broken_ones_leaves_the_others_done",
            "work/test_receive_bad_ops.py::test_garbage_never_breaks_a_push",
            "work/test_receive_bad_ops.py::test_fault_of_the_server_itself_parks_the_op_and_takes_the_rest",
        ),
        planted=("park_blocks_queue", "refused_is_forgotten"),
        phone=("store/net/sync.test.ts: one poison op is parked with its sentence, and everything else goes up",),
    ),
    8: Pitfall(
        "the phone's storage fails: dead handles, no room, cleared by the system",
        planted=("told_before_stored",),
        phone=(
            "store/faults.test.ts: %s under %s at every call (for good: %s) is stored whole or rejected",
            "store/faults.test.ts: settling answers under %s at every call: an op leaves the outbox with its row stored",
            "store/database.test.ts: no store holds a Blob or a File",
            "store/net/recovery.test.ts: a phone whose storage the system cleared takes up its session",
        ),
    ),
    9: Pitfall(
        "an old or half-published version is stuck, or a new one loses the old one's work",
        server=("api/test_sync.py::test_phone_below_the_oldest_version_may_still_send_but_not_fetch",),
        others=(
            "e2e/test_install.py::test_a_half_published_version_is_left_alone",
            "e2e/test_install.py::test_a_new_version_waits_for_the_person_and_keeps_the_draft",
            "e2e/test_update_outbox.py::test_work_kept_without_signal_under_the_first_build_is_sent_by_the_second",
        ),
        phone=(
            "store/net/update.test.ts: the page is loaded anew %s",
            "store/old/upgrade.test.ts: %s with unsent work opens under today's version, and its work is sent",
        ),
    ),
    10: Pitfall(
        "the place is stripped from a photo; the camera kills the page and its draft",
        others=(
            "e2e/test_bad_line.py::test_a_photo_without_a_word_about_its_place_has_the_phones_and_its_preview_goes_first",
            "e2e/test_bad_input.py::test_a_photo_without_camera_facts_gets_the_place_of_the_phone",
            "e2e/test_killed_page.py::test_killed_while_the_camera_is_open_the_mark_comes_back",
        ),
        phone=("store/drafts.test.ts: a page that dies at the camera comes back to its draft",),
    ),
    11: Pitfall(
        "a photo is cut, damaged, or shown to whom it is not for",
        server=(
            "faults/test_cut.py::test_photo_cut_at_any_byte_arrives_whole_and_costs_one_chunk_at_most",
            "work/test_take_in_photo.py::test_flipped_bit_is_found_and_the_upload_starts_over",
            "api/test_photos.py::test_damage_on_the_way_answers_460",
            "api/test_photos.py::test_other_sites_photo_is_as_if_it_were_not",
            "work/test_take_in_photo.py::test_hash_tells_another_device_nothing_until_a_row_shows_the_photo",
        ),
        planted=("photo_unhashed", "photo_sent_is_stored"),
        others=(
            "work/test_picture.py::test_copies_carry_no_metadata",
            "work/test_picture.py::test_pixel_flood_costs_less_than_a_second_and_200_mb",
            "e2e/test_bad_line.py::test_a_photo_with_a_flipped_bit_is_refused_and_sent_again_whole",
        ),
    ),
    12: Pitfall(
        "a role taken away still sees, or eats what was not sent; a restored backup rewinds revisions",
        server=(
            "api/test_role_matrix.py::test_no_answer_holds_anything_out_of_the_callers_scope",
            "api/test_people.py::test_device_sent_away_gets_drop_and_its_changes_are_refused",
            "work/test_send_changes.py::test_part_that_ends_between_two_pages_ends_the_flow",
            "faults/test_pitfalls.py::test_part_taken_away_in_the_midst_of_a_pull",
            "work/test_restore.py::test_restored_database_gets_another_epoch",
            "store/test_clock.py::test_new_epoch_leaps_over_every_revision_that_may_have_been_given_out_since_the_backup",
        ),
        planted=("drop_deletes_outbox", "all_types_for_all", "epoch_ignored", "epoch_reuses_revs"),
        phone=(
            "store/net/sync.test.ts: a site this device may no longer see goes; its unsent op is parked, not lost",
            "store/net/sync.test.ts: a restored server: the outbox is kept, rows are asked for anew",
        ),
    ),
}
TABLE = [pytest.param(one, id=str(number)) for number, one in PITFALLS.items()]
_WEB = ROOT / "web" / "src"


def found(proof: str) -> tuple[Path, str] | None:
    """Return where a Python test is and what marks it has; None if it is nowhere, or at more than one place."""
    place, _, name = proof.partition("::")
    folder, _, file = place.partition("/")
    all_of_name = [
        (path, " ".join(map(ast.unparse, one.decorator_list)))
        for path in (ROOT / "tests" / folder).rglob(file)
        for one in functions(path)
        if one.name == name
    ]
    return all_of_name[0] if len(all_of_name) == 1 else None


def exists(proof: str) -> bool:
    """Tell whether a Python test is there and neither left out nor expected to fail."""
    place = found(proof)
    return place is not None and not re.search(r"\bskip|\bxfail", place[1])


def exists_on_phone(proof: str) -> bool:
    """Tell whether a test whose words begin so is in a file of the web app, and runs."""
    file, _, words = proof.partition(": ")
    path = _WEB / file
    begun = rf'^\s*(test|it)(\.each\([^\n]*\))?\("{re.escape(words)}'
    return path.is_file() and re.search(begun, path.read_text("utf-8"), re.MULTILINE) is not None


def runs_on_both(proof: str) -> bool:
    """Tell whether a test runs on SQLite and on PostgreSQL: by its folder's own fixtures, or by the second run."""
    place = found(proof)
    if place is None:
        return False
    file = place[0].relative_to(ROOT)
    if file.is_relative_to("tests/faults"):
        return "settings" not in {one.name for one in functions(place[0])}
    return any(file.is_relative_to(folder) for folder in ON_POSTGRES) and file.as_posix() not in NOT_ON_POSTGRES


def test_all_twelve_are_told():
    assert list(PITFALLS) == list(range(1, 13))


@pytest.mark.parametrize("pitfall", TABLE)
def test_every_proof_of_a_pitfall_is_there(pitfall):
    missing = [one for one in pitfall.server + pitfall.others if not exists(one)]
    missing += [one for one in pitfall.planted if one not in BUGS]
    missing += [one for one in pitfall.phone if not exists_on_phone(one)]
    assert not missing
    assert pitfall.server + pitfall.others + pitfall.planted + pitfall.phone


@pytest.mark.parametrize("pitfall", TABLE)
def test_what_touches_the_database_is_tried_on_both(pitfall):
    assert [one for one in pitfall.server if not runs_on_both(one)] == []


def test_a_proof_that_is_gone_is_missed():
    assert not exists("faults/test_gaps.py::test_reader_misses_no_row")
    assert not exists("faults/test_none.py::test_reader_misses_no_row_that_racing_writers_commit")
    assert not exists_on_phone("store/net/sync.test.ts: a lost answer leaves the op out of the outbox")
    assert not exists_on_phone("store/net/none.test.ts: a lost answer leaves the op in the outbox")
    assert not runs_on_both("work/test_picture.py::test_copies_carry_no_metadata")
    assert not runs_on_both("faults/test_disk_full.py::test_changes_are_refused_whole_and_taken_when_there_is_room")


def test_part_taken_away_in_the_midst_of_a_pull(app, grounds):
    """Pitfall 12 over HTTP: no further row comes, the site is named, and what the phone still holds is refused, not lost."""
    guest = make_guest(app, grounds.keeper, grounds.site, "surveyor", "Sura")
    body = {"v": 1, "epoch": None, "since": {}, "limit": 1}
    first = guest.post("/api/sync/pull", body).json
    assert (len(first["rows"]), first["more"]) == (1, True)
    path = f"/api/devices/{grounds.site}/{guest.device_id}"
    assert grounds.keeper.client.delete(path, headers={"X-CSRF": grounds.keeper.csrf}).status_code == 204
    then = guest.post("/api/sync/pull", {**body, "since": first["since"]}).json
    assert (then["rows"], then["drop"], then["since"], then["more"]) == ([], [grounds.site], {}, False)
    late = grounds.op("defect", note="seen before the part was taken away")
    for _ in range(2):
        (result,) = guest.push(late)
        assert (result["st"], result["code"]) == ("rejected", "not_allowed")
        assert len(result["say"]) > 15
    assert ("defect", late["id"]) not in grounds.keeper.pull().rows
