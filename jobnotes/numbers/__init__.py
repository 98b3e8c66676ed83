"""Spoken and written numbers, units and part numbers, each tied to the tokens that carry it."""
