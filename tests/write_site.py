"""Write down a small site as this version of the tables keeps it: `python -m tests.write_site`, before a new migration.

The file goes to tests/recorded/<revision>.json and is never changed afterwards; tests/test_migrations.py takes it
through every later version.
"""

import hashlib
import json
import sys
from pathlib import Path
from tempfile import mkdtemp
from typing import Any

from alembic.script import ScriptDirectory
from sqlalchemy import MetaData, select, update

from makegood.app import bring_up_to_date, create_app
from makegood.domain.row import types
from makegood.settings import Settings
from makegood.store.database import db, writing
from makegood.store.device import DeviceTable
from tests.api.test_photos import Sending, add_photo, picture
from tests.make import make_drop, make_edit, make_grounds, make_guest

SESSION = "a-session-of-a-recorded-site"
FOLDER = Path(__file__).parent / "recorded"


def lived_in(app: Any) -> Any:
    """Return grounds with a row of every type: edited, clashed, deleted, photographed."""
    grounds = make_grounds(app)
    other = make_guest(app, grounds.keeper, grounds.site, "surveyor", "Sura")
    defect, spare = grounds.add("defect"), grounds.add("defect")
    ticket = grounds.add("ticket", defect_ids=[defect])
    needs = {
        "reading": {"defect_id": defect}, "step": {"ticket_id": ticket}, "note": {"of_type": "defect", "of_id": defect},
        "score": {"finish_id": grounds.add("finish")} if "score" in types() else {},
    }  # fmt: skip
    for row_type in types():
        if row_type not in ("site", "structure", "elevation", "defect", "ticket", "photo", "clash", "finish"):
            grounds.add(row_type, **needs.get(row_type, {}))
    if "score" not in types():
        grounds.add("finish")
    seen = other.pull().row("defect", defect)["rev"]
    other.push(make_edit("defect", grounds.site, defect, seen, note="theirs"))
    grounds.keeper.push(make_edit("defect", grounds.site, defect, seen, note="mine"))
    grounds.keeper.push(make_drop("defect", grounds.site, spare, grounds.keeper.pull().row("defect", spare)["rev"]))
    for shade, whole in ((1, True), (2, False)):
        content = picture(size=(64, 48 + shade))
        add_photo(grounds, content)
        if whole:
            Sending(grounds.keeper, grounds.site, content).send()
        else:
            Sending(grounds.keeper, grounds.site, content).begin()
    return grounds


def dumped() -> dict[str, list[dict[str, Any]]]:
    """Return every row of every table there is."""
    found = MetaData()
    found.reflect(db.engine)
    with db.engine.connect() as connection:
        return {
            table.name: [dict(row) for row in connection.execute(select(table)).mappings()]
            for table in found.sorted_tables
            if table.name != "alembic_version"
        }


def main() -> None:
    """Write the file of the newest version."""
    app = create_app(Settings(data=Path(mkdtemp()), enrols_per_minute=1000))
    bring_up_to_date(app)
    grounds = lived_in(app)
    with app.app_context():
        session = hashlib.sha256(SESSION.encode()).hexdigest()
        with writing():
            db.session.execute(
                update(DeviceTable).where(DeviceTable.id == grounds.keeper.device_id).values(session_hash=session)
            )
        revision = ScriptDirectory.from_config(app.extensions["migrate"].migrate.get_config()).get_current_head()
        FOLDER.mkdir(exist_ok=True)
        text = json.dumps(dumped(), indent=1, ensure_ascii=False, sort_keys=True)
        (FOLDER / f"{revision}.json").write_text(text + "\n", encoding="utf-8")
    sys.stdout.write(f"recorded {revision}\n")


if __name__ == "__main__":
    main()
