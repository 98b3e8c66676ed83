"""Parts by number and by name, and what became of each over the whole talk."""

from bisect import bisect_left
from collections.abc import Sequence
from functools import cache

from jobnotes.extract.bounds import bounds
from jobnotes.extract.figures import figures
from jobnotes.extract.part_doubts import number_doubts
from jobnotes.extract.part_drafts import KEPT, NEAR, Draft, whole
from jobnotes.extract.part_events import PartEvent, part_events
from jobnotes.extract.part_fates import take_event
from jobnotes.extract.part_names import (
    count_of,
    head_before,
    last_part,
    part_before,
    plain_name,
    same_part,
    thing_after,
    things_after,
    topic_of,
)
from jobnotes.extract.spelled import Spelled, spelled
from jobnotes.extract.takebacks import takebacks
from jobnotes.extract.talk import Talk
from jobnotes.extract.things import Thing, thing_in
from jobnotes.extract.vocabulary import once_a_talk, rules, words
from jobnotes.numbers.lexicon import words as number_words
from jobnotes.numbers.phrases import Phrases
from jobnotes.record import AnyFact, Flag, Part

GONE = ("reused", "removed", "discarded")  # what a number said later does not belong to


def find(talk: Talk, facts: tuple[AnyFact, ...]) -> tuple[AnyFact, ...]:
    """Return the parts of a talk in the order in which they were first named."""
    drafts: list[Draft] = []
    gone = {back.old.start for back in takebacks(talk)} | {
        back.mention.start for back in takebacks(talk) if back.mention is not None
    }
    numbers = [n for n in spelled(talk) if n.is_part and n.start not in gone]
    marks: list[Spelled | PartEvent] = [*numbers, *part_events(talk)]
    first = _first_said(talk)
    marks.sort(key=lambda mark: (first.get(mark.start, mark.utterance), _order(mark), mark.start))
    for mark in marks:
        if isinstance(mark, Spelled):
            _take_number(talk, drafts, mark)
        else:
            take_event(talk, drafts, mark)
    for draft in drafts:
        _settle(talk, draft)
    return tuple(_part(talk, draft) for draft in drafts)


@once_a_talk
def _first_said(talk: Talk) -> dict[int, int]:
    """Return, by the start of a number that corrects another, where that one was said."""
    return {
        back.new.start: back.old.utterance
        for back in takebacks(talk)
        if isinstance(back.new, Spelled) and isinstance(back.old, Spelled)
    }


def _origin(talk: Talk, number: Spelled) -> Spelled:
    """Return the number that this one corrects, or itself: the words by that one name the part."""
    for back in takebacks(talk):
        if back.new is number and isinstance(back.old, Spelled):
            return back.old
    return number


def _order(mark: Spelled | PartEvent) -> int:
    return 0 if isinstance(mark, Spelled) else 1


def _part(talk: Talk, draft: Draft) -> Part:
    flags = []
    if draft.options:
        why = "The letter O and the nought sound alike in this part number."
        flags.append(Flag(by="numbers", code="letter-or-nought", why=why, options=draft.options))
    if draft.rule == "listed":
        why = "Nothing was said of what became of this part; it is taken as fitted."
        flags.append(Flag(by="extract", code="fate-not-said", why=why))
    if draft.number and not draft.name:
        why = "No name was said for this part number."
        flags.append(Flag(by="numbers", code="no-name", why=why))
    flags += number_doubts(talk, draft.place) if draft.number else ()
    return Part(
        number=draft.number,
        name=draft.name,
        status=draft.status,
        quantity=draft.quantity,
        supersedes=draft.supersedes,
        price=draft.price,
        evidence=tuple(talk.evidence(start, stop) for start, stop in draft.spans),
        rule=f"parts.{draft.rule}",
        confidence=0.9 if draft.name else 0.6,
        flags=tuple(flags),
    )


# --- a number ---


