"""The watched folder: what a phone puts into it, into the right job by its time."""
