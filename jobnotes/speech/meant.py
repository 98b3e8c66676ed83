"""Trade words that the recogniser was unsure of and another hearing got: found by their sound.

What was heard stays as it is; the word that was meant stands beside it, for the rules to read.
"""

import re
from collections.abc import Iterator, Sequence
from functools import cache

from jellyfish import metaphone
from rapidfuzz.distance import JaroWinkler, Levenshtein

from jobnotes.extract import verbs
from jobnotes.extract.lexicon import Tag, tag_of
from jobnotes.extract.vocabulary import head_words, rules
from jobnotes.record import Word
from jobnotes.speech.engine import Said

# Limits chosen by the help and harm that they did on 3 hours of speech (DEVELOPERS.md). By sound
# alone, without another hearing, there was nearly as much harm as help.
_UNSURE = 0.8  # probability below which a word that no list knows may have been another
_ALIKE = 0.8  # likeness of letters or of sounds, of 1
_SHORTEST, _SHORTEST_MEANT = 3, 4  # letters; shorter words sound like too many others


def with_meaning(words: Sequence[Word], *opinions: Sequence[Said]) -> list[Word]:
    """Return the words, some with the trade word that other hearings of the same speech had there.

    A word has to be one that no list of the trade knows, sound like the other, and be less sure.
    """
    done = list(words)
    for opinion in opinions:
        for place, other in _replaced(words, opinion):
            if not done[place].meant and _is_meant(words[place], other):
                done[place] = done[place].having(meant=_letters(other.text))
    return done


def _replaced(words: Sequence[Word], opinion: Sequence[Said]) -> Iterator[tuple[int, Said]]:
    """Yield the places of words that another hearing has otherwise, with what it has there."""
    texts = [_letters(word.text) for word in words], [_letters(said.text) for said in opinion]
    for op in Levenshtein.opcodes(*texts):
        if op.tag == "replace":
            others = opinion[op.dest_start : op.dest_end]
            yield from zip(range(op.src_start, op.src_end), others, strict=True)


def _is_meant(word: Word, other: Said) -> bool:
    heard, meant = _letters(word.text), _letters(other.text)
    if len(heard) < _SHORTEST or not heard.isalpha() or tag_of(heard) != Tag.UNKNOWN:
        return False
    unsure = word.probability < min(_UNSURE, other.probability)
    return unsure and meant in _trade_words() and _likeness(heard, meant) >= _ALIKE


def _letters(text: str) -> str:
    return re.sub(r"[^a-z']", "", text.lower())


def _likeness(heard: str, word: str) -> float:
    """Compare the letters, or the sounds where these are more alike."""
    sounds = Levenshtein.normalized_similarity(metaphone(heard), metaphone(word))
    return max(JaroWinkler.similarity(heard, word), sounds)


@cache
def _trade_words() -> frozenset[str]:
    things, findings = rules("things"), rules("findings")
    listed = [*head_words(), *verbs.past_forms(), *things["modifiers"]["words"].split()]
    listed += things["aspects"]["words"].split() + findings["defects"]["words"].split()
    listed += " ".join(findings["states"].values()).split()
    return frozenset(w for w in listed if len(w) >= _SHORTEST_MEANT and w.isalpha())
