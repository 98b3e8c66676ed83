"""What is in doubt about a part number by what stands beside it: flags, each with its reason."""

from collections.abc import Iterator

from jobnotes.extract.bounds import bounds
from jobnotes.extract.spelled import Spelled, spelled
from jobnotes.extract.takeback import listed, word_set
from jobnotes.extract.takebacks import takebacks
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import once_a_talk, rules, words
from jobnotes.numbers.part_groups import may_belong
from jobnotes.record import Flag

NEAR = 8  # tokens after a number within which it may be taken back
HEAD = 3  # tokens at the head of an utterance in which it says that something is put right
LATER = 2  # utterances after it in which a part of it may be put right


def number_doubts(talk: Talk, stop: int) -> Iterator[Flag]:
    """Give the flags of the number spelled up to token `stop` (excluded), if there is one."""
    number = _by_stop(talk).get(stop)
    if number is None:
        return
    if _goes_on(talk, number):
        why = "More letters or figures stand beside this number; some may belong to it."
        yield Flag(by="numbers", code="number-cut", why=why)
    if number.start not in _settled(talk) and _is_doubted(talk, number):
        why = "Something was put right after this number; it may not stand as it was first said."
        yield Flag(by="extract", code="number-doubted", why=why)


@once_a_talk
def _by_stop(talk: Talk) -> dict[int, Spelled]:
    return {number.stop: number for number in spelled(talk)}


@once_a_talk
def _settled(talk: Talk) -> frozenset[int]:
    """Return where numbers begin that were put in the place of another."""
    return frozenset(back.new.start for back in takebacks(talk) if back.new is not None)


def _goes_on(talk: Talk, number: Spelled) -> bool:
    said, tokens = bounds(talk, number.utterance), words(talk)
    told, here = tokens[said.start : said.end], number.stop - said.start
    before = tokens[max(said.start, number.start - 2) : number.start]
    follows = told[here : here + 1] == (",",) and may_belong(told, here + 1)
    leads = before[-1:] == (",",) and may_belong(before, 0)
    return follows or leads


def _is_doubted(talk: Talk, number: Spelled) -> bool:
    end = min(bounds(talk, number.utterance).end, number.stop + NEAR)
    here = any(_takes_back(talk, place) for place in range(number.stop, end))
    return here or any(
        _puts_right(talk, utterance)
        for utterance in range(number.utterance + 1, number.utterance + 1 + LATER)
        if utterance < len(talk.starts)
    )


def _takes_back(talk: Talk, place: int) -> bool:
    tokens = words(talk)
    if listed("cues", "strong").end(tokens, place) > place:
        return True
    begins = place in talk.starts or tokens[place - 1] == ","
    return begins and tokens[place] in word_set("interjections")


def _puts_right(talk: Talk, utterance: int) -> bool:
    """Tell "correction, the suffix is delta"."""
    said = bounds(talk, utterance)
    told = words(talk)[said.start : said.end]
    parts = set(rules("parts")["numbers"]["pieces"])
    cued = any(
        _takes_back(talk, place) for place in range(said.start, min(said.start + 3, said.end))
    )
    return cued and not parts.isdisjoint(told)
