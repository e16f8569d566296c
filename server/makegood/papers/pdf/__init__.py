"""One module for each printed paper."""
