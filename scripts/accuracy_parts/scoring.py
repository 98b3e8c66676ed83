"""What was heard beside what was said: word errors, and numbers right, wrong, flagged.

A number is right when `same_number` holds, which is lenient: "thirty thou" may be written 30,000.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields

import jiwer
from rapidfuzz.distance import Levenshtein

from jobnotes.speech.figures import is_number, pieces, same_number

NUMBER = "#"  # stands for any number in word errors, as its value is counted apart


@dataclass(frozen=True)
class Item:
    """A word, or all tokens of a number; `flagged` when anybody must look at it."""

    key: str
    tokens: tuple[str, ...]
    flagged: bool


@dataclass(frozen=True)
class Score:
    """Counts over some audio; `seconds` of it and processor seconds spent on it."""

    words: int = 0
    word_errors: int = 0
    numbers: int = 0
    wrong: int = 0
    wrong_unflagged: int = 0
    right_flagged: int = 0
    invented: int = 0
    invented_unflagged: int = 0
    seconds: float = 0.0
    processor_s: float = 0.0

    def __add__(self, other: "Score") -> "Score":
        names = [field.name for field in fields(Score)]
        return Score(**{name: getattr(self, name) + getattr(other, name) for name in names})


def items(words: Sequence[tuple[str, bool]]) -> list[Item]:
    """Join the tokens of numbers; `words` are texts with whether they carry a flag."""
    tokens = [(token, flagged) for text, flagged in words for token in pieces(text)]
    said = [token for token, _ in tokens]
    found: list[Item] = []
    for at, (token, flagged) in enumerate(tokens):
        if not is_number(said, at):
            found.append(Item(token, (token,), flagged))
        elif at and is_number(said, at - 1):
            last = found.pop()
            found.append(Item(NUMBER, (*last.tokens, token), last.flagged or flagged))
        else:
            found.append(Item(NUMBER, (token,), flagged))
    return found


def score(said: str, heard: Sequence[tuple[str, bool]]) -> Score:
    """Score words with their flags against the text that was said."""
    ours, truth = items(heard), items([(word, False) for word in said.split()])
    keys = [" ".join(item.key for item in side) for side in (truth, ours)]
    measured = jiwer.process_words(*keys)
    errors = measured.substitutions + measured.deletions + measured.insertions
    total = Score(words=len(truth), word_errors=errors)
    for one, other in blocks(truth, ours):
        total += of_block(one, other)
    return total


def blocks(truth: Sequence[Item], ours: Sequence[Item]) -> Iterator[tuple[list[Item], list[Item]]]:
    """Lay both side by side; yield what stands in the same place, numbers one by one if equal."""
    keys = [item.key for item in truth], [item.key for item in ours]
    for op in Levenshtein.opcodes(*keys):
        one, other = truth[op.src_start : op.src_end], ours[op.dest_start : op.dest_end]
        if op.tag == "equal":
            yield from ([[a], [b]] for a, b in zip(one, other, strict=True))
        else:
            yield list(one), list(other)


def of_block(truth: Sequence[Item], ours: Sequence[Item]) -> Score:
    """Score the numbers of one block; what carries the doubt about a lost number is its block."""
    said = [item for item in truth if item.key == NUMBER]
    heard = [item for item in ours if item.key == NUMBER]
    right = _right(said, heard)
    flagged = any(item.flagged for item in ours)
    wrong = len(said) - len(right)
    extra = max(0, len(heard) - len(said))
    return Score(
        numbers=len(said),
        wrong=wrong,
        wrong_unflagged=0 if flagged else wrong,
        right_flagged=sum(item.flagged for item in right),
        invented=extra,
        invented_unflagged=0 if flagged else extra,
    )


def _right(said: Sequence[Item], heard: Sequence[Item]) -> list[Item]:
    """Return the numbers heard that have the value of one said, in order."""
    right: list[Item] = []
    rest = list(heard)
    for item in said:
        at = next((n for n, h in enumerate(rest) if same_number(item.tokens, h.tokens)), None)
        if at is not None:
            right.append(rest[at])
            rest = rest[at + 1 :]
    return right
