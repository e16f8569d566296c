"""The demo: an invented site, played into a throw-away folder through the same doors that phones use."""

import json
import shutil
import tempfile
import threading
import webbrowser
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from itertools import groupby
from pathlib import Path
from typing import Any

from flask import Flask

from makegood import paths, serving
from makegood.domain.row import read_instant
from makegood.errors import MakegoodError, NotFound
from makegood.settings import Settings
from makegood.store import device as devices
from makegood.store.database import writing
from makegood.store.device import Device
from makegood.store.photo_bytes import PhotoBytes
from makegood.store.photo_uploads import UploadKey
from makegood.work.enrol import Newcomer, enrol_by_link
from makegood.work.invite import invite_first
from makegood.work.receive_changes import receive_changes
from makegood.work.take_in_photo import MAX_CHUNK_BYTES, begin_upload, settle_photos, take_chunk

_OPS_AT_ONCE = 100


def read_demo(folder: Path) -> dict[str, Any]:
    """Return the demo's people, photos and ops."""
    place = folder / "site.json"
    if not place.is_file():
        raise NotFound("demo_missing", f"The demo site is missing ({place}). Install Makegood again.")
    found: dict[str, Any] = json.loads(place.read_text(encoding="utf-8"))
    return found


def _instant(text: str) -> datetime:
    at = read_instant(text)
    if at is None:
        raise ValueError(f"{text!r} is no instant")
    return at


def _enrol(one: dict[str, str], began_at: datetime) -> Device:
    link = invite_first(began_at, days=1)
    return enrol_by_link(link.token, Newcomer(one["person"], one["device_name"]), began_at).device


def _enrol_into(one: dict[str, str], site_id: str, began_at: datetime) -> Device:
    device = _enrol(one, began_at)
    with writing():
        devices.grant(device.id, site_id, one["role"])
    return replace(device, may_found=False, grants={site_id: one["role"]})


def _batches(ops: list[dict[str, Any]]) -> Iterator[tuple[str, list[dict[str, Any]]]]:
    """Yield runs of changes by one person on one day, as a phone would send them in the evening."""
    for (person, _), run in groupby(ops, key=lambda one: (one["person"], one["at"][:10])):
        kept = list(run)
        for start in range(0, len(kept), _OPS_AT_ONCE):
            yield person, kept[start : start + _OPS_AT_ONCE]


def _play_ops(ops: list[dict[str, Any]], people: dict[str, Device], site_id: str) -> None:
    for person, batch in _batches(ops):
        results = receive_changes(people[person], [one["op"] for one in batch], _instant(batch[-1]["at"]))
        for result in results:
            if result.st == "rejected":
                raise MakegoodError("demo_refused", f"The demo site is damaged: {result.code}: {result.say}")
        people[person] = devices.device(people[person].id) or people[person]
    settle_photos(site_id)


def _play_photo(content: bytes, key: UploadKey, folder: PhotoBytes, now: datetime) -> None:
    begin_upload(key, len(content), folder, now)
    for start in range(0, len(content), MAX_CHUNK_BYTES):
        take_chunk(key, start, content[start : start + MAX_CHUNK_BYTES], folder, now)


def play(app: Flask, demo_folder: Path) -> str:
    """Fill an empty database with the demo site; return its id."""
    found = read_demo(demo_folder)
    site_id: str = found["site_id"]
    with app.app_context():
        ops, began_at = found["ops"], _instant(found["ops"][0]["at"])
        first, *others = found["people"]
        people = {first["person"]: _enrol(first, began_at)}
        _play_ops(ops[:1], people, site_id)  # the keeper founds the site before anybody can be let into it
        people |= {one["person"]: _enrol_into(one, site_id, began_at) for one in others}
        serving.say(f"Playing in {len(ops)} changes by {len(people)} people ...")
        _play_ops(ops[1:], people, site_id)
        keeper = people[first["person"]]
        folder: PhotoBytes = app.config["PHOTO_BYTES"]
        now = _instant(ops[-1]["at"])
        for n, (sha256, name) in enumerate(found["photos"].items(), start=1):
            if n % 10 == 1:
                serving.say(f"Taking in photos: {n} of {len(found['photos'])} ...")
            _play_photo((demo_folder / name).read_bytes(), UploadKey(site_id, sha256, keeper.id), folder, now)
    return site_id


def show(host: str, port: int, with_browser: bool) -> None:
    """Open the demo in a folder that is removed when the server stops."""
    place = Path(tempfile.mkdtemp(prefix="makegood-demo-"))
    try:
        settings = Settings(data=place, demo=True)
        app = serving.open_app(settings)
        play(app, paths.demo_dir())
        address = serving.origin_of(host, port)
        serving.say(f"\nThe demo is on {address} (in {place}, removed when you stop it with Ctrl-C).")
        if with_browser:
            threading.Timer(1.0, webbrowser.open, [address]).start()
        serving.run(app, host, port)
    finally:
        shutil.rmtree(place, ignore_errors=True)
