"""Storms in a real browser: logged, walked after, read from a station's file."""