def _take_number(talk: Talk, drafts: list[Draft], number: Spelled) -> None:
    text = whole(talk, number)
    old = next((d for d in reversed(drafts[-KEPT:]) if d.number == text), None)
    old = old or _said_again(drafts, number, text)
    if old is not None:
        old.spans.append((number.start, number.stop))
        return
    before = _last_numbered(drafts)
    if number.number.tail:
        if before is not None and _says(talk, "old_before", before.place, number.start):
            _replace(talk, drafts, before, number, _with_tail(before.number, text))
        return
    if before is not None and any(before.place < d.place < number.start for d in drafts[-KEPT:]):
        before = None
    if before is not None and _says_between(talk, before, number, "old_before"):
        if _same_tail(talk, number):
            text += before.number[len(text) :]
        _replace(talk, drafts, before, number, text)
        return
    stated = _superseded("old_stated").end(words(talk), number.stop) > number.stop
    near = before is not None and before.utterance == number.utterance
    if before is not None and (
        (stated and near) or _says_between(talk, before, number, "old_after")
    ):
        draft = Draft(before.name, utterance=number.utterance, superseded=True)
        drafts.append(draft)
        before.supersedes = text
    else:
        draft = _draft_for(talk, drafts, number)
    draft.number, draft.place = text, number.stop
    draft.options = number.number.options
    draft.quantity = draft.quantity or _quantity(talk, number.start, number.stop)
    draft.price = _price(talk, number)
    _carry_on(talk, drafts, draft, number)
    draft.spans.append((number.start, number.stop))


def _said_again(drafts: Sequence[Draft], number: Spelled, text: str) -> Draft | None:
    """Return the part just named whose number ends in the figures that are said again."""
    last = drafts[-1] if drafts else None
    again = last is not None and last.utterance == number.utterance and len(text) > 3
    return last if last and again and last.number.endswith(text) else None


def _same_tail(talk: Talk, number: Spelled) -> bool:
    """Tell "QX 42, same tail end": the rest of the number stays as it was."""
    following = words(talk)[number.stop : number.stop + 5]
    phrases = _superseded("same_tail")
    return any(phrases.end(following, at) > at for at in range(len(following)))


def _carry_on(talk: Talk, drafts: Sequence[Draft], draft: Draft, number: Spelled) -> None:
    """Give a part of a list the status said of the one before: "installed a kit / and a belt"."""
    before = next((d for d in reversed(drafts) if d.number and d is not draft), None)
    if before is None or number.utterance - before.utterance > 1 or draft.status != "mentioned":
        return
    listed = words(talk)[talk.starts[number.utterance]] in ("and", "plus", "also", "then")
    if listed or (draft.price and before.status == "quoted"):
        draft.status, draft.rule = before.status, before.rule


def _settle(talk: Talk, draft: Draft) -> None:
    """Take a part listed by its number, of which no more was said, for one put in."""
    if draft.status != "mentioned" or draft.superseded or not draft.number or not draft.name:
        return
    said, tokens = bounds(talk, draft.utterance), words(talk)
    here = max(draft.place, said.start)
    told = range(said.start, next((n for n in range(here, said.end) if tokens[n] == ","), said.end))
    if not any(_only_named().end(tokens, at) > at for at in told):
        draft.status, draft.rule = "installed", "listed"


@cache
def _only_named() -> Phrases:
    listed = rules("parts")["words"]
    return Phrases([*listed["unreal"], *listed["only_named"]])


def _last_numbered(drafts: Sequence[Draft]) -> Draft | None:
    return next((d for d in reversed(drafts) if d.number and not d.superseded), None)


def _with_tail(number: str, tail: str) -> str:
    """Put a last group said alone in the place of the last group: QX-447-B, "dash c"."""
    head, _, _ = number.rpartition("-")
    return (head or number) + tail


@cache
def _superseded(name: str) -> Phrases:
    return Phrases(rules("parts")["superseded"][name])


