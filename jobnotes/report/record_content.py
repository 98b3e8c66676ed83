"""What the job record tells: all that the shop, a maker or the next technician must know of a job.

Unlike the customer's story it holds what is proposed, private or in doubt too, each marked as such.
"""

from collections.abc import Sequence
from dataclasses import replace

from jobnotes.photos.clock_notes import clock_notes
from jobnotes.pipeline import incomplete
from jobnotes.record import Job, State
from jobnotes.report.english import capital, clean, rules
from jobnotes.report.limits import verdicts
from jobnotes.report.machine import series
from jobnotes.report.pictures import picture
from jobnotes.report.record_form import Chapter, Record
from jobnotes.report.record_rows import CHAPTERS, Source, open_points
from jobnotes.report.record_trace import reviewed, said_at
from jobnotes.report.spans import place
from jobnotes.report.story import Picture, Sentence, Shop

UNTRACED = ("open", "photos", "history", "sources")


def record(job: Job, shop: Shop, earlier: Sequence[Job] = ()) -> Record:
    """Return the record of a job, whatever its state; rejected facts are only counted.

    `earlier` are other jobs of the same machine, whose readings are set beside those of this one.
    """
    kept = [fact for fact in job.facts if fact.state is not State.REJECTED]
    facts = tuple(sorted(kept, key=lambda fact: place(job, fact.evidence)))
    history = series((*earlier, job)) if earlier else ()
    source = Source(job, facts, verdicts(job, facts), history)
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


def _notes(source: Source) -> tuple[str, ...]:
    open_ones = len(list(open_points(source)))
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


def _chapter(source: Source, key: str) -> Chapter:
    form = rules("record")[key]
    return Chapter(
        key=key,
        title=form["title"],
        lead=" ".join(clock_notes(source.job)) if key == "photos" else form.get("lead", ""),
        heads=tuple(form["heads"]),
        rows=tuple(CHAPTERS[key](source)),
        pictures=_pictures(source.job) if key == "photos" else (),
        plots=tuple(s for s in source.history if s.words) if key == "history" else (),
        traced=key not in UNTRACED,
    )


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
