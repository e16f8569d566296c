"""The app: settings, database, blueprints, and the one shape of every error."""

from pathlib import Path

from alembic import command
from flask import Flask
from flask_migrate import Migrate
from werkzeug.middleware.proxy_fix import ProxyFix

from makegood import api
from makegood.errors import BadInput
from makegood.settings import Settings
from makegood.store.bucket_bytes import open_bucket
from makegood.store.clock import ensure_epoch
from makegood.store.database import db, hold_to_rules, retried, writing
from makegood.store.photo_bytes import FolderPhotoBytes, PhotoBytes

_MIGRATIONS = Path(__file__).parent / "migrations"


def create_app(settings: Settings) -> Flask:
    """Return the app on its database; `bring_up_to_date` makes or migrates the tables."""
    app = Flask("makegood", static_folder=None)
    app.config.update(
        SETTINGS=settings,
        PHOTO_BYTES=photo_bytes_of(settings),
        SQLALCHEMY_DATABASE_URI=settings.database_address,
        # A connection the database has closed meanwhile is replaced instead of failing a request.
        SQLALCHEMY_ENGINE_OPTIONS={"pool_pre_ping": True} if settings.database_url else {},
        MAX_CONTENT_LENGTH=settings.body_limit_kib * 1024,
    )
    db.init_app(app)
    with app.app_context():
        hold_to_rules(db.engine)
    Migrate(app, db, directory=str(_MIGRATIONS))
    if settings.proxies:
        n = settings.proxies
        app.wsgi_app = ProxyFix(app.wsgi_app, x_for=n, x_proto=n, x_host=n)  # type: ignore[method-assign]
    api.register(app, settings)
    return app


def photo_bytes_of(settings: Settings) -> PhotoBytes:
    """Return the place for photo bytes that the settings name."""
    if settings.photo_bucket:
        try:
            return open_bucket(settings.photo_bucket, settings.photo_bucket_url)
        except ImportError as error:
            sentence = "Photos in a bucket need boto3: pip install 'makegood[bucket]'."
            raise BadInput("bucket_needs_boto3", sentence) from error
    settings.photo_folder.mkdir(parents=True, exist_ok=True)
    return FolderPhotoBytes(settings.photo_folder)


def bring_up_to_date(app: Flask) -> None:
    """Make or migrate the tables to what this version needs."""
    with app.app_context():
        command.upgrade(app.extensions["migrate"].migrate.get_config(), "head")
        retried(_ensure_epoch)


def _ensure_epoch() -> None:
    with writing():
        ensure_epoch()
