"""The view that extraction works on: one spaCy Doc over all that was said, tied to its words."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import Any

import spacy
from spacy.language import Language
from spacy.tokens import Doc, Span

from jobnotes.numbers.tokens import split
from jobnotes.record import Evidence, Job, Word


@cache
def _language() -> Language:
    return spacy.blank("en")


@dataclass(frozen=True)
class Talk:
    """One Doc over a job: tokens in lowercase, punctuation apart; sentences are utterances.

    Where a word was meant as another, the tokens are of that one; texts stay as heard.

    `word_of[i]` is the position in `job.words` of the word that token i belongs to,
    `utterance_of[i]` that in `job.utterances`; `starts[u]` is the first token of utterance u.
    `texts` are the tokens as strings; `built` keeps what the rules have worked out of the talk.
    """

    job: Job
    doc: Doc
    word_of: tuple[int, ...]
    utterance_of: tuple[int, ...]
    starts: tuple[int, ...]
    texts: tuple[str, ...]
    built: dict[str, Any] = field(default_factory=dict, compare=False, repr=False)

    def utterance(self, number: int) -> Span:
        """Return the tokens of one utterance."""
        stop = self.starts[number + 1] if number + 1 < len(self.starts) else len(self.doc)
        return self.doc[self.starts[number] : stop]

    def text(self, start: int, stop: int) -> str:
        """Return the words under tokens start to stop (stop excluded), as heard."""
        return " ".join(word.text for word in self._words(start, stop))

    def evidence(self, start: int, stop: int) -> Evidence:
        """Return the evidence for tokens start to stop (stop excluded), within one recording."""
        words = self._words(start, stop)
        first, last = words[0], words[-1]
        return Evidence(
            recording=first.recording,
            first=first.index,
            last=last.index,
            start_s=first.start_s,
            end_s=last.end_s,
            text=" ".join(word.text for word in words),
        )

    def _words(self, start: int, stop: int) -> Sequence[Word]:
        return self.job.words[self.word_of[start] : self.word_of[stop - 1] + 1]


def talk_of(job: Job) -> Talk:
    """Build the Doc for a job; words that hold no token (bare punctuation marks) are skipped."""
    texts: list[str] = []
    word_of: list[int] = []
    utterance_of: list[int] = []
    starts: list[int] = []
    place = {(word.recording, word.index): n for n, word in enumerate(job.words)}
    for number, utterance in enumerate(job.utterances):
        starts.append(len(texts))
        for index in range(utterance.first, utterance.last + 1):
            position = place[utterance.recording, index]
            tokens = split(job.words[position].meant or job.words[position].text)
            texts += tokens
            word_of += [position] * len(tokens)
            utterance_of += [number] * len(tokens)
    first = set(starts)
    begins: list[bool | int | None] = [n in first for n in range(len(texts))]
    doc = Doc(_language().vocab, words=texts, sent_starts=begins)
    return Talk(job, doc, tuple(word_of), tuple(utterance_of), tuple(starts), tuple(texts))
