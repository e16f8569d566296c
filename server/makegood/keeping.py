"""The commands that keep a site safe: backup, restore, check, export, take-in. Each returns what went wrong."""

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory

from flask import Flask

from makegood.app import bring_up_to_date, create_app, photo_bytes_of
from makegood.errors import BadInput
from makegood.serving import open_app, say
from makegood.settings import Settings, from_environment
from makegood.store import clock
from makegood.store.backup import backup_faults, copy_rows, save_database
from makegood.store.database import WRITES, db
from makegood.taking_in import take_in_file
from makegood.work.export_site import export_site
from makegood.work.keeping.back_up import back_up_photos, photos_beside
from makegood.work.keeping.check_site import check_site
from makegood.work.keeping.restore import begin_anew, restore_photos
from makegood.work.take_in_bundle import open_bundle


def known_folder(data: Path) -> Settings:
    """Return the settings of a folder that holds a site; raises BadInput `folder_unknown`."""
    settings = from_environment(data=data)
    if not settings.database_url and not settings.database_file.is_file():
        raise BadInput(
            "folder_unknown",
            f"There is no site in {data}. Give the folder that `makegood serve --data` uses.",
        )
    return settings


@contextmanager
def opened(settings: Settings) -> Iterator[Flask]:
    """Open the app of a folder for one command."""
    app = open_app(settings)
    with app.app_context():
        yield app
        db.session.remove()
        db.engine.dispose()


def _refuse_backup(file: Path) -> None:
    faults = backup_faults(file)
    if faults:
        raise BadInput("backup_damaged", f"{file} is no backup that can be used: {faults[0]}.")


def backup(file: Path, data: Path) -> list[str]:
    """Write the database to a file and the photos beside it, while the server may be running."""
    settings = known_folder(data)
    if file.exists():
        _refuse_backup(file)  # whatever else it is must not be written over
    file.parent.mkdir(parents=True, exist_ok=True)
    if settings.database_url:
        with TemporaryDirectory(dir=file.parent) as place:
            save_database(_as_sqlite(settings, Path(place)), file)
    else:
        save_database(settings.database_file, file)
    done = back_up_photos(file, photo_bytes_of(settings))
    say(
        f"Backed up to {file}; photos in {photos_beside(file)}: {done.copied} new, {done.there} there before."
    )
    return list(done.troubles)


def _as_sqlite(settings: Settings, place: Path) -> Path:
    """Copy the rows of another database into a SQLite file; return it."""
    target = Settings(data=place)
    copy = create_app(target)
    bring_up_to_date(copy)
    app = create_app(settings)
    with app.app_context():
        source = db.engine
    with copy.app_context():
        with (
            source.connect() as old,
            db.engine.connect().execution_options(**{WRITES: True}) as new,
            new.begin(),
        ):
            copy_rows(old, new)
        db.engine.dispose()
    source.dispose()
    return target.database_file


def restore(file: Path, data: Path) -> list[str]:
    """Bring a backup back into a new folder; it gets its name when everything is there."""
    _refuse_backup(file)
    if data.exists() and (not data.is_dir() or any(data.iterdir())):
        raise BadInput("folder_not_empty", f"{data} is not empty. Name a new folder to restore into.")
    data.parent.mkdir(parents=True, exist_ok=True)
    settings = from_environment(data=data)
    with TemporaryDirectory(dir=data.resolve().parent, prefix=".restoring-") as room:
        place = Path(room) / "data"
        here = replace(settings, data=place)
        place.mkdir()
        done = restore_photos(file, photos_beside(file), photo_bytes_of(here))
        _lay_database(file, here)
        with opened(here):
            begin_anew()
        if data.is_dir():
            data.rmdir()
        os.replace(place, data)
    say(
        f"Restored into {data}: {done.copied + done.there} photos. Phones will fetch everything again and send what is missing."
    )
    return list(done.troubles)


def _lay_database(file: Path, settings: Settings) -> None:
    if not settings.database_url:
        shutil.copyfile(file, settings.database_file)
        return
    with TemporaryDirectory() as place:
        copied = Settings(data=Path(place))
        shutil.copyfile(file, copied.database_file)
        with opened(copied):
            source = db.engine
        with opened(settings):
            if clock.sites():
                raise BadInput(
                    "database_not_empty", "There are sites in that database already. Name an empty one."
                )
            db.session.remove()
            with (
                source.connect() as old,
                db.engine.connect().execution_options(**{WRITES: True}) as new,
                new.begin(),
            ):
                copy_rows(old, new)
        source.dispose()


def check(data: Path) -> list[str]:
    """Look at every row, reference, counter and photo; say what was found."""
    settings = known_folder(data)
    troubles = [] if settings.database_url else backup_faults(settings.database_file)
    with opened(settings) as app:
        for site_id in clock.sites():
            found = check_site(site_id, app.config["PHOTO_BYTES"], datetime.now(UTC).date())
            counted = ", ".join(f"{n} {name}" for name, n in sorted(found.counts.items()))
            say(f"Site {site_id}: {counted}.")
            troubles += found.troubles
    say(f"{len(troubles)} faults found." if troubles else "No fault found.")
    return troubles


def export(folder: Path, data: Path) -> list[str]:
    """Write what a person can read without the app into a folder."""
    settings = known_folder(data)
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise BadInput("folder_not_empty", f"{folder} is not empty. Name a new folder to export into.")
    missing = []
    with opened(settings) as app:
        for site_id in clock.sites():
            place, photos, gone = export_site(site_id, folder, app.config["PHOTO_BYTES"])
            say(f"Exported to {place}: tables, everything.json, places.geojson, {photos} photos.")
            missing += gone
    return missing


def take_in(file: Path, data: Path, as_own: str | None = None) -> list[str]:
    """Take in what a phone saved to a file; return what was refused.

    `as_own`: the keeper who enters as their own work what that phone may not send any more.
    """
    settings = known_folder(data)
    with opened(settings) as app, open_bundle(file) as (bundle, archive):
        taken = take_in_file((bundle, archive), as_own, app.config["PHOTO_BYTES"], datetime.now(UTC))
    whose = f" as {taken.own_work_of}'s own work" if taken.own_work_of else ""
    counts = f"{taken.changes} changes ({len(taken.refused)} refused), {taken.photos} photos"
    say(f"Taken in from {bundle.person}{whose}: {counts}.")
    return taken.refused
