"""Papers: each parsed back with another library than the one that wrote it."""
