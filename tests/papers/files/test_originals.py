"""Originals: every byte, its hash in the manifest, missing ones named, stopped in the middle."""

import hashlib
import json
from io import BytesIO
from zipfile import ZipFile

import pytest

from makegood.errors import Conflict
from makegood.papers.ask import unheard
from makegood.papers.files.originals import write_originals
from tests.papers.site import make_ground


def opener(ground):
    """Open a stand-in for each original; the last one is not here."""
    def opened(photo):
        if photo is ground.rows["photo"][-1]:
            raise FileNotFoundError
        return BytesIO(photo["id"].encode() * 100_000)

    return opened


def test_manifest_names_hash_and_size_of_each_file():
    ground, out = make_ground(), BytesIO()
    write_originals(out, ground.rows["photo"], opener(ground), unheard)
    with ZipFile(out) as archive:
        assert archive.testzip() is None
        manifest = json.loads(archive.read("manifest.json"))
        assert len(manifest["photos"]) == 2
        for one in manifest["photos"]:
            content = archive.read(one["file"])
            assert hashlib.sha256(content).hexdigest() == one["sha256"]
            assert len(content) == one["bytes"] == 3_600_000
    assert manifest["not_here"] == [ground.rows["photo"][-1]["id"]]


def test_stopping_ends_it():
    def stopped(done: int, _of: int) -> None:
        if done:
            raise Conflict("paper_stopped", "Stopped.")

    ground = make_ground()
    with pytest.raises(Conflict):
        write_originals(BytesIO(), ground.rows["photo"], opener(ground), stopped)
