"""A full disk is a sentence (507): what was kept stays whole and readable, and the same thing sent again later is taken.

The disk is a small file system in memory, which only root can mount; elsewhere the test is skipped. What SQLite and the
photo folder do by themselves when there is no room is tested in tests/store, everywhere.
"""

import os
import shutil
import subprocess

import pytest

from makegood.__main__ import main
from makegood.app import create_app
from makegood.settings import Settings
from tests.api.test_photos import Sending, add_photo, fetch, picture
from tests.make import make_op

SIZE = "6m"


@pytest.fixture
def settings(empty_data, tmp_path):
    """Settings on a disk of 6 MB."""
    if os.name != "posix" or os.geteuid() != 0:
        pytest.skip("only root can mount a small disk")
    place = tmp_path / "disk"
    place.mkdir()
    mounted = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", f"size={SIZE}", "tmpfs", str(place)], check=False, capture_output=True
    )
    if mounted.returncode:
        pytest.skip(f"no disk can be mounted here: {mounted.stderr.decode().strip()}")
    shutil.copytree(empty_data, place / "data")
    yield Settings(data=place / "data", enrols_per_minute=1000, syncs_per_minute=100_000)
    subprocess.run(["umount", "-l", str(place)], check=True)


@pytest.fixture
def app(settings):
    """The app on the small disk."""
    return create_app(settings)


def fill(settings, leave=0):
    """Take up all room but so many bytes; return the file that does it."""
    file = settings.data / "filling"
    with open(file, "wb", buffering=0) as out:
        try:
            while out.write(bytes(64 * 1024)) == 64 * 1024:
                continue
        except OSError:
            pass
        out.truncate(max(0, out.tell() - leave))
    return file


def push(grounds, note):
    """Send a defect; return the answer and the op."""
    op = make_op("defect", grounds.site, set={"elevation_id": grounds.elevation, "note": note})
    return grounds.keeper.post("/api/sync/push", {"v": 1, "epoch": None, "ops": [op]}), op


def test_changes_are_refused_whole_and_taken_when_there_is_room(app, settings, grounds, capsys):
    before = grounds.add("defect", note="Before")
    filling = fill(settings)
    answer, op = push(grounds, "x" * 4000)
    for _ in range(200):  # what room the log of the database still has
        if answer.status_code != 200:
            break
        answer, op = push(grounds, "x" * 4000)
    assert (answer.status_code, answer.json["code"]) == (507, "server_full")
    assert "no room left" in answer.json["message"]
    rows = grounds.keeper.pull().rows
    assert ("defect", before) in rows
    assert ("defect", op["id"]) not in rows
    filling.unlink()
    assert grounds.keeper.push(op)[0]["st"] == "applied"
    assert main(["check", "--data", str(settings.data)]) == 0, capsys.readouterr()


@pytest.mark.parametrize("leave", [0, 64 * 1024, 192 * 1024, 400 * 1024])
def test_photo_is_refused_without_a_torn_file_and_goes_on_when_there_is_room(
    app, settings, grounds, capsys, leave
):
    content = picture(size=(640, 480))
    photo = add_photo(grounds, content)
    sending = Sending(grounds.keeper, grounds.site, content)
    begun = sending.begin()
    assert begun.status_code == 201
    filling = fill(settings, leave)
    half = len(content) // 2
    answers = [sending.chunk(0, content[:half])]
    if answers[0].status_code == 204:
        answers.append(sending.chunk(half))
    may_fit = leave > len(content)
    assert answers[-1].status_code in ((204, 507) if may_fit else (507,))
    # A copy for which there is no room is shown without being kept.
    shown = fetch(grounds.keeper, grounds, photo, "400").status_code
    assert shown == (200 if answers[-1].status_code == 204 else 404)
    filling.unlink()
    asked = sending.ask().headers
    if asked["Upload-Complete"] == "?0":
        at = int(asked["Upload-Offset"])
        assert sending.chunk(at, **{"Content-Length": str(len(content) - at)}).status_code == 204
    assert fetch(grounds.keeper, grounds, photo, "original").data == content
    assert not list(settings.photo_folder.rglob("*.new"))
    assert main(["check", "--data", str(settings.data)]) == 0, capsys.readouterr()
