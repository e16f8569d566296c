"""Files for other programs: tables, map places, calendars, originals."""
