"""From words to facts: one module a fact kind, rules and vocabulary as data."""
