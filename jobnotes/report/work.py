"""Work done, in sentences: what follows on the same thing is told in one, each to its figure."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from jobnotes.checks.names import key_words
from jobnotes.numbers.units import codes, measures
from jobnotes.record import Action, AnyFact, Decision, Reading
from jobnotes.report.clauses import choice, reason
from jobnotes.report.english import capital, clean, is_plural, joined, past, rules, sentence, the
from jobnotes.report.figures import reading_figure
from jobnotes.report.places import behind
from jobnotes.report.story import Sentence

# As many deeds on one thing as a sentence holds without getting long.
TOGETHER = 3


@dataclass(frozen=True)
class Deed:
    """One deed: its verb, its thing and what follows these; `tail` is without the place."""

    verb: str
    thing: str
    where: str
    tail: str
    facts: tuple[str, ...]

    def told(self) -> str:
        """Return the deed with its thing named: "took off the lid (left)"."""
        return f"{self.verb} {the(self.thing)}".strip() + self.where + self.tail

    def told_again(self) -> str:
        """Return the deed of a thing just named: "took it off"."""
        it = "them" if is_plural(self.thing) else "it"
        base, _, particle = self.verb.rpartition(" ")
        if base and particle in rules("english")["particles"]["words"]:
            return f"{base} {it} {particle}{self.tail}"
        return f"{self.verb} {it}{self.tail}"


def steps(facts: Iterable[AnyFact], known: Mapping[str, AnyFact]) -> tuple[Sentence, ...]:
    """Return what was done and decided as sentences, in the order given.

    `known` are the facts, by id, whose figures may be told.
    """
    groups: list[list[Deed] | Sentence] = []
    for one in _once(facts, known):
        last = groups[-1] if groups else None
        if isinstance(one, Deed) and isinstance(last, list) and _joins(last, one):
            last.append(one)
        else:
            groups.append([one] if isinstance(one, Deed) else one)
    leads = iter(_leads(sum(isinstance(group, list) for group in groups)))
    return tuple(
        _sentence(group, next(leads)) if isinstance(group, list) else group for group in groups
    )


def _once(facts: Iterable[AnyFact], known: Mapping[str, AnyFact]) -> list[Deed | Sentence]:
    """Return deeds and decisions that say something, what was said twice only once."""
    found: dict[str, Deed | Sentence] = {}
    for fact in facts:
        if not isinstance(fact, (Action, Decision)):
            continue
        one = _deed(fact, known) if isinstance(fact, Action) else decision(fact)
        text = one.told() if isinstance(one, Deed) else one.text
        earlier = found[text].facts if text in found else ()
        found[text] = replace(one, facts=tuple(dict.fromkeys((*earlier, *one.facts))))
    return [one for text, one in found.items() if text]


def _joins(group: Sequence[Deed], deed: Deed) -> bool:
    """Say whether a deed goes into the sentence of those before it."""
    first = group[0]
    alike = (first.thing.lower(), first.where) == (deed.thing.lower(), deed.where)
    return (
        alike
        and bool(deed.thing)
        and len(group) < TOGETHER
        and not deed.verb.endswith(" of")
        and ":" not in group[-1].tail
        and deed.verb not in [other.verb for other in group]
    )


def _leads(count: int) -> list[str]:
    """Open the sentences so that their order is heard, without a tune."""
    if count < 3:
        return ["we"] * count
    between = ["then we" if n % 3 == 1 else "we" for n in range(count - 2)]
    return ["first we", *between, "last, we"]


def _sentence(group: Sequence[Deed], lead: str) -> Sentence:
    told = [group[0].told(), *(deed.told_again() for deed in group[1:])]
    ids = tuple(dict.fromkeys(fact for deed in group for fact in deed.facts))
    return Sentence(sentence(f"{capital(lead)} {joined(told)}"), ids)


def _deed(action: Action, known: Mapping[str, AnyFact]) -> Deed:
    """Say what was done, to what, with what, and to which figure where one is linked."""
    linked = [known[name] for name in action.linked if name in known]
    readings = [other for other in linked if isinstance(other, Reading)]
    aim = rules("english")["aims"].get(action.verb.lower(), {})
    if aim:
        readings = [other for other in readings if _is_torque(other) == bool(aim.get("torque"))]
        aim = aim if readings else {}
    verb = aim["past"] if aim else past(clean(action.verb))
    thing = clean(action.object)
    tail = _using(action.using) + _figures(readings, aim, thing)
    ids = (action.id, *(reading.id for reading in readings))
    return Deed(verb, thing, behind(action.where, thing), tail, ids)


def _figures(readings: Sequence[Reading], aim: Mapping[str, str], thing: str) -> str:
    if not readings:
        return ""
    if aim:
        return f" {aim['join']} {joined([reading_figure(reading) for reading in readings])}"
    named = [f"{_name_beside(thing, reading)}{reading_figure(reading)}" for reading in readings]
    return f": {joined(named)}"


def _is_torque(reading: Reading) -> bool:
    return reading.unit in codes() and measures(reading.unit) == "torque"


def _name_beside(thing: str, reading: Reading) -> str:
    """Name a reading, unless the thing just named says it already."""
    return "" if key_words(thing) <= key_words(reading.what) else f"{clean(reading.what)} "


def _using(using: str) -> str:
    text = clean(using)
    if not text:
        return ""
    return f" {text}" if text.split()[0].lower() in ("with", "using", "by") else f" with {text}"


def decision(fact: Decision) -> Sentence:
    """Say what was chosen, over what, and why."""
    over = joined([clean(other) for other in fact.alternatives if clean(other)], "or")
    chosen = choice(fact.chosen)
    if not chosen:
        return Sentence("", (fact.id,))
    rather = f" rather than {over}" if over else ""
    return Sentence(sentence(chosen + rather + reason(fact.because)), (fact.id,))
