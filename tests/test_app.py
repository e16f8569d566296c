"""The app as a whole: its tables, its migrations, its settings."""

from pathlib import Path

import pytest
from alembic import command
from sqlalchemy import inspect

from makegood.app import bring_up_to_date, create_app
from makegood.settings import MEANINGS, Settings, from_environment
from makegood.store.clock import epoch
from makegood.store.database import db

DEVELOPERS = Path(__file__).resolve().parents[1] / "DEVELOPERS.md"


def test_migrations_make_exactly_the_tables_of_the_models(app):
    with app.app_context():
        command.check(app.extensions["migrate"].migrate.get_config())
        assert set(db.metadata.tables) <= set(inspect(db.engine).get_table_names())


def test_bringing_up_to_date_twice_changes_nothing(app):
    with app.app_context():
        before = epoch()
    bring_up_to_date(app)
    with app.app_context():
        assert epoch() == before


def test_new_folder_gets_database_and_photo_folder(tmp_path):
    app = create_app(Settings(data=tmp_path / "new"))
    bring_up_to_date(app)
    assert (tmp_path / "new" / "makegood.sqlite").is_file()
    assert (tmp_path / "new" / "photos").is_dir()


def test_migration_goes_back_to_nothing(app):
    with app.app_context():
        command.downgrade(app.extensions["migrate"].migrate.get_config(), "base")
        assert set(inspect(db.engine).get_table_names()) <= {"alembic_version"}


def test_behind_a_proxy_the_outside_address_counts(settings):
    from dataclasses import replace

    app = create_app(replace(settings, proxies=1))
    answer = app.test_client().get(
        "/healthz", headers={"X-Forwarded-Proto": "https", "X-Forwarded-Host": "walls.example"}
    )
    assert "Strict-Transport-Security" in answer.headers
    plain = create_app(settings).test_client().get("/healthz", headers={"X-Forwarded-Proto": "https"})
    assert "Strict-Transport-Security" not in plain.headers


def test_settings_come_from_the_environment_and_what_is_given_wins():
    env = {
        "MAKEGOOD_DATA": "farm",
        "MAKEGOOD_DEMO": "yes",
        "MAKEGOOD_PROXIES": "2",
        "MAKEGOOD_INVITE_DAYS": "3",
    }
    read = from_environment(env, invite_days=5)
    assert (read.data, read.demo, read.proxies, read.invite_days) == (Path("farm"), True, 2, 5)
    assert from_environment({}) == Settings()


def test_setting_that_is_no_number_is_refused():
    with pytest.raises(ValueError, match="MAKEGOOD_PROXIES"):
        from_environment({"MAKEGOOD_PROXIES": "two"})


def test_database_url_wins_over_the_folder():
    assert Settings(database_url="postgresql+psycopg://db/x").database_address == "postgresql+psycopg://db/x"
    assert Settings(data=Path("/srv")).database_address == "sqlite:////srv/makegood.sqlite"


def test_every_setting_stands_in_the_table_for_developers():
    text = DEVELOPERS.read_text(encoding="utf-8").split(" Settings\n", 1)[1]
    for name, (outside, meaning) in MEANINGS.items():
        default = getattr(Settings(), name)
        shown = "none" if default == "" else "off" if default is False else default
        assert f"| `{name}` | `{outside}` | {shown} | {meaning} |" in text
