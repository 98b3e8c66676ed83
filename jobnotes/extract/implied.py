"""Steps that facts found before imply: a part installed, a fastener with its torque."""

from collections.abc import Iterator, Sequence

from jobnotes.extract.modality import tokens_of
from jobnotes.extract.nouns import Noun, noun_at
from jobnotes.extract.private import private_utterances
from jobnotes.extract.talk import Talk
from jobnotes.extract.things import Thing, things_between
from jobnotes.extract.vocabulary import group, singular_of, words
from jobnotes.extract.worked import Done
from jobnotes.record import AnyFact, Part, Reading

TORQUES = group("implied", "torques")
FASTENERS = group("implied", "fasteners")
BACK = 2  # utterances before a torque in which its fastener may have been named
HOLDING = ("on", "of", "for", "in")
TOLD = group("implied", "told")
FITTED = ("install", "replace", "change")
LEADING = group("implied", "leading")
SET = group("implied", "set")
SETTING = ("adjust", "inflate", "fill", "shim", "torque", "tighten", "replace", "install", "move")


def implied(talk: Talk, facts: tuple[AnyFact, ...], told: list[Done]) -> Iterator[Done]:
    """Give the steps that no verb tells but a part number or a torque does."""
    fitted = {_head(step) for step in told if step.verb in FITTED}
    torqued = {
        talk.utterance_of[step.start]: len(talk.doc) for step in told if step.verb == "torque"
    }
    for fact in facts:
        if isinstance(fact, Part) and fact.status == "installed" and fact.number and fact.name:
            what = Noun(*tokens_of(talk, fact), fact.name)
            if singular_of(fact.name.split()[-1]) not in fitted:
                yield Done("install", what, what.start, what.stop, "actions.part", weak=True)
        elif isinstance(fact, Reading) and fact.unit in TORQUES and fact.evidence:
            yield from _torqued(talk, fact, torqued)
    yield from _reset(talk, facts, told)


def _reset(talk: Talk, facts: tuple[AnyFact, ...], told: list[Done]) -> Iterator[Done]:
    """Give the setting of what measured otherwise before: "tyres were five, both at eight now"."""
    stepped = {talk.utterance_of[step.start] for step in told if step.verb in SETTING}
    earlier: Reading | None = None
    for fact in facts:
        if not isinstance(fact, Reading) or fact.what.split()[-1] not in SET or not fact.evidence:
            continue
        start, stop = tokens_of(talk, fact)
        here = talk.utterance_of[start]
        changed = earlier and fact.phase == "after" and _changed(talk, earlier, fact)
        if changed and here not in stepped:
            stepped.add(here)
            yield _set(fact, start, stop)
        earlier = fact if fact.phase != "after" else earlier


def _changed(talk: Talk, earlier: Reading, fact: Reading) -> bool:
    """Tell two values of one measure, told in one breath or in two that follow each other."""
    apart = (
        talk.utterance_of[tokens_of(talk, fact)[0]] - talk.utterance_of[tokens_of(talk, earlier)[0]]
    )
    alike = (earlier.what, earlier.unit) == (fact.what, fact.unit)
    return alike and 0 <= apart <= 1 and earlier.value != fact.value


def _set(fact: Reading, start: int, stop: int) -> Done:
    tyre = fact.what.removesuffix(" pressure")
    verb, name = ("inflate", tyre) if tyre != fact.what else ("adjust", fact.what)
    what = Noun(start, stop, f"{name}s" if name in ("tire", "tyre") else name, fact.where)
    return Done(verb, what, start, stop, "actions.set", weak=True)


def _torqued(talk: Talk, fact: Reading, torqued: dict[int, int]) -> Iterator[Done]:
    """Take a torque said of a fastener as the tightening; `torqued` says up to where that was."""
    start, stop = tokens_of(talk, fact)
    number = talk.utterance_of[start]
    before = fact.phase == "before" and words(talk)[start - 1] not in ("to", "at")
    if torqued.get(number, 0) > start or number in private_utterances(talk) or before:
        return
    thing = _torqued_thing(talk, number, start, stop, torqued.get(number))
    if thing is not None:
        begin = thing.start if talk.utterance_of[thing.start] == number else start
        what = Noun(thing.start, thing.stop, _whole_name(talk, thing))
        yield Done("torque", what, min(begin, start), stop, "actions.torque-told", weak=True)
    torqued[number] = stop


def _torqued_thing(
    talk: Talk, number: int, start: int, stop: int, torqued: int | None
) -> Thing | None:
    """Return what a torque is said of; a second one in a breath needs its own thing beside it."""
    if torqued is not None:
        return _beside(talk, things_between(talk, torqued, stop), start)
    named = things_between(talk, talk.starts[max(number - BACK, 0)], stop)
    fastener = next((t for t in reversed(named) if _is_fastener(t)), None)
    if fastener is not None and talk.utterance_of[fastener.start] == number:
        return fastener
    after = things_between(talk, stop, talk.utterance(number).end)[:1]
    following = next((t for t in after if _follows_figure(talk, stop, t)), None)
    return _beside(talk, named, start) or following or fastener


def _beside(talk: Talk, named: Sequence[Thing], start: int) -> Thing | None:
    """Return what a torque is said of: "injectors at thirty newton metres"."""
    thing = named[-1] if named else None
    if thing is None or not set(words(talk)[thing.stop : start]) <= TOLD:
        return None
    return thing


def _follows_figure(talk: Talk, stop: int, thing: Thing) -> bool:
    """Tell "ten newton metres on the arm bolts" and "twenty foot pounds, head bolts"."""
    between = set(words(talk)[stop : thing.start])
    return _is_fastener(thing) and between <= LEADING


def _is_fastener(thing: Thing) -> bool:
    head = singular_of(thing.name.split()[-1])
    return head in FASTENERS or head.endswith(("nut", "bolt", "screw"))


def _whole_name(talk: Talk, thing: Thing) -> str:
    """Add what the fastener holds: "four bolts on the gear case"."""
    after = words(talk)[thing.stop : thing.stop + 1]
    held = noun_at(talk, thing.stop + 1, len(talk.doc)) if after and after[0] in HOLDING else None
    return f"{held.name} {thing.name}" if held and held.start <= thing.stop + 3 else thing.name


def _head(step: Done) -> str:
    return singular_of(step.object.name.split()[-1])
