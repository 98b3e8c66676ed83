"""Where an utterance begins and stops, without making a span of it."""

from dataclasses import dataclass

from jobnotes.extract.talk import Talk


@dataclass(frozen=True, slots=True)
class Bounds:
    """Tokens `start` to `end` (end excluded) of one utterance."""

    start: int
    end: int


def bounds(talk: Talk, utterance: int) -> Bounds:
    """Return the tokens of an utterance."""
    following = utterance + 1
    end = talk.starts[following] if following < len(talk.starts) else len(talk.doc)
    return Bounds(talk.starts[utterance], end)
