"""Jobs in a database, originals in a content-addressed folder."""
