"""Checking, keeping and adding the files that are handed in."""
