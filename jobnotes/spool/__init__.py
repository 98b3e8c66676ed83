"""Dictation on its way: sound that is written as it is spoken, and taken in once it has ended."""
