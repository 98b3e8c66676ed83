"""A machine over its jobs: the same reading, taken time after time."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from jobnotes.checks.names import key_words
from jobnotes.numbers.convert import convert
from jobnotes.record import Cause, Complaint, Fact, Job, Reading, State
from jobnotes.report.english import capital, clean, joined
from jobnotes.report.figures import reading_figure
from jobnotes.report.limits import comparable


@dataclass(frozen=True)
class Taken:
    """One reading of a series: `value` is in the unit of the series, `text` as said with its unit.

    `doubtful` ones carry an open flag: they are told and never drawn.
    """

    job: str
    day: date
    phase: str
    text: str
    value: float
    doubtful: bool

    @property
    def words(self) -> str:
        """Return the figure with whatever must be known of it."""
        phase = f" {self.phase} the repair" if self.phase else ""
        return f"{self.text}{phase}{', in doubt' if self.doubtful else ''}"


@dataclass(frozen=True)
class Series:
    """The same reading over several jobs, oldest first; `name` tells where and when as well."""

    name: str
    taken: tuple[Taken, ...]

    @property
    def sure(self) -> tuple[Taken, ...]:
        """Return the readings without an open flag."""
        return tuple(one for one in self.taken if not one.doubtful)

    @property
    def words(self) -> str:
        """Return in words what a drawing of the series shows: its first and last figure."""
        if len({one.job for one in self.sure}) < 2:
            return ""
        return f"{self.name}: from {self._placed[0]} to {self._placed[-1]}."

    @property
    def alt(self) -> str:
        """Return what stands for the drawing where it cannot be seen: every figure in it."""
        return f"{self.name}, drawn as a line: {'; '.join(self._placed)}."

    @property
    def _placed(self) -> list[str]:
        return [f"{one.words} on {one.day} (job {one.job})" for one in self.sure]


@dataclass(frozen=True)
class Visit:
    """One job of a machine in a line."""

    job: str
    day: date
    complaint: str
    cause: str


def visits(jobs: Iterable[Job]) -> tuple[Visit, ...]:
    """Return the jobs of a machine, oldest first, with what it came in for and what was wrong."""
    return tuple(
        Visit(job.id, day_of(job), _told(job, Complaint), _told(job, Cause))
        for job in sorted(jobs, key=_age)
    )


def series(jobs: Iterable[Job]) -> tuple[Series, ...]:
    """Return what was measured on more than one job, in the order of the first job's words.

    Readings belong together that name the same thing, place, moment and setting, in units that
    convert; before and after a repair share a series. Rejected readings are left out.
    """
    groups: list[list[tuple[Job, Reading]]] = []
    for job in sorted(jobs, key=_age):
        for reading in _readings(job):
            group = next((g for g in groups if _same(g[0][1], reading)), None)
            if group is None:
                groups.append([(job, reading)])
            else:
                group.append((job, reading))
    return tuple(_series(group) for group in groups if len({job.id for job, _ in group}) > 1)


def day_of(job: Job) -> date:
    """Return the day on which the last words were recorded, or the job was started."""
    recorded = [recording.started_at for recording in job.recordings if recording.started_at]
    return max((moment.date() for moment in recorded), default=job.created_at.date())


def _age(job: Job) -> tuple[date, str]:
    return day_of(job), job.id


def _told(job: Job, kind: type[Complaint | Cause]) -> str:
    return joined([capital(clean(fact.text)) for fact in _standing(job) if isinstance(fact, kind)])


def _standing(job: Job) -> list[Fact]:
    return [fact for fact in job.facts if fact.state is not State.REJECTED]


def _readings(job: Job) -> list[Reading]:
    return [fact for fact in _standing(job) if isinstance(fact, Reading)]


def _same(one: Reading, other: Reading) -> bool:
    return comparable(one.unit, other.unit) and _named(one) == _named(other)


def _named(reading: Reading) -> tuple[frozenset[str], ...]:
    told = (reading.what, reading.where, reading.when, reading.setting)
    return tuple(key_words(text) for text in told)


def _series(group: Sequence[tuple[Job, Reading]]) -> Series:
    first = group[0][1]
    told = (capital(clean(first.what)), first.where, first.when, first.setting)
    name = ", ".join(clean(text) for text in told if clean(text))
    return Series(name, tuple(_taken(job, reading, first.unit) for job, reading in group))


def _taken(job: Job, reading: Reading, unit: str) -> Taken:
    same = reading.unit == unit
    value = reading.value if same else convert(reading.value, reading.unit, unit)
    return Taken(
        job=job.id,
        day=day_of(job),
        phase=reading.phase,
        text=reading_figure(reading),
        value=float(value),
        doubtful=bool(reading.open_flags),
    )
