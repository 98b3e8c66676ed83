"""The parts of scripts/accuracy: voices, noises, hearing, scoring."""
