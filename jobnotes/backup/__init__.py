"""The whole shop in a folder or one file, and back again, while it is in use."""
