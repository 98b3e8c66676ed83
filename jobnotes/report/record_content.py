"""The job record as data: all that the shop, a maker or the next technician must know of a job.

Unlike the customer's story it holds what is proposed, private or in doubt too, each marked as such.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from jobnotes.checks.verdict import Verdict
from jobnotes.pipeline import incomplete
from jobnotes.record import (
    Action,
    AnyFact,
    Audience,
    Cause,
    Caution,
    Complaint,
    Decision,
    Evidence,
    Finding,
    Flag,
    Job,
    Labour,
    Part,
    Private,
    Reading,
    Recommendation,
    Spec,
    State,
    Symptom,
    Test,
    Verification,
    Wiring,
    Withdrawn,
)
from jobnotes.report import sentences
from jobnotes.report.english import capital, clean, joined, rules, sentence
from jobnotes.report.figures import labour_time, reading_figure, spec_figure
from jobnotes.report.limits import verdicts
from jobnotes.report.machine import Series, series
from jobnotes.report.parts import FATES
from jobnotes.report.pictures import picture
from jobnotes.report.spans import clock, place
from jobnotes.report.story import Picture, Sentence, Shop
from jobnotes.report.work import steps
from jobnotes.review.history import ENTER, standing

UNTRACED = ("open", "photos", "history", "sources")
MENTIONED = "Only mentioned"


@dataclass(frozen=True)
class Row:
    """One line: what is told, where it was said, who looked at it, why it is in doubt."""

    cells: tuple[str, ...]
    said: str = ""
    reviewed: str = ""
    doubts: tuple[str, ...] = ()
    private: bool = False
    facts: tuple[str, ...] = ()


@dataclass(frozen=True)
class Chapter:
    """A headed table, or the photos; `traced` chapters have the columns of source and review."""

    key: str
    title: str
    lead: str
    heads: tuple[str, ...]
    rows: tuple[Row, ...]
    pictures: tuple[Picture, ...] = ()
    plots: tuple[Series, ...] = ()
    traced: bool = True


@dataclass(frozen=True)
class Record:
    """The whole record in printed order; `about` are labels with what they stand for."""

    shop: Shop
    job: str
    title: str
    about: tuple[tuple[str, str], ...]
    notes: tuple[str, ...]
    chapters: tuple[Chapter, ...]

    def name(self) -> str:
        """Return what the record is called, in a list of files or the head of a window."""
        return f"{self.title}: job record {self.job}"


@dataclass(frozen=True)
class _Source:
    job: Job
    facts: tuple[AnyFact, ...]
    verdicts: Mapping[str, Verdict]
    history: tuple[Series, ...]


def record(job: Job, shop: Shop, earlier: Sequence[Job] = ()) -> Record:
    """Return the record of a job, whatever its state; rejected facts are only counted.

    `earlier` are other jobs of the same machine, whose readings are set beside those of this one.
    """
    kept = [fact for fact in job.facts if fact.state is not State.REJECTED]
    facts = tuple(sorted(kept, key=lambda fact: place(job, fact.evidence)))
    history = series((*earlier, job)) if earlier else ()
    source = _Source(job, facts, verdicts(job, facts), history)
    return Record(
        shop=shop,
        job=job.id,
        title=capital(clean(job.machine.description)) or f"Job {job.id}",
        about=tuple((label, text) for label, text in _about(job).items() if text),
        notes=_notes(source),
        chapters=tuple(c for key in CHAPTERS if (c := _chapter(source, key)).rows or c.pictures),
    )


def _about(job: Job) -> dict[str, str]:
    machine = job.machine
    return {
        "Job": job.id,
        "Customer": clean(job.customer),
        "Make and model": clean(f"{machine.make} {machine.model}"),
        "Serial number": clean(machine.serial),
        "Technician": clean(job.technician),
        "Started": f"{job.created_at:%Y-%m-%d}",
    }


def _notes(source: _Source) -> tuple[str, ...]:
    open_ones = len(list(_open(source)))
    rejected = len(source.job.facts) - len(source.facts)
    unread = sum(fact.state is State.PROPOSED for fact in source.facts)
    told = {
        f"{_count(open_ones, 'point is', 'points are')} still open.": open_ones,
        f"{_count(unread, 'line has', 'lines have')} not been reviewed.": unread,
        f"{_count(rejected, 'statement was', 'statements were')} rejected and left out.": rejected,
    }
    return (*incomplete(source.job), *(text for text, number in told.items() if number))


def _count(number: int, one: str, many: str) -> str:
    return f"{number} {one if number == 1 else many}"


def _chapter(source: _Source, key: str) -> Chapter:
    form = rules("record")[key]
    return Chapter(
        key=key,
        title=form["title"],
        lead=form.get("lead", ""),
        heads=tuple(form["heads"]),
        rows=tuple(CHAPTERS[key](source)),
        pictures=_pictures(source.job) if key == "photos" else (),
        plots=tuple(s for s in source.history if s.words) if key == "history" else (),
        traced=key not in UNTRACED,
    )


# --- where it was said, who looked at it ---


def _row(source: _Source, fact: AnyFact, *cells: str) -> Row:
    return Row(
        cells=cells,
        said=said_at(source.job, fact.evidence),
        reviewed=reviewed(source.job, fact.id, fact.state),
        doubts=tuple(_doubt(flag) for flag in fact.open_flags),
        private=fact.audience is Audience.OFFICE,
        facts=(fact.id,),
    )


def said_at(job: Job, evidence: Sequence[Evidence]) -> str:
    """Return recording and time of each piece of evidence: "r1 0:14, 1:05"; lines have no time."""
    typed = {recording.id for recording in job.recordings if recording.format == "text"}
    times: dict[str, dict[str, None]] = {}
    for part in evidence:
        told = times.setdefault(part.recording, {})
        told |= {} if part.recording in typed else {clock(part.start_s): None}
    return "; ".join(f"{name} {', '.join(told)}".strip() for name, told in times.items())


def reviewed(job: Job, subject: str, state: str) -> str:
    """Return what was last said of a subject, by whom and when; times are UTC."""
    steps = [event for event in standing(job) if event.subject == subject]
    if not steps:
        return rules("record")["words"]["unreviewed"] if state == State.PROPOSED else state
    last = steps[-1]
    told = rules("record")["words"]["entered"] if last.what == ENTER else state
    return f"{told}, {clean(last.who)}, {last.at:%Y-%m-%d %H:%M} UTC"


def _doubt(flag: Flag) -> str:
    options = joined([clean(option) for option in flag.options], "or")
    return f"{clean(flag.why)}{f' It may be {options}.' if len(flag.options) > 1 else ''}"


def marks(row: Row) -> tuple[str, ...]:
    """Return what a reader must know of a line before using it: doubts, and that it is private."""
    words = rules("record")["words"]
    private = (f"{words['private']}.",) if row.private else ()
    return (*(f"{words['doubt']}: {doubt}" for doubt in row.doubts), *private)


# --- the chapters ---


def _texts(*kinds: type[AnyFact]) -> Callable[[_Source], Iterator[Row]]:
    """Return what tells the facts of some kinds, a sentence each."""

    def tell(source: _Source) -> Iterator[Row]:
        for fact in (fact for fact in source.facts if isinstance(fact, kinds)):
            yield _row(source, fact, _sentence(source, fact))

    return tell


def _sentence(source: _Source, fact: AnyFact) -> str:
    if isinstance(fact, Symptom):
        met = "reproduced" if fact.reproduced else "not_reproduced"
        return sentence(f"{rules('record')['words'][met]}: {clean(fact.text)}")
    if isinstance(fact, Private):
        return sentence(fact.text)
    if isinstance(fact, Action):
        return "".join(one.text for one in steps((fact,), {f.id: f for f in source.facts}))
    return sentences.of(fact).text


def _open(source: _Source) -> Iterator[Row]:
    job = source.job
    for recording in job.recordings:
        for flag in (flag for flag in recording.flags if flag.open):
            yield Row((clean(recording.name), _doubt(flag)))
    for fact in source.facts:
        for flag in fact.open_flags:
            about = f"{fact.kind.capitalize()} {fact.id}: “{_heard(fact)}”"
            yield Row((about, _doubt(flag)), facts=(fact.id,))
    for photo in job.photos:
        for flag in (flag for flag in photo.flags if flag.open):
            yield Row((clean(photo.name), _doubt(flag)))
    yield from (Row(("Question", clean(question.ask))) for question in job.questions)


def _heard(fact: AnyFact) -> str:
    return " … ".join(clean(part.text) for part in fact.evidence)


def _tests(source: _Source) -> Iterator[Row]:
    for fact in (fact for fact in source.facts if isinstance(fact, Test)):
        how, when = clean(fact.method), clean(fact.condition)
        named = how if when in how else f"{how}, {when}"
        told = (capital(named), fact.expected, fact.observed, fact.conclusion)
        yield _row(source, fact, *(clean(text) for text in told))


def _readings(source: _Source) -> Iterator[Row]:
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


def _limits(source: _Source) -> Iterator[Row]:
    said = [fact for fact in source.facts if isinstance(fact, Spec)]
    for fact in (*said, *source.job.booked):
        told = (capital(clean(fact.what)), clean(fact.where), spec_figure(fact), clean(fact.source))
        booked = Row(told, reviewed="spec book of the shop")
        yield _row(source, fact, *told) if fact.evidence else booked


def _parts(source: _Source) -> Iterator[Row]:
    for fact in (fact for fact in source.facts if isinstance(fact, Part)):
        yield _row(
            source,
            fact,
            capital(clean(fact.name)),
            clean(fact.number),
            clean(fact.supersedes),
            FATES.get(fact.status, MENTIONED),
            "" if fact.quantity is None else f"{fact.quantity}",
            clean(fact.price),
        )


def _wiring(source: _Source) -> Iterator[Row]:
    for fact in (fact for fact in source.facts if isinstance(fact, Wiring)):
        told = (fact.from_point, fact.to_point, fact.colour, fact.connector, fact.purpose)
        yield _row(source, fact, *(clean(text) for text in told))


def _decisions(source: _Source) -> Iterator[Row]:
    for fact in (fact for fact in source.facts if isinstance(fact, Decision)):
        over = joined([clean(choice) for choice in fact.alternatives], "or")
        because = clean(fact.because).removeprefix("because ")
        yield _row(source, fact, capital(clean(fact.chosen)), over, because)


def _labour(source: _Source) -> Iterator[Row]:
    for fact in (fact for fact in source.facts if isinstance(fact, Labour)):
        yield _row(source, fact, labour_time(fact), clean(fact.as_said))


def _withdrawn(source: _Source) -> Iterator[Row]:
    for fact in (fact for fact in source.facts if isinstance(fact, Withdrawn)):
        yield _row(source, fact, capital(clean(fact.of)), clean(fact.text))


def _history(source: _Source) -> Iterator[Row]:
    for one in source.history:
        for taken in one.taken:
            yield Row((one.name, taken.job, f"{taken.day}", taken.words))


def _sources(source: _Source) -> Iterator[Row]:
    for recording in source.job.recordings:
        at = recording.started_at
        day = f"{at:%Y-%m-%d %H:%M %Z}".strip() if at else ""
        name = f"{recording.id}: {clean(recording.name)}"
        long = clock(recording.duration_s) if recording.duration_s else ""
        yield Row((name, day, long, recording.sha256))
    for report in source.job.reports:
        day = f"{report.at:%Y-%m-%d %H:%M} UTC"
        yield Row((f"Report {clean(report.name)}", day, "", report.sha256))


def _pictures(job: Job) -> tuple[Picture, ...]:
    shown = [picture(photo, number) for number, photo in enumerate(job.photos, start=1)]
    return tuple(replace(one, caption=_caption(job, one)) for one in shown)


def _caption(job: Job, shown: Picture) -> Sentence:
    """Return a photo's caption, then its file, its time, where it was spoken of and its review."""
    photo = shown.photo
    state = State.CONFIRMED if photo.matched_by == "person" else State.PROPOSED
    words: dict[str, str] = rules("record")["words"]
    told = (
        clean(photo.name),
        f"taken {photo.taken_at:%Y-%m-%d %H:%M %Z}".strip() if photo.taken_at else "",
        said_at(job, photo.evidence),
        f"{words['reviewed'].lower()}: {reviewed(job, photo.id, state)}",
        "" if photo.included else words["private"].lower(),
    )
    text = f"{shown.caption.text} ({'; '.join(filter(None, told))})"
    return Sentence(text, shown.caption.facts)


def _nothing(_source: _Source) -> Iterator[Row]:
    return iter(())


CHAPTERS: dict[str, Callable[[_Source], Iterator[Row]]] = {
    "open": _open,
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
    "advice": _texts(Recommendation, Caution),
    "labour": _labour,
    "private": _texts(Private),
    "withdrawn": _withdrawn,
    "photos": _nothing,
    "history": _history,
    "sources": _sources,
}
"""What tells each chapter, in printed order."""
