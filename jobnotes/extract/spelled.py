"""Every part number spelled in a talk, told apart from serial, telephone and other numbers."""

import re
from dataclasses import dataclass
from functools import cache

from jobnotes.extract.bounds import bounds
from jobnotes.extract.private import private_utterances
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import group, once_a_talk, rules, words
from jobnotes.numbers.lexicon import words as number_words
from jobnotes.numbers.part_numbers import PartNumber, may_start, part_number_at
from jobnotes.numbers.phrases import Phrases

TO_ORDER = group("spelled", "to_order")  # what makes "order" a verb, not "order number"
REASON = 12  # tokens in which it is told why a number just spelled was wrong
REACH = 6  # tokens before figures in which a cue such as "part number" may stand


@dataclass(frozen=True, slots=True)
class Spelled:
    """A number spelled in one utterance: tokens `start` to `stop` (stop excluded)."""

    start: int
    stop: int
    utterance: int
    number: PartNumber
    is_part: bool


@once_a_talk
def spelled(talk: Talk) -> tuple[Spelled, ...]:
    """Return every number spelled, in order; `is_part` is false for serial numbers and the like."""
    found: list[Spelled] = []
    for utterance in range(len(talk.starts)):
        if utterance not in private_utterances(talk):
            said = bounds(talk, utterance)
            tokens = words(talk)[said.start : said.end]
            found += _in_utterance(tokens, said.start, utterance, found[-1:])
    return tuple(found)


def _in_utterance(
    tokens: tuple[str, ...], offset: int, utterance: int, before: list[Spelled]
) -> list[Spelled]:
    found: list[Spelled] = []
    at = 0
    while at < len(tokens):
        number = part_number_at(tokens, at) if may_start(tokens, at) else None
        last = next(iter(found[-1:] or before), None)
        if number is None or not _counts(tokens, number, last, utterance):
            at = at + 1 if number is None or not number.plain else max(at + 1, number.stop)
            continue
        part = not _other(tokens, number)
        found.append(Spelled(offset + number.start, offset + number.stop, utterance, number, part))
        at = number.stop
    return found


def _counts(
    tokens: tuple[str, ...], number: PartNumber, last: Spelled | None, utterance: int
) -> bool:
    if not number.plain or _named(tokens, number):
        return True
    if last is None or not last.is_part or utterance - last.utterance > 1:
        return False
    end = number.start - (tokens[number.start - 1 : number.start] in ((".",), (",",)))
    told = _cues("corrected").begin(tokens, end) < end or _explained(tokens, number, last)
    return told and last_group(last.number.text, number.text) != ""


def _explained(tokens: tuple[str, ...], number: PartNumber, last: Spelled) -> bool:
    """Tell the last figures of "..., no, that's for the four cylinder, seven nine one two"."""
    near = range(max(1, number.start - REASON), number.start)
    said = any(tokens[at] in ("no", "sorry", "wait") and tokens[at - 1] == "," for at in near)
    ends = re.search(r"[0-9]*$", last.number.text)
    return said and ends is not None and len(ends[0]) == len(number.text) >= 3


def last_group(whole: str, figures: str) -> str:
    """Put figures in the place of a number's last figures, as many; nothing if it has fewer."""
    head, tail = whole[: -len(figures)], whole[-len(figures) :]
    fits = tail.isdigit() and len(figures) >= 2 and not head[-1:].isdigit() and bool(head)
    return head + figures if fits else ""


def _named(tokens: tuple[str, ...], number: PartNumber) -> bool:
    """Tell whether figures alone are announced as a number of a part (or of something else)."""
    if len(number.text.replace("-", "")) < 4:
        return False
    end = number.start
    while end and tokens[end - 1] in ("is", "'s", ",", ":", "a", "it's", "just"):
        end -= 1
    if _cues("exact").begin(tokens, end) < end:
        return True
    singly = not _tens() & set(tokens[number.start : number.stop])
    near = any(
        _cues("number").begin(tokens, place) < place
        for place in range(max(1, number.start - REACH), number.start + 1)
    )
    return near and (singly or tokens[number.start][0].isdigit())


def _other(tokens: tuple[str, ...], number: PartNumber) -> bool:
    start = max(0, number.start - REACH)
    before = {
        tokens[at]
        for at in range(start, number.start)
        if tokens[at] != "order" or tokens[at - 1] not in TO_ORDER
    }
    return "part" not in before and bool(rules_of_others() & before)


@cache
def rules_of_others() -> frozenset[str]:
    """Return the words that name a number as something else than a part's."""
    return frozenset(rules("parts")["numbers"]["other"])


@cache
def _tens() -> frozenset[str]:
    return frozenset(number_words("tens")) | frozenset(number_words("teens"))


@cache
def _cues(name: str) -> Phrases:
    return Phrases(rules("parts")["numbers"][name])
