"""Parts by number and by name, and what became of each over the whole talk."""

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cache

from jobnotes.extract.bounds import bounds
from jobnotes.extract.figures import figures
from jobnotes.extract.part_events import PartEvent, part_events
from jobnotes.extract.part_names import (
    count_of,
    head_before,
    is_no_part,
    last_part,
    not_parts,
    part_before,
    plain_name,
    same_part,
    thing_after,
    things_after,
    topic_of,
)
from jobnotes.extract.spelled import Spelled, last_group, spelled
from jobnotes.extract.takebacks import takebacks
from jobnotes.extract.talk import Talk
from jobnotes.extract.things import Thing, thing_before, thing_in
from jobnotes.extract.vocabulary import once_a_talk, rules, singular_of, words
from jobnotes.numbers.lexicon import words as number_words
from jobnotes.numbers.phrases import Phrases
from jobnotes.record import AnyFact, Flag, Part, PartStatus

RANK: dict[PartStatus, int] = {
    "mentioned": 0, "quoted": 1, "ordered": 2, "removed": 3, "discarded": 3, "reused": 4,
    "installed": 4,
}  # fmt: skip
KEPT = 60  # parts looked back on; a job with more named since is a stock list
NEAR = 8  # utterances over which a name and its number, or a number said again, belong together


@dataclass(slots=True)
class _Draft:
    """A part as far as it is known; `spans` are the token stretches that tell of it."""

    name: str
    number: str = ""
    status: PartStatus = "mentioned"
    rule: str = "numbers"
    utterance: int = 0
    place: int = 0
    quantity: int | None = None
    supersedes: str = ""
    price: str = ""
    options: tuple[str, ...] = ()
    superseded: bool = False
    implied: bool = False
    spans: list[tuple[int, int]] = field(default_factory=list)


def find(talk: Talk, facts: tuple[AnyFact, ...]) -> tuple[AnyFact, ...]:
    """Return the parts of a talk in the order in which they were first named."""
    drafts: list[_Draft] = []
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
            _take_event(talk, drafts, mark)
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


def _now(talk: Talk, number: Spelled) -> str:
    """Return the number that stands now for one that may have been taken back."""
    for back in takebacks(talk):
        if back.old is number and isinstance(back.new, Spelled):
            return _whole(talk, back.new)
    return number.number.text


def _order(mark: Spelled | PartEvent) -> int:
    return 0 if isinstance(mark, Spelled) else 1


def _part(talk: Talk, draft: _Draft) -> Part:
    flags = []
    if draft.options:
        why = "The letter O and the nought sound alike in this part number."
        flags.append(Flag(by="numbers", code="letter-or-nought", why=why, options=draft.options))
    if draft.number and not draft.name:
        why = "No name was said for this part number."
        flags.append(Flag(by="numbers", code="no-name", why=why))
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


def _take_number(talk: Talk, drafts: list[_Draft], number: Spelled) -> None:
    text = _whole(talk, number)
    old = next((d for d in reversed(drafts[-KEPT:]) if d.number == text), None)
    if old is not None:
        old.spans.append((number.start, number.stop))
        return
    before = _last_numbered(drafts)
    if number.number.tail:
        if before is not None and _says(talk, "old_before", before.place, number.start):
            _replace(talk, drafts, before, number, _with_tail(before.number, text))
        return
    if before is not None and _says_between(talk, before, number, "old_before"):
        if _same_tail(talk, number):
            text += before.number[len(text) :]
        _replace(talk, drafts, before, number, text)
        return
    if before is not None and _says_between(talk, before, number, "old_after"):
        draft = _Draft(before.name, utterance=number.utterance, superseded=True)
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


def _same_tail(talk: Talk, number: Spelled) -> bool:
    """Tell "QX 42, same tail end": the rest of the number stays as it was."""
    following = words(talk)[number.stop : number.stop + 5]
    phrases = _superseded("same_tail")
    return any(phrases.end(following, at) > at for at in range(len(following)))


def _whole(talk: Talk, number: Spelled) -> str:
    """Return a number said whole, or completed from the one of which it corrects the end."""
    text = number.number.text
    for back in takebacks(talk):
        if back.new is number and isinstance(back.old, Spelled) and number.number.plain:
            return last_group(back.old.number.text, text) or text
    return text


def _carry_on(talk: Talk, drafts: Sequence[_Draft], draft: _Draft, number: Spelled) -> None:
    """Give a part of a list the status said of the one before: "installed a kit / and a belt"."""
    before = next((d for d in reversed(drafts) if d.number and d is not draft), None)
    if before is None or number.utterance - before.utterance > 1 or draft.status != "mentioned":
        return
    listed = words(talk)[talk.starts[number.utterance]] in ("and", "plus", "also", "then")
    if listed or (draft.price and before.status == "quoted"):
        draft.status, draft.rule = before.status, before.rule


def _last_numbered(drafts: Sequence[_Draft]) -> _Draft | None:
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


def _says_between(talk: Talk, before: _Draft, number: Spelled, name: str) -> bool:
    near = number.utterance - talk.utterance_of[max(0, before.place - 1)] <= 1
    return (
        near and number.start - before.place <= 14 and _says(talk, name, before.place, number.start)
    )


def _replace(talk: Talk, drafts: list[_Draft], old: _Draft, number: Spelled, text: str) -> None:
    """Enter the new number beside the old one, which is from now on only mentioned."""
    new = _Draft(old.name, text, old.status, old.rule, number.utterance, number.stop)
    new.supersedes, new.quantity = old.number, old.quantity
    new.spans = [(number.start, number.stop)]
    old.status, old.superseded, old.rule = "mentioned", True, "superseded"
    drafts.append(new)


