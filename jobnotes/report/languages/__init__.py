"""The languages of the report: a catalogue of fixed words each, grammar, and words of the trade."""
