"""A machine tried on what it is made for: "dug three holes", "ground a stump", "cut some logs"."""

from functools import cache

from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import rules, words

NEAR = 6  # tokens between the verb and what the machine was tried on


def on_trial(talk: Talk, place: int, stop: int) -> bool:
    """Tell whether the verb at token `place` says that the machine did its own work."""
    verbs, materials = _words("verbs"), _words("materials")
    if words(talk)[place] not in verbs:
        return False
    return any(text in materials for text in words(talk)[place + 1 : min(place + NEAR, stop)])


@cache
def _words(name: str) -> frozenset[str]:
    return frozenset(rules("verifications")["trials"][name].split())
