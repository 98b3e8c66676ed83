"""Second opinions as words: what a quick hearing said, how sure, and how nearly something else."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import inf
from typing import Any

import numpy as np
from numpy.typing import NDArray

from jobnotes.speech.alike import near
from jobnotes.speech.engine import Said

_CORE = re.compile(r"[^\W_]+")


@dataclass(frozen=True)
class _Token:
    """One token as written, and the log probability of every token in its place."""

    id: int
    text: str
    logs: NDArray[np.float32]


def said_words(tokenizer: Any, ids: Sequence[int], logits: Sequence[Any]) -> tuple[Said, ...]:
    """Turn the tokens of a hearing into words; `logits` are the model's scores at each token."""
    paired = zip(ids, logits, strict=False)  # the model scores the end of the text as well
    kept = [(token, scores) for token, scores in paired if token < tokenizer.eot]
    tokens = [
        _Token(token, tokenizer.tokenizer.decode([token]), _logs(scores)) for token, scores in kept
    ]
    return tuple(_said(tokenizer, word) for word in _words(tokens))


def _logs(scores: Any) -> NDArray[np.float32]:
    all_scores = np.asarray(scores, np.float32).ravel()
    highest = all_scores.max()
    return np.asarray(all_scores - highest - np.log(np.exp(all_scores - highest).sum()))


def _words(tokens: Sequence[_Token]) -> list[list[_Token]]:
    """Join the tokens of a word, which begins at a space; leave out what is only punctuation."""
    starts = [n for n, token in enumerate(tokens) if not n or token.text.startswith(" ")]
    words = [list(tokens[a:b]) for a, b in pairwise([*starts, len(tokens)])]
    return [word for word in words if any(map(str.isalnum, "".join(t.text for t in word)))]


def _said(tokenizer: Any, word: Sequence[_Token]) -> Said:
    text = "".join(token.text for token in word)
    sounding = [token for token in word if any(map(str.isalnum, token.text))]
    sure = float(np.exp(min(token.logs[token.id] for token in sounding)))
    rivals = (text.replace(core, other) for core in _CORE.findall(text) for other in near(core))
    margin = min((_margin(word, tokenizer.encode(rival)) for rival in rivals), default=inf)
    return Said(text.strip(), round(sure, 3), round(margin, 2))


def _margin(word: Sequence[_Token], rival: Sequence[int]) -> float:
    """Compare where the two first differ: what comes after follows from that."""
    for token, other in zip(word, rival, strict=False):
        if token.id != other:
            return float(token.logs[token.id] - token.logs[other])
    return inf
