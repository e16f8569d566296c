"""The app: settings, database, blueprints, and the one shape of every error."""

from pathlib import Path

from alembic import command
from flask import Flask
from flask_migrate import Migrate
from werkzeug.middleware.proxy_fix import ProxyFix

from makegood import api
from makegood.settings import Settings
from makegood.store.clock import ensure_epoch
from makegood.store.database import db, hold_to_rules, writing

_MIGRATIONS = Path(__file__).parent / "migrations"


def create_app(settings: Settings) -> Flask:
    """Return the app on its database; `bring_up_to_date` makes or migrates the tables."""
    settings.photo_folder.mkdir(parents=True, exist_ok=True)
    app = Flask("makegood", static_folder=None)
    app.config.update(
        SETTINGS=settings,
        SQLALCHEMY_DATABASE_URI=settings.database_address,
        MAX_CONTENT_LENGTH=settings.body_limit_kib * 1024,
    )
    db.init_app(app)
    with app.app_context():
        hold_to_rules(db.engine)
    Migrate(app, db, directory=str(_MIGRATIONS))
    if settings.proxies:
        n = settings.proxies
        app.wsgi_app = ProxyFix(app.wsgi_app, x_for=n, x_proto=n, x_host=n)  # type: ignore[method-assign]
    api.register(app, settings.enrols_per_minute)
    return app


def bring_up_to_date(app: Flask) -> None:
    """Make or migrate the tables to what this version needs."""
    with app.app_context():
        command.upgrade(app.extensions["migrate"].migrate.get_config(), "head")
        with writing():
            ensure_epoch()
