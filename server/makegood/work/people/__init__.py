"""Who has a part in a site: its devices."""
