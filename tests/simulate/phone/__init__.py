"""A model of web/src/store: small, but with every await, every transaction and every rule of the original."""
