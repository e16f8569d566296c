"""Several phones and the real server in one process, on one seeded clock: `python -m tests.simulate --seeds 2000`."""
