"""Makegood: survey storm damage on earthen walls and see each repair through to a checked closure."""

__version__ = "0.1.0"
