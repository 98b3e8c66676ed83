"""What the words that tell of work make of the parts named so far."""

from collections.abc import Sequence
from functools import cache

from jobnotes.extract.part_drafts import KEPT, NEAR, Draft, now
from jobnotes.extract.part_events import PartEvent
from jobnotes.extract.part_names import (
    count_of,
    is_no_part,
    last_part,
    not_parts,
    part_before,
    plain_name,
    same_part,
    things_after,
)
from jobnotes.extract.talk import Talk
from jobnotes.extract.things import Thing, thing_before
from jobnotes.extract.vocabulary import rules, singular_of
from jobnotes.numbers.lexicon import words as number_words
from jobnotes.record import PartStatus

RANK: dict[PartStatus, int] = {
    "mentioned": 0, "quoted": 1, "ordered": 2, "removed": 3, "discarded": 3, "reused": 4,
    "installed": 4,
}  # fmt: skip


def take_event(talk: Talk, drafts: list[Draft], event: PartEvent) -> None:
    """Give the parts that an event speaks of their status, unless a stronger one was told."""
    targets = _targets(talk, drafts, event)
    for draft in targets:
        outranks = RANK[event.status] >= RANK[draft.status] or draft.implied
        outranks = outranks and not (event.implied and draft.status in ("ordered", "quoted"))
        if outranks and not draft.superseded:
            draft.implied = event.implied and (draft.implied or draft.status == "mentioned")
            draft.status, draft.rule = event.status, event.status
            draft.spans.append((event.start, event.stop))


def _targets(talk: Talk, drafts: list[Draft], event: PartEvent) -> list[Draft]:
    texts = [now(talk, number) for number in event.numbers]
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


def _of_thing(talk: Talk, drafts: list[Draft], event: PartEvent, thing: Thing) -> list[Draft]:
    name = plain_name(thing.name)
    if event.status == "discarded" and name.split()[:1] and name.split()[0] not in _former():
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


def _named(talk: Talk, drafts: list[Draft], event: PartEvent, thing: Thing, name: str) -> Draft:
    draft = Draft(name, utterance=event.utterance, place=thing.stop)
    draft.quantity = count_of(talk, thing)
    draft.spans.append((thing.start, thing.stop))
    drafts.append(draft)
    return draft


def _of_pronoun(talk: Talk, drafts: list[Draft], event: PartEvent) -> list[Draft]:
    taken = event.status not in ("discarded", "removed")
    numbered = [d for d in drafts[-KEPT:] if d.number and not d.superseded and taken]
    near = [d for d in numbered if event.utterance - d.utterance <= NEAR]
    if event.pronoun.startswith("all") or event.pronoun in rules("parts")["words"]["all"]:
        count = number_words("digits").get(event.pronoun.split()[-1], len(near))
        return near[-count:] if count else []
    if event.pronoun in rules("parts")["words"]["both"]:
        return _last_two(near)
    if not _former().isdisjoint(event.pronoun.split()):
        return _old_ones(talk, drafts, event)
    start = talk.starts[event.utterance]
    thing = last_part(talk, start, event.start)
    if event.status == "reused":
        thing = next((t for t in things_after(talk, start) if t.stop <= event.start), None)
    if event.status == "reused":
        thing = thing or part_before(talk, event.start)
        return _of_thing(talk, drafts, event, thing) if thing is not None else []
    last = near[-1] if near else None
    if last is not None and thing is not None and _differ(talk, event, last, thing):
        return [last]
    if thing is not None and (last is None or thing.start > last.place):
        return _of_thing(talk, drafts, event, thing)
    if last is not None:
        return [last]
    earlier = part_before(talk, event.start)
    return _of_thing(talk, drafts, event, earlier) if earlier is not None else []


def _differ(talk: Talk, event: PartEvent, last: Draft, thing: Thing) -> bool:
    """Tell that "that" does not mean the clips but the kit of this breath, by the plural."""
    many = singular_of(thing.name.split()[-1]) != thing.name.split()[-1]
    return many and event.pronoun in ("it", "that") and last.utterance == event.utterance


@cache
def _former() -> frozenset[str]:
    """Return the words that tell the part taken out from the one put in."""
    return frozenset(rules("parts")["words"]["former"])


def _old_ones(talk: Talk, drafts: list[Draft], event: PartEvent) -> list[Draft]:
    """Read "old ones went in the trash": the part put in just before, in its former shape."""
    thing = thing_before(talk, event.start)
    if not drafts or thing is None:
        return []
    many = event.pronoun.endswith("ones")
    last = [d for d in _last_two(drafts) if d.utterance == drafts[-1].utterance]
    meant = [d.name for d in (last if many else drafts[-1:])]
    return [
        _named(talk, drafts, event, thing, f"old {name or plain_name(thing.name)}")
        for name in meant
    ]


def _last_two(near: Sequence[Draft]) -> list[Draft]:
    """Return what "both" means: one part named in the plural, else the last two."""
    if near and singular_of(near[-1].name.split()[-1] if near[-1].name else "") != (
        near[-1].name.split()[-1] if near[-1].name else ""
    ):
        return [near[-1]]
    return list(near[-2:])
