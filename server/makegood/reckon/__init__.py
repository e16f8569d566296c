"""The sums from the command line, JSON in and JSON out: outside the rings, above science and domain."""
