"""The line between phone and server goes wrong, or the app changes under unsent work."""
