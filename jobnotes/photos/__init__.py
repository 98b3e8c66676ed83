"""Pictures: upright, timed, free of location, matched to what was said."""
