"""Work done: each verb of work with what it was done to, as a plain infinitive and an object."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from jobnotes.extract.implied import implied
from jobnotes.extract.modality import tokens_of, withdrawn_tokens
from jobnotes.extract.nouns import Noun
from jobnotes.extract.steps import steps
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import group, singular_of
from jobnotes.extract.worked import Done
from jobnotes.record import Action, AnyFact, Part, Reading

MEASURED = frozenset(
    ("adjust", "torque", "fill", "inflate", "shim", "top up", "charge", "tighten", "drain")
)
USED = group("actions", "used")
TOGETHER = 4  # utterances in which "both of those" looks for the parts it means


def find(talk: Talk, facts: tuple[AnyFact, ...]) -> tuple[AnyFact, ...]:
    """Return the actions, one for each verb and object; what was said twice has two evidences."""
    withdrawn = withdrawn_tokens(talk, facts)
    told = [s for s in steps(talk) if not withdrawn.issuperset(range(s.start, s.stop))]
    said = [*told, *implied(talk, facts, told)]
    measured = _readings(talk, facts)
    counted = list(_counted(talk, said, _parts(talk, facts)))
    return tuple(_fact(talk, same, measured) for same in _gathered(counted))


def _counted(talk: Talk, said: Iterable[Done], parts: list[Noun]) -> Iterator[Done]:
    """Give one step for each of the parts that "both of those" or "all three" means."""
    for step in said:
        many = step.object.name != singular_of(
            step.object.name.split()[-1]
        ) and step.object.name.endswith("s")
        recent = [] if many or step.object.count < 2 else _just_named(talk, step, parts)
        if len(recent) >= step.object.count > 1:
            yield from (replace(step, object=what) for what in recent[-step.object.count :])
        else:
            yield step


def _just_named(talk: Talk, step: Done, parts: list[Noun]) -> list[Noun]:
    """Return the different parts named in the utterances just before a step, in order."""
    here = talk.utterance_of[step.start]
    near = [
        n for n in parts if n.start < step.start and here - talk.utterance_of[n.start] <= TOGETHER
    ]
    return list({noun.name: noun for noun in near}.values())


def _parts(talk: Talk, facts: tuple[AnyFact, ...]) -> list[Noun]:
    """Return the new parts named by number: what "both" and "all three" may mean."""
    return [
        Noun(*tokens_of(talk, fact), fact.name)
        for fact in facts
        if isinstance(fact, Part)
        and fact.name
        and fact.number
        and fact.status not in USED
        and fact.evidence
    ]


def _gathered(steps: list[Done]) -> list[list[Done]]:
    """Put together what tells the same work; an implied step yields to one that a verb tells."""
    told = {_head(step) for step in steps if not step.weak and step.verb in ("install", "replace")}
    kept: dict[tuple[str, str, str], list[Done]] = {}
    for step in steps:
        if step.weak and _head(step) in told:
            continue
        same = kept.setdefault((step.verb, step.object.name, step.object.where), [])
        same.append(step)
    return list(kept.values())


def _head(step: Done) -> str:
    return singular_of(step.object.name.split()[-1])


def _readings(talk: Talk, facts: tuple[AnyFact, ...]) -> dict[int, list[tuple[int, str]]]:
    """Return the readings of each utterance: where each was said, and its id."""
    measured: dict[int, list[tuple[int, str]]] = {}
    for fact in facts:
        if isinstance(fact, Reading) and fact.evidence:
            start, _ = tokens_of(talk, fact)
            measured.setdefault(talk.utterance_of[start], []).append((start, fact.id))
    return measured


def _linked(talk: Talk, step: Done, measured: dict[int, list[tuple[int, str]]]) -> tuple[str, ...]:
    """Return the readings that a setting, a torque or a fill was done to."""
    if step.verb not in MEASURED:
        return ()
    listed = measured.get(talk.utterance_of[step.start], [])
    return tuple(name for start, name in listed if start >= step.start)


def _fact(talk: Talk, same: list[Done], measured: dict[int, list[tuple[int, str]]]) -> Action:
    first = same[0]
    return Action(
        verb=first.verb,
        object=first.object.name,
        where=first.object.where,
        using=next((step.using for step in same if step.using), ""),
        linked=tuple(name for step in same for name in _linked(talk, step, measured)),
        evidence=tuple(talk.evidence(step.start, step.stop) for step in same),
        rule=first.rule,
        confidence=0.7 if first.weak else 0.9,
    )
