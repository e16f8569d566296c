"""Ring 2: what things are and which moves are legal; no database, no request."""
