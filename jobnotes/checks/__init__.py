"""Checks on facts: plausibility, contradictions, verdicts against specs, what is missing."""
