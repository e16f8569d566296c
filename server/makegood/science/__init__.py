"""The sums: numbers in, numbers out. See README.md for the rule of this folder."""
