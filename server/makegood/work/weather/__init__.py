"""Weather that a station wrote down, read for the storms in it."""
