"""The journeys of the four people, walked in a real browser and counted: taps, fields, words, waits, dead ends."""
