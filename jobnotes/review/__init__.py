"""What a person says of the facts, as events."""
