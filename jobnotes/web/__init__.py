"""Pages for the office and the bench, served on the shop's own computer."""
