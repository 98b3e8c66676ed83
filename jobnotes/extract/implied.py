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


def implied(talk: Talk, facts: tuple[AnyFact, ...], told: list[Done]) -> Iterator[Done]:
    """Give the steps that no verb tells but a part number or a torque does."""
    fitted = {_head(step) for step in told if step.verb in FITTED}
    torqued = {talk.utterance_of[step.start] for step in told if step.verb == "torque"}
    for fact in facts:
        if isinstance(fact, Part) and fact.status == "installed" and fact.number and fact.name:
            what = Noun(*tokens_of(talk, fact), fact.name)
            if singular_of(fact.name.split()[-1]) not in fitted:
                yield Done("install", what, what.start, what.stop, "actions.part", weak=True)
        elif isinstance(fact, Reading) and fact.unit in TORQUES and fact.evidence:
            yield from _torqued(talk, fact, torqued)


def _torqued(talk: Talk, fact: Reading, torqued: set[int]) -> Iterator[Done]:
    """Take a torque said of a fastener as the tightening, once an utterance."""
    start, stop = tokens_of(talk, fact)
    number = talk.utterance_of[start]
    if number in torqued or number in private_utterances(talk) or fact.phase == "before":
        return
    named = things_between(talk, talk.starts[max(number - BACK, 0)], stop)
    fastener = next((t for t in reversed(named) if _is_fastener(t)), None)
    here = fastener is not None and talk.utterance_of[fastener.start] == number
    thing = fastener if here else _beside(talk, named, start) or fastener
    if thing is not None:
        begin = thing.start if talk.utterance_of[thing.start] == number else start
        what = Noun(thing.start, thing.stop, _whole_name(talk, thing))
        yield Done("torque", what, min(begin, start), stop, "actions.torque-told", weak=True)
    torqued.add(number)


def _beside(talk: Talk, named: Sequence[Thing], start: int) -> Thing | None:
    """Return what a torque is said of: "injectors at thirty newton metres"."""
    thing = named[-1] if named else None
    if thing is None or not set(words(talk)[thing.stop : start]) <= TOLD:
        return None
    return thing


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