def _says(talk: Talk, name: str, start: int, stop: int) -> bool:
    tokens = words(talk)
    return any(_superseded(name).end(tokens, at) > at for at in range(start, stop))


def _says_between(talk: Talk, before: Draft, number: Spelled, name: str) -> bool:
    near = number.utterance - talk.utterance_of[max(0, before.place - 1)] <= 1
    if not near or number.start - before.place > 14:
        return False
    other = last_part(talk, before.place, number.start)  # "cap replaced, ..., belt replaced, ..."
    start = before.place if other is None or same_part(other.name, before.name) else other.stop
    return _says(talk, name, start, number.start) and (start < other.stop if other else True)


def _replace(talk: Talk, drafts: list[Draft], old: Draft, number: Spelled, text: str) -> None:
    """Enter the new number beside the old one, which is from now on only mentioned."""
    new = Draft(old.name, text, old.status, old.rule, number.utterance, number.stop)
    new.supersedes, new.quantity = old.number, old.quantity
    new.spans = [(number.start, number.stop)]
    old.status, old.superseded, old.rule = "mentioned", True, "superseded"
    drafts.append(new)


def _draft_for(talk: Talk, drafts: list[Draft], number: Spelled) -> Draft:
    """Return the part a number belongs to: one named shortly before, or a new one."""
    first = _origin(talk, number)
    thing = _thing_of(talk, first, drafts)
    name = head_before(talk, first) or (plain_name(thing.name) if thing is not None else "")
    name = name or topic_of(talk, first)
    known = next(
        (
            d
            for d in reversed(drafts[-KEPT:])
            if not d.number and number.utterance - d.utterance <= NEAR and same_part(d.name, name)
            if d.status not in GONE or d.utterance == number.utterance
        ),
        None,
    )
    if known is not None:
        return known
    draft = Draft(name, utterance=number.utterance)
    if thing is not None:
        draft.quantity = count_of(talk, thing)
        if talk.utterance_of[thing.start] == number.utterance:
            draft.spans.append((thing.start, thing.stop))
    drafts.append(draft)
    return draft


def _thing_of(talk: Talk, number: Spelled, drafts: Sequence[Draft]) -> Thing | None:
    """Find the component that a number names: before it, after it, or in an earlier breath."""
    start = talk.starts[number.utterance]
    previous = [d.place for d in drafts[-KEPT:] if d.number and start <= d.place <= number.start]
    begin = max([start, *previous])
    thing = last_part(talk, begin, number.start) or thing_after(talk, number)
    if thing is not None:
        return thing
    if begin > start:
        return thing_in(talk, start, begin)
    if (pointed := _pointed_at(talk, number)) is not None:
        return pointed
    return None if topic_of(talk, number) else part_before(talk, start)


def _pointed_at(talk: Talk, number: Spelled) -> Thing | None:
    """Read "you get QX4 now, so that pump is fitted"."""
    end = bounds(talk, number.utterance).end
    for thing in things_after(talk, number.stop):
        if thing.stop <= end and words(talk)[thing.start - 1] in ("that", "this"):
            return thing
    return None


def _quantity(talk: Talk, start: int, stop: int) -> int | None:
    """Read "quantity two" after a number."""
    tokens = words(talk)
    for place in range(stop, min(len(tokens) - 1, stop + 3)):
        if tokens[place] in rules("parts")["words"]["quantity"]:
            return number_words("digits").get(tokens[place + 1])
    return None


def _price(talk: Talk, number: Spelled) -> str:
    """Return the price said right after a number, as said; for the office only."""
    told = figures(talk)
    first = bisect_left(told, number.stop, key=lambda figure: figure.start)
    for figure in told[first : first + 1]:
        if figure.utterance == number.utterance and figure.start - number.stop <= 2:
            priced = figure.quantity.role == "price" or not figure.quantity.units
            at_end = figure.stop == bounds(talk, figure.utterance).end
            if priced and (figure.quantity.role == "price" or at_end):
                return talk.text(figure.start, figure.stop)
    return ""
