"""Who looks on, and finds fault."""
