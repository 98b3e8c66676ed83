"""When two facts speak of the same thing."""

import re

_SMALL = frozenset(("a", "an", "the", "of", "on", "in", "at", "to", "for", "and", "or", "is"))
_ENDINGS = ("ing", "ed", "es", "s")


def key_words(text: str) -> frozenset[str]:
    """Return the words that carry a name's meaning, lowercase and without common endings."""
    words = re.findall(r"[^\W_]+", text.lower())
    return frozenset(_stem(word) for word in words if word not in _SMALL)


def same_name(one: str, other: str) -> bool:
    """Say whether one name is the other, or holds it ("air gap", "coil air gap")."""
    left, right = key_words(one), key_words(other)
    return bool(left and right) and (left <= right or right <= left)


def same_place(one: str, other: str) -> bool:
    """Say whether two places can be the same: equal, or at least one was not said."""
    left, right = key_words(one), key_words(other)
    return not left or not right or left == right


def _stem(word: str) -> str:
    for ending in _ENDINGS:
        if word.endswith(ending) and len(word) - len(ending) >= 3:
            return word[: -len(ending)]
    return word
