"""What a photo shows, in the speaker's own words, without figures, since nobody checks those."""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

from jobnotes.extract.private import private_utterances
from jobnotes.extract.talk import Talk
from jobnotes.extract.things import thing_before
from jobnotes.extract.vocabulary import once_a_talk, words
from jobnotes.numbers.part_numbers import part_number_at
from jobnotes.numbers.spoken import number_at
from jobnotes.numbers.tokens import split
from jobnotes.photos.rules import section, word_set
from jobnotes.record import Audience, Evidence, Finding, State

_AHEAD = 16  # tokens looked at for a number


@dataclass(frozen=True)
class Said:
    """A caption, and the words that it rests on besides those of the mark itself."""

    caption: str
    evidence: tuple[Evidence, ...] = ()


def is_break(talk: Talk, at: int, end: int) -> bool:
    """Tell whether a clause ends before token `at`: at `end`, or at a punctuation mark."""
    return at >= end or not any(letter.isalnum() for letter in words(talk)[at])


def target_of(talk: Talk, start: int, end: int) -> tuple[int, Said | None]:
    """Return where what is named from token `start` on ends, and the caption that it makes.

    There is no caption where only a pronoun or a figure is named.
    """
    head = _past_pointers(talk, start, end)
    stop = head
    while not _ends(talk, stop, head, end):
        stop += 1
    last = stop
    while last > head and _dangles(talk, last - 1):
        last -= 1
    if word_set("target", "pronouns").issuperset(words(talk)[head:last]) or (
        last > head and _has_digit(talk.text(head, last))
    ):
        return stop + _is_pronoun(talk, stop, end), None
    article = f"{_article(talk, start)} " if head > start else ""
    return last, Said(article + _heard(talk, head, last))


def named_before(talk: Talk, stop: int, utterance: int) -> Said | None:
    """Return what was last named before token `stop`: a finding with its state, or a component.

    It looks back over a few utterances from the one given, never into a private remark.
    """
    if not stop:
        return None
    seen = range(max(0, utterance - section("target")["look_back"]), utterance + 1)
    in_view = frozenset(seen) - private_utterances(talk)
    thing, finding = thing_before(talk, stop), _finding_before(talk, stop, in_view)
    if finding and (not thing or _last_word(talk, finding) >= talk.word_of[thing.start]):
        return Said(_of_finding(finding), finding.evidence)
    if thing and talk.utterance_of[thing.start] in in_view and not _holds_figure(thing.name):
        return Said(f"the {thing.name}", (talk.evidence(thing.start, thing.stop),))
    return None


def _of_finding(finding: Finding) -> str:
    plain = not finding.negated and not _holds_figure(finding.state_found)
    return f"the {finding.what}, {finding.state_found}" if plain else f"the {finding.what}"


def _finding_before(talk: Talk, stop: int, in_view: frozenset[int]) -> Finding | None:
    place = bisect_right(_finding_words(talk), talk.word_of[stop - 1])
    if not place:
        return None
    finding = _findings(talk)[place - 1]
    last = finding.evidence[-1]
    seen = [talk.job.utterances[number] for number in in_view]
    near = any(u.recording == last.recording and u.first <= last.last <= u.last for u in seen)
    return finding if near else None


@once_a_talk
def _findings(talk: Talk) -> tuple[Finding, ...]:
    """Return the findings that a customer may read, in the order of their last words."""
    sound = (
        fact
        for fact in talk.job.facts
        if isinstance(fact, Finding)
        and fact.evidence
        and fact.audience is Audience.CUSTOMER
        and fact.state is not State.REJECTED
        and not fact.open_flags
        and not _holds_figure(fact.what)
    )
    return tuple(sorted(sound, key=lambda finding: _last_word(talk, finding)))


@once_a_talk
def _finding_words(talk: Talk) -> tuple[int, ...]:
    return tuple(_last_word(talk, finding) for finding in _findings(talk))


@once_a_talk
def _word_places(talk: Talk) -> dict[tuple[str, int], int]:
    return {(word.recording, word.index): n for n, word in enumerate(talk.job.words)}


def _last_word(talk: Talk, finding: Finding) -> int:
    last = finding.evidence[-1]
    return _word_places(talk).get((last.recording, last.last), -1)


def _past_pointers(talk: Talk, start: int, end: int) -> int:
    """Pass over "the", "that", hesitations, and a count or a number: "the two", "number four"."""
    at = start
    while at < end and (step := _pointer(talk, at, end)):
        at += step
    ahead = words(talk)[at : min(end, at + _AHEAD)]
    numbered = len(ahead) > 1 and ahead[0] in ("number", "no")
    count = number_at(ahead, int(numbered)) if ahead else None
    if not count:
        return at
    at += count.stop + (ahead[count.stop : count.stop + 1] in _counted())
    return _past_pointers(talk, at, end)


def _pointer(talk: Talk, at: int, end: int) -> int:
    """Return how many tokens from here on only point or hesitate."""
    ahead = [*words(talk)[at : min(end, at + 3)], "", "", ""]
    comma = ahead[0] == ","
    if ahead[comma] in word_set("target", "hesitations"):
        return 1 + comma + (ahead[1 + comma] == ",")
    return int(ahead[0] in word_set("target", "pointers"))


def _counted() -> frozenset[tuple[str, ...]]:
    return frozenset((word,) for word in word_set("target", "counted"))


def _ends(talk: Talk, at: int, head: int, end: int) -> bool:
    if is_break(talk, at, end) or at - head >= section("target")["longest"]:
        return True
    ahead = words(talk)[at : min(end, at + _AHEAD)]
    if ahead[0] in word_set("target", "joins"):
        return word_set("target", "stops").issuperset(ahead[1:2])
    if ahead[0] in word_set("target", "stops"):
        return True
    return _begins_figure(ahead) and not (at > head and _is_pronoun_one(talk, at, ahead))


def _is_pronoun_one(talk: Talk, at: int, ahead: Sequence[str]) -> bool:
    """Tell "the new one" from "the meter at one"."""
    number = number_at(ahead, 0)
    alone = ahead[0] == "one" and number is not None and number.stop == 1
    return alone and words(talk)[at - 1] not in word_set("target", "dangling")


def _dangles(talk: Talk, at: int) -> bool:
    """Tell what must not end a caption; a heard word is shown whole, so all of "RX-7" goes."""
    return words(talk)[at] in word_set("target", "dangling") or _has_digit(talk.text(at, at + 1))


def _has_digit(text: str) -> bool:
    return any(letter.isdigit() for letter in text)


def _is_pronoun(talk: Talk, at: int, end: int) -> bool:
    return at < end and words(talk)[at] in word_set("target", "pronouns")


def _begins_figure(tokens: Sequence[str]) -> bool:
    return number_at(tokens, 0) is not None or part_number_at(tokens, 0) is not None


def _holds_figure(text: str) -> bool:
    tokens = [token for word in text.split() for token in split(word)]
    return any(_begins_figure(tokens[at:]) for at in range(len(tokens)))


def _article(talk: Talk, start: int) -> str:
    word = words(talk)[start]
    return word if word in ("a", "an") else "the"


def _heard(talk: Talk, start: int, stop: int) -> str:
    text = talk.text(start, stop).strip(" .,;:!?-\"'")
    return text[:1].lower() + text[1:] if text[1:2].islower() else text
