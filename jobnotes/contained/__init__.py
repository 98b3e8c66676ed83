"""Decoding of files that anybody may have made, in a process of its own that has limits."""
