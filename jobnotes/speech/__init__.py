"""From sound to words: weights, recogniser, guards."""