def _draft_for(talk: Talk, drafts: list[_Draft], number: Spelled) -> _Draft:
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
        ),
        None,
    )
    if known is not None:
        return known
    draft = _Draft(name, utterance=number.utterance)
    if thing is not None:
        draft.quantity = count_of(talk, thing)
        if talk.utterance_of[thing.start] == number.utterance:
            draft.spans.append((thing.start, thing.stop))
    drafts.append(draft)
    return draft


def _thing_of(talk: Talk, number: Spelled, drafts: Sequence[_Draft]) -> Thing | None:
    """Find the component that a number names: before it, after it, or in an earlier breath."""
    start = talk.starts[number.utterance]
    previous = [d.place for d in drafts[-KEPT:] if d.number and start <= d.place <= number.start]
    begin = max([start, *previous])
    thing = last_part(talk, begin, number.start) or thing_after(talk, number)
    if thing is not None:
        return thing
    if begin > start:
        return thing_in(talk, start, begin)
    return None if topic_of(talk, number) else part_before(talk, start)


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


# --- what was done ---


def _take_event(talk: Talk, drafts: list[_Draft], event: PartEvent) -> None:
    targets = _targets(talk, drafts, event)
    for draft in targets:
        outranks = RANK[event.status] >= RANK[draft.status] or draft.implied
        outranks = outranks and not (event.implied and draft.status in ("ordered", "quoted"))
        if outranks and not draft.superseded:
            draft.implied = event.implied and (draft.implied or draft.status == "mentioned")
            draft.status, draft.rule = event.status, event.status
            draft.spans.append((event.start, event.stop))


def _targets(talk: Talk, drafts: list[_Draft], event: PartEvent) -> list[_Draft]:
    texts = [_now(talk, number) for number in event.numbers]
    found = [
        d for d in drafts[-KEPT:] if d.number and any(_is_said(d.number, text) for text in texts)
    ]
    for thing in event.objects:
        found += _of_thing(talk, drafts, event, thing)
    apart = event.status == "discarded" and all(is_no_part(o.name) for o in event.objects)
    if (event.pronoun or apart) and not found:
        found = _of_pronoun(talk, drafts, event)
    return found


def _is_said(number: str, text: str) -> bool:
    """Tell a number said whole, or by its last group alone."""
    return number == text or (text[0] == "-" and number.endswith(text))


def _of_thing(talk: Talk, drafts: list[_Draft], event: PartEvent, thing: Thing) -> list[_Draft]:
    name = plain_name(thing.name)
    if event.status == "discarded" and not name.startswith("old "):
        name = f"old {name}"
    same = [d for d in drafts[-KEPT:] if same_part(d.name, name) and not d.superseded]
    if event.status in ("reused", "removed", "discarded"):
        same = [d for d in same if not d.number]
    fits = [d for d in same if d.number or d.status == event.status]
    if fits:
        plural = singular_of(name.split()[-1]) != name.split()[-1]
        return fits if plural else [fits[-1]]
    if event.weak and not event.new:
        return []
    if set(name.split()[-1:]) & not_parts() or name in not_parts() or not name:
        return []
    return [_named(talk, drafts, event, thing, name)]


def _named(talk: Talk, drafts: list[_Draft], event: PartEvent, thing: Thing, name: str) -> _Draft:
    draft = _Draft(name, utterance=event.utterance, place=thing.stop)
    draft.quantity = count_of(talk, thing)
    draft.spans.append((thing.start, thing.stop))
    drafts.append(draft)
    return draft


def _of_pronoun(talk: Talk, drafts: list[_Draft], event: PartEvent) -> list[_Draft]:
    taken = event.status not in ("discarded", "removed")
    numbered = [d for d in drafts[-KEPT:] if d.number and not d.superseded and taken]
    near = [d for d in numbered if event.utterance - d.utterance <= NEAR]
    if event.pronoun.startswith("all") or event.pronoun in rules("parts")["words"]["all"]:
        count = number_words("digits").get(event.pronoun.split()[-1], len(near))
        return near[-count:] if count else []
    if event.pronoun in rules("parts")["words"]["both"]:
        return _last_two(near)
    if "old" in event.pronoun.split():
        return _old_ones(talk, drafts, event)
    start = talk.starts[event.utterance]
    thing = last_part(talk, start, event.start)
    if event.status == "reused":
        thing = next((t for t in things_after(talk, start) if t.stop <= event.start), None)
    last = near[-1] if near else None
    if thing is not None and (last is None or thing.start > last.place):
        return _of_thing(talk, drafts, event, thing)
    if last is not None:
        return [last]
    earlier = part_before(talk, event.start)
    return _of_thing(talk, drafts, event, earlier) if earlier is not None else []


def _old_ones(talk: Talk, drafts: list[_Draft], event: PartEvent) -> list[_Draft]:
    """Read "old ones went in the trash": the part put in just before, in its former shape."""
    thing = thing_before(talk, event.start)
    if not drafts or thing is None:
        return []
    return [_named(talk, drafts, event, thing, f"old {drafts[-1].name or plain_name(thing.name)}")]


def _last_two(near: Sequence[_Draft]) -> list[_Draft]:
    """Return what "both" means: one part named in the plural, else the last two."""
    if near and singular_of(near[-1].name.split()[-1] if near[-1].name else "") != (
        near[-1].name.split()[-1] if near[-1].name else ""
    ):
        return [near[-1]]
    return list(near[-2:])
