"""Papers and files that leave the app: plain rows in, PDF, CSV, GeoJSON, iCalendar and zip out; no database, no network."""
