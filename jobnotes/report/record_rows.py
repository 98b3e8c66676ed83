"""The rows of the job record, chapter by chapter."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from jobnotes.checks.verdict import Verdict
from jobnotes.record import (
    Action,
    AnyFact,
    Audience,
    Cause,
    Caution,
    Complaint,
    Decision,
    Finding,
    Job,
    Labour,
    Part,
    Private,
    Reading,
    Recommendation,
    Spec,
    Symptom,
    Test,
    Verification,
    Wiring,
    Withdrawn,
)
from jobnotes.report import sentences
from jobnotes.report.english import capital, clean, joined, rules, sentence
from jobnotes.report.figures import labour_time, reading_figure, spec_figure
from jobnotes.report.machine import Series
from jobnotes.report.parts import fate
from jobnotes.report.record_form import Row
from jobnotes.report.record_trace import answered, doubt, reviewed, said_at
from jobnotes.report.spans import clock
from jobnotes.report.work import steps
from jobnotes.review.whole import answers

MENTIONED = "Only mentioned"


@dataclass(frozen=True)
class Source:
    """What the chapters are told from: a job with its facts that stand, in the order said."""

    job: Job
    facts: tuple[AnyFact, ...]
    verdicts: Mapping[str, Verdict]
    history: tuple[Series, ...]


def _row(source: Source, fact: AnyFact, *cells: str) -> Row:
    return Row(
        cells=cells,
        said=said_at(source.job, fact.evidence),
        reviewed=reviewed(source.job, fact.id, fact.state),
        doubts=tuple(doubt(flag) for flag in fact.open_flags),
        private=fact.audience is Audience.OFFICE,
        facts=(fact.id,),
    )


def _texts(*kinds: type[AnyFact]) -> Callable[[Source], Iterator[Row]]:
    """Return what tells the facts of some kinds, a sentence each."""

    def tell(source: Source) -> Iterator[Row]:
        for fact in (fact for fact in source.facts if isinstance(fact, kinds)):
            yield _row(source, fact, _sentence(source, fact))

    return tell


def _advice(source: Source) -> Iterator[Row]:
    """Tell the advice, each with what the customer said to it."""
    given = answers(source.job)
    for fact in source.facts:
        if isinstance(fact, (Recommendation, Caution)):
            said = answered(given[fact.id]) if fact.id in given else ""
            yield _row(source, fact, f"{_sentence(source, fact)} {said}".strip())


def _sentence(source: Source, fact: AnyFact) -> str:
    if isinstance(fact, Symptom):
        met = "reproduced" if fact.reproduced else "not_reproduced"
        return sentence(f"{rules('record')['words'][met]}: {clean(fact.text)}")
    if isinstance(fact, Private):
        return sentence(fact.text)
    if isinstance(fact, Action):
        return "".join(one.text for one in steps((fact,), {f.id: f for f in source.facts}))
    return sentences.of(fact).text


def open_points(source: Source) -> Iterator[Row]:
    """Yield a row for each flag that is open and each question that is not answered."""
    job = source.job
    for recording in job.recordings:
        for flag in (flag for flag in recording.flags if flag.open):
            yield Row((clean(recording.name), doubt(flag)))
    for fact in source.facts:
        for flag in fact.open_flags:
            about = f"{fact.kind.capitalize()} {fact.id}: “{_heard(fact)}”"
            yield Row((about, doubt(flag)), facts=(fact.id,))
    for photo in job.photos:
        for flag in (flag for flag in photo.flags if flag.open):
            yield Row((clean(photo.name), doubt(flag)))
    yield from (Row(("Question", clean(question.ask))) for question in job.questions)


def _heard(fact: AnyFact) -> str:
    return " … ".join(clean(part.text) for part in fact.evidence)


def _tests(source: Source) -> Iterator[Row]:
    for fact in (fact for fact in source.facts if isinstance(fact, Test)):
        how, when = clean(fact.method), clean(fact.condition)
        named = how if when in how else f"{how}, {when}"
        told = (capital(named), fact.expected, fact.observed, fact.conclusion)
        yield _row(source, fact, *(clean(text) for text in told))


def _readings(source: Source) -> Iterator[Row]:
    for fact in (fact for fact in source.facts if isinstance(fact, Reading)):
        found = source.verdicts.get(fact.id)
        context = (fact.phase, clean(fact.where), clean(fact.when), clean(fact.setting))
        yield _row(
            source,
            fact,
            capital(clean(fact.what)),
            ", ".join(filter(None, context)),
            reading_figure(fact),
            spec_figure(found.spec) if found else "",
            _verdict(fact, found),
        )


def _verdict(fact: Reading, found: Verdict | None) -> str:
    """Judge in words; a figure in doubt, or held against one in doubt, is not judged."""
    if found is None:
        return ""
    words: dict[str, str] = rules("record")["verdicts"]
    if fact.open_flags or found.spec.open_flags:
        return words["doubt"]
    if found.low != found.high:
        return words[found.side]
    return words[{"within": "same", "below": "less", "above": "more"}[found.side]]


def _limits(source: Source) -> Iterator[Row]:
    said = [fact for fact in source.facts if isinstance(fact, Spec)]
    for fact in (*said, *source.job.booked):
        told = (capital(clean(fact.what)), clean(fact.where), spec_figure(fact), clean(fact.source))
        booked = Row(told, reviewed="spec book of the shop")
        yield _row(source, fact, *told) if fact.evidence else booked


def _parts(source: Source) -> Iterator[Row]:
    for fact in (fact for fact in source.facts if isinstance(fact, Part)):
        yield _row(
            source,
            fact,
            capital(clean(fact.name)),
            clean(fact.number),
            clean(fact.supersedes),
            fate(fact) or MENTIONED,
            "" if fact.quantity is None else f"{fact.quantity}",
            clean(fact.price),
        )


def _wiring(source: Source) -> Iterator[Row]:
    for fact in (fact for fact in source.facts if isinstance(fact, Wiring)):
        told = (fact.from_point, fact.to_point, fact.colour, fact.connector, fact.purpose)
        yield _row(source, fact, *(clean(text) for text in told))


def _decisions(source: Source) -> Iterator[Row]:
    for fact in (fact for fact in source.facts if isinstance(fact, Decision)):
        over = joined([clean(choice) for choice in fact.alternatives], "or")
        because = clean(fact.because).removeprefix("because ")
        yield _row(source, fact, capital(clean(fact.chosen)), over, because)


def _labour(source: Source) -> Iterator[Row]:
    for fact in (fact for fact in source.facts if isinstance(fact, Labour)):
        yield _row(source, fact, labour_time(fact), clean(fact.as_said))


def _withdrawn(source: Source) -> Iterator[Row]:
    for fact in (fact for fact in source.facts if isinstance(fact, Withdrawn)):
        yield _row(source, fact, capital(clean(fact.of)), clean(fact.text))


def _history(source: Source) -> Iterator[Row]:
    for one in source.history:
        for taken in one.taken:
            yield Row((one.name, taken.job, f"{taken.day}", taken.words))


def _sources(source: Source) -> Iterator[Row]:
    for recording in source.job.recordings:
        at = recording.started_at
        day = f"{at:%Y-%m-%d %H:%M %Z}".strip() if at else ""
        name = f"{recording.id}: {clean(recording.name)}"
        long = clock(recording.duration_s) if recording.duration_s else ""
        yield Row((name, day, long, recording.sha256))
    for report in source.job.reports:
        day = f"{report.at:%Y-%m-%d %H:%M} UTC"
        yield Row((f"Report {clean(report.name)}", day, "", report.sha256))


def _nothing(_source: Source) -> Iterator[Row]:
    return iter(())


CHAPTERS: dict[str, Callable[[Source], Iterator[Row]]] = {
    "open": open_points,
    "complaint": _texts(Complaint, Symptom),
    "cause": _texts(Cause),
    "correction": _texts(Action),
    "checked": _texts(Verification),
    "found": _texts(Finding),
    "tests": _tests,
    "readings": _readings,
    "limits": _limits,
    "parts": _parts,
    "wiring": _wiring,
    "decisions": _decisions,
    "advice": _advice,
    "labour": _labour,
    "private": _texts(Private),
    "withdrawn": _withdrawn,
    "photos": _nothing,
    "history": _history,
    "sources": _sources,
}
"""What tells each chapter, in printed order."""
