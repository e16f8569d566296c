"""Hours of weather: the table as people export it, and the wet spells in them; rules as one folder up."""
