"""Ring 3: the only place with SQLAlchemy. Rows of tables never leave it."""
