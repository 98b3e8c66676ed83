"""Work done, in sentences: what follows on the same thing is told in one, each to its figure."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from jobnotes.checks.names import key_words
from jobnotes.numbers.units import codes, measures
from jobnotes.record import Action, AnyFact, Decision, Reading
from jobnotes.report.english import capital, clean, past, rules
from jobnotes.report.languages.english import ENGLISH
from jobnotes.report.languages.lists import listed
from jobnotes.report.languages.messages import say
from jobnotes.report.languages.tongue import Deed, Tongue
from jobnotes.report.places import behind
from jobnotes.report.story import Sentence

# As many deeds on one thing as a sentence holds without getting long.
TOGETHER = 3


@dataclass(frozen=True)
class Step:
    """One deed in words, with what says whether it goes into a sentence with others."""

    verb: str
    thing: str
    where: str
    deed: Deed
    facts: tuple[str, ...]


def steps(
    facts: Iterable[AnyFact], known: Mapping[str, AnyFact], tongue: Tongue = ENGLISH
) -> tuple[Sentence, ...]:
    """Return what was done and decided as sentences, in the order given.

    `known` are the facts, by id, whose figures may be told.
    """
    groups: list[list[Step] | Sentence] = []
    for one in _once(facts, known, tongue):
        last = groups[-1] if groups else None
        if isinstance(one, Step) and isinstance(last, list) and _joins(last, one):
            last.append(one)
        else:
            groups.append([one] if isinstance(one, Step) else one)
    leads = iter(_leads(sum(isinstance(group, list) for group in groups)))
    return tuple(
        _sentence(group, next(leads), tongue) if isinstance(group, list) else group
        for group in groups
    )


def _once(
    facts: Iterable[AnyFact], known: Mapping[str, AnyFact], tongue: Tongue
) -> list[Step | Sentence]:
    """Return deeds and decisions that say something, what was said twice only once."""
    found: dict[str, Step | Sentence] = {}
    for fact in facts:
        if not isinstance(fact, (Action, Decision)):
            continue
        one = _step(fact, known, tongue) if isinstance(fact, Action) else decision(fact, tongue)
        text = one.deed.named if isinstance(one, Step) else one.text
        earlier = found[text].facts if text in found else ()
        found[text] = replace(one, facts=tuple(dict.fromkeys((*earlier, *one.facts))))
    return [one for text, one in found.items() if text]


def _joins(group: Sequence[Step], step: Step) -> bool:
    """Say whether a deed goes into the sentence of those before it."""
    first = group[0]
    alike = (first.thing.lower(), first.where) == (step.thing.lower(), step.where)
    return (
        alike
        and bool(step.thing and step.deed.again)
        and len(group) < TOGETHER
        and not step.verb.endswith(" of")
        and not group[-1].deed.closed
        and step.verb not in [other.verb for other in group]
    )


def _leads(count: int) -> list[str]:
    """Open the sentences so that their order is heard, without a tune."""
    if count < 3:
        return ["we"] * count
    between = ["then" if n % 3 == 1 else "we" for n in range(count - 2)]
    return ["first", *between, "last"]


def _sentence(group: Sequence[Step], lead: str, tongue: Tongue) -> Sentence:
    told = [group[0].deed.named, *(step.deed.again for step in group[1:])]
    ids = tuple(dict.fromkeys(fact for step in group for fact in step.facts))
    begun = capital(say(tongue.code, f"lead-{lead}"))
    return Sentence(tongue.sentence(f"{begun} {listed(told, tongue.code)}"), ids)


def _step(action: Action, known: Mapping[str, AnyFact], tongue: Tongue) -> Step:
    """Say what was done, to what, with what, and to which figure where one is linked."""
    linked = [known[name] for name in action.linked if name in known]
    readings = [other for other in linked if isinstance(other, Reading)]
    aim = rules("english")["aims"].get(action.verb.lower(), {})
    if aim:
        readings = [other for other in readings if _is_torque(other) == bool(aim.get("torque"))]
    thing = clean(action.object)
    readings = _of_thing(thing, readings)
    verb = aim["past"] if aim and readings else past(clean(action.verb))
    ids = (action.id, *(reading.id for reading in readings))
    deed = tongue.deed(action, readings)
    return Step(verb, thing, behind(action.where, thing), deed, ids)


def _of_thing(thing: str, readings: list[Reading]) -> list[Reading]:
    """Leave out readings that name another thing, where some name this one."""
    own = [one for one in readings if key_words(thing) & key_words(one.what)]
    return own or readings


def _is_torque(reading: Reading) -> bool:
    return reading.unit in codes() and measures(reading.unit) == "torque"


def decision(fact: Decision, tongue: Tongue = ENGLISH) -> Sentence:
    """Say what was chosen, over what, and why."""
    return Sentence(tongue.sentence(tongue.decision(fact)), (fact.id,))
