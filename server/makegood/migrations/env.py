"""How Alembic reaches the app's own database and tables."""

from alembic import context
from flask import current_app

from makegood.store.database import WRITES

_db = current_app.extensions["migrate"].db


def run() -> None:
    """Migrate in one write transaction; SQLite rebuilds a table to change it, hence the batches."""
    options = {**current_app.extensions["migrate"].configure_args, "render_as_batch": True}
    with _db.engine.connect().execution_options(**{WRITES: True}) as connection:
        context.configure(connection=connection, target_metadata=_db.metadata, **options)
        with context.begin_transaction():
            if connection.dialect.name == "postgresql":
                # Several server processes may start at once: one migrates, the others wait and find it done.
                connection.exec_driver_sql("SELECT pg_advisory_xact_lock(83770001)")
            context.run_migrations()


run()
