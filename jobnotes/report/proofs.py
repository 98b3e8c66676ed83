"""The readings that prove a finding: taken in the same breath, of the same thing, told once."""

from collections.abc import Mapping, Sequence

from jobnotes.checks.names import key_words
from jobnotes.checks.verdict import Verdict
from jobnotes.record import AnyFact, Finding, Job, Reading
from jobnotes.report.english import clean
from jobnotes.report.figures import reading_figure, spec_figure
from jobnotes.report.languages.english import ENGLISH
from jobnotes.report.languages.lists import listed
from jobnotes.report.languages.messages import say
from jobnotes.report.languages.tongue import Tongue
from jobnotes.report.spans import breaths
from jobnotes.report.story import Sentence


def proofs(job: Job, facts: Sequence[AnyFact]) -> dict[str, tuple[Reading, ...]]:
    """Share out the readings to the findings, by ids; each proves the one it fits best."""
    findings = [fact for fact in facts if isinstance(fact, Finding) and not fact.negated]
    shared: dict[str, tuple[Reading, ...]] = {}
    for reading in (fact for fact in facts if isinstance(fact, Reading)):
        about = [one for one in findings if _is_about(job, one, reading)]
        if about:
            best = max(about, key=lambda one: _fit(one, reading))
            shared[best.id] = (*shared.get(best.id, ()), reading)
    return shared


def _is_about(job: Job, finding: Finding, reading: Reading) -> bool:
    """Say whether a reading was said in the finding's breath about the thing that it names."""
    thing, place = key_words(f"{finding.what} {finding.where}"), key_words(reading.where)
    named = bool(key_words(finding.what) & key_words(reading.what)) and place <= thing
    return named and bool({*breaths(job, finding.evidence)} & {*breaths(job, reading.evidence)})


def _fit(finding: Finding, reading: Reading) -> tuple[int, int]:
    """Rate how much of a reading's name the finding has, and how little else."""
    thing, name = key_words(finding.what), key_words(reading.what)
    return len(thing & name), -len(thing - name)


def proven(
    said: Sentence,
    what: str,
    readings: Sequence[Reading],
    verdicts: Mapping[str, Verdict],
    tongue: Tongue = ENGLISH,
) -> Sentence:
    """Add to a finding of a thing what was measured, and what it should have been."""
    if not readings:
        return said
    ids = list(said.facts)
    for reading in readings:
        held = verdicts.get(reading.id)
        ids += [reading.id, *([held.spec.id] if held and held.spec.id else [])]
    figures = listed(_measured(readings, what, tongue), tongue.code)
    limits = _should(readings, verdicts, tongue)
    message = "measured-against" if limits else "measured"
    text = say(tongue.code, message, finding=said.text, figures=figures, limits=limits)
    return Sentence(text, tuple(dict.fromkeys(ids)))


def _measured(readings: Sequence[Reading], what: str, tongue: Tongue) -> list[str]:
    """Return the figures, each with as much of its name as the finding has not just said."""
    told: list[str] = []
    before = ""
    for reading in readings:
        named = _quantity(reading, what)
        figure = reading_figure(reading, tongue.code)
        if named is None:
            told.append(f"{figure} ({tongue.name(reading.what)})")
        elif named and named != before:
            told.append(say(tongue.code, "figure-of", name=tongue.one(named), figure=figure))
        else:
            told.append(figure)
        before = named or ""
    return told


def _quantity(reading: Reading, what: str) -> str | None:
    """Return the end of a reading's name that a finding of `what` lacks ("gap"), else None."""
    words = [word for word in clean(reading.what).split() if word != "measurement"]
    rest = [word for word in words if not key_words(word) <= key_words(what)]
    return " ".join(rest) if rest == words[len(words) - len(rest) :] else None


def _should(readings: Sequence[Reading], verdicts: Mapping[str, Verdict], tongue: Tongue) -> str:
    """Say what all should have been, where the same limits hold for all."""
    held = [verdicts.get(reading.id) for reading in readings]
    figures = {spec_figure(one.spec, tongue.code) if one else "" for one in held}
    return figures.pop() if len(figures) == 1 else ""
