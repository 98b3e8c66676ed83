"""The shop's desk: its settings, its jobs and its originals, opened together."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import partial
from itertools import groupby, product
from pathlib import Path
from urllib.parse import quote

from jobnotes import pipeline
from jobnotes.bundle.pack import pack
from jobnotes.bundle.unpack import receive
from jobnotes.checks.spec_book import BookedSpec, read_book
from jobnotes.checks.stage import check
from jobnotes.errors import BrokenWorkError, InputError, JobnotesError, OutputError, SettingsError
from jobnotes.intake.take_in import take_in
from jobnotes.photos.apart import for_print
from jobnotes.record import Issued, Job, Language, Machine, Photo, Recording
from jobnotes.report.billing import billing_csv
from jobnotes.report.content import story
from jobnotes.report.forms import by_ending, printed
from jobnotes.report.job_file import dump
from jobnotes.report.languages.choice import tongue
from jobnotes.report.languages.shop_terms import read_terms
from jobnotes.report.output import write
from jobnotes.report.record_content import record
from jobnotes.report.story import Shop, Story
from jobnotes.review import whole
from jobnotes.running import Saving, hear, parts_of, run_later
from jobnotes.settings import Settings, keep, load
from jobnotes.spool.spool import Left, dropped, held, left_in, waits_in
from jobnotes.spool.taking import begun, with_dictation
from jobnotes.store.issued import Advice, Version, note_answers, note_issued
from jobnotes.store.lease import holding, wait_for
from jobnotes.store.media import Media
from jobnotes.store.objects import media_at
from jobnotes.store.store import Store, Summary
from jobnotes.store.tasks import Task, ask, check_held, finish
from jobnotes.store.verify import verify

Progress = Callable[[float], None]
Tell = Callable[[str], None]


@dataclass
class Desk:
    """Everything that a change to a job needs; only `set_up` replaces the settings."""

    settings: Settings
    store: Store
    media: Media

    def new(
        self,
        machine: str = "",
        serial: str = "",
        customer: str = "",
        language: Language | None = None,
        created_at: datetime | None = None,
    ) -> Job:
        """Start a job, now or at the time given, and return it with its number."""
        blank = self.blank(machine, serial, customer, created_at)
        return self.store.create(blank.having(language=language or "")).job

    def blank(
        self,
        machine: str = "",
        serial: str = "",
        customer: str = "",
        created_at: datetime | None = None,
    ) -> Job:
        """Return a job as `new` starts it, that is not stored yet and has no number."""
        return Job(
            id="",
            created_at=created_at or datetime.now(UTC),
            customer=customer,
            technician=self.settings.technician,
            machine=Machine(description=machine, serial=serial),
        )

    def load(self, job_id: str) -> Job:
        """Return a job; raises UnknownJobError."""
        return self.store.load(job_id).job

    def jobs(self, search: str = "") -> tuple[Summary, ...]:
        """Return the newest jobs, or those that hold all words of a search."""
        return self.store.list(search)

    def change(self, job_id: str, step: Callable[[Job], Job], seen: int | None = None) -> Job:
        """Load a job, take one step and save it; raises StaleJobError if another came first.

        `seen` is the revision that the person who takes the step has looked at, where one is known.
        """
        job, revision = self.store.load(job_id)
        return self.store.save(step(job), revision if seen is None else seen).job

    def review(self, job_id: str, step: Callable[[Job], Job], seen: int | None = None) -> Job:
        """Take a step of review and check the job anew, so that a slip of the keyboard is flagged.

        `seen` is as for `change`. Raises as that does, and what the step raises.
        """
        return self.change(job_id, lambda job: check(step(job), self.spec_book()), seen)

    def add(
        self, job_id: str, paths: Sequence[Path], progress: Progress | None = None
    ) -> tuple[InputError, ...]:
        """Take files into a job, whose stages must then run again; return why any was refused."""
        job, revision = self.store.load(job_id)
        taken = take_in(job, paths, self.media, progress)
        if taken.job is not job:
            self.store.save(pipeline.to_run_again(taken.job), revision)
        return taken.refused

    def begin_dictation(self, job_id: str) -> None:
        """Mark a job as incomplete while a dictation of it is not taken in."""
        self.change(job_id, begun)

    def take_dictations(self, tell: Tell) -> None:
        """Make recordings of all that waits in the spool folder, which the caller holds.

        What cannot be taken in now stays there for the next time, and is told.
        """
        waiting = sorted(left_in(self.settings.spool_folder), key=lambda left: left.job)
        for job_id, files in groupby(waiting, key=lambda left: left.job):
            try:
                self._take_dictation(job_id, tuple(files), tell)
            except JobnotesError as error:
                tell(f"A dictation of job {job_id} waits to be taken in: {error}")

    def _take_dictation(self, job_id: str, files: Sequence[Left], tell: Tell) -> None:
        if job_id:  # a file that was cut off within its head has neither a job nor sound
            self.change(job_id, partial(with_dictation, files=files, media=self.media))
        dropped(files)
        if any(not left.ended and left.length_s for left in files):
            length_s = sum(left.length_s for left in files)
            tell(f"{length_s:.0f} s of a dictation of job {job_id} that broke off are kept in it.")

    def ask(self, job_id: str) -> None:
        """Have the stages of a job run by whichever worker is free; raises UnknownJobError."""
        ask(self.store, job_id)

    def run(
        self, job_id: str, *, hear_again: bool = False, progress: Progress | None = None
    ) -> Job:
        """Run every stage of a job, saving after each; wait for a worker who is at it already.

        Raises LostTaskError if another worker took the job up meanwhile, which finishes it.
        """
        task = wait_for(self.store, job_id, insist=hear_again)
        if task is None:
            return self.load(job_id)
        return self.work_on(task, hear_again=hear_again, progress=progress)

    def work_on(
        self, task: Task, *, hear_again: bool = False, progress: Progress | None = None
    ) -> Job:
        """Do a task that was claimed, and note that it is done; raises as `run` does.

        One that broke off too often is given up: its job is then incomplete, with the reason.
        """
        with holding(self.store, task):
            saving = Saving(self.store, partial(check_held, task=task))
            kept = self.store.load(task.job)
            if task.is_hopeless:
                error = BrokenWorkError(f"The work on it broke off {task.attempt - 1} times.")
                given_up = partial(pipeline.noted, stage=pipeline.NAMES[0], error=error)
                kept = saving.step(kept, given_up)
                finish(self.store, task, error.what)
                return kept.job
            kept = hear(saving, kept, self._hearing(kept.job, hear_again, progress), hear_again)
            kept = run_later(saving, kept, pipeline.later_stages(self.spec_book()))
            finish(self.store, task)
        return kept.job

    def _hearing(self, job: Job, again: bool, progress: Progress | None) -> pipeline.Stage:
        return pipeline.hearing(
            self.audio_path,
            self.settings.speech_model,
            allow_hub=self.settings.allow_hub,
            hear_again=again,
            progress=parts_of(job, again, progress) if progress else None,
            unfinished=self.settings.data_folder / "unfinished",
        )

    def spec_book(self) -> tuple[BookedSpec, ...]:
        """Return the shop's own specs; raises SettingsError for an entry that cannot be used."""
        return read_book(self.spec_book_file)

    @property
    def spec_book_file(self) -> Path:
        """Return where the shop's own specs are kept."""
        return self.settings.data_folder / "spec_book.toml"

    def audio_path(self, recording: Recording) -> Path:
        """Return where the original of a recording lies."""
        return self.media.path(recording.sha256)

    def shop(self) -> Shop:
        """Return whose report it is; raises SettingsError if the logo cannot be read."""
        shop, logo = self.settings.shop, self.settings.logo
        try:
            picture = logo.read_bytes() if logo else b""
        except OSError as error:
            raise SettingsError(f"The logo {logo} cannot be read: {error.strerror}.") from error
        return Shop(name=shop.name, address=shop.address, phone=shop.phone, logo=picture)

    def photo_bytes(self, photo: Photo, px: int) -> bytes:
        """Return a photo as it is shown: upright, cropped, without any of the camera's data.

        Its long side has at most `px` pixels.
        """
        return for_print(self.media.path(photo.sha256), px, photo.marks)

    def story(self, job: Job, *, draft: bool, language: Language | None = None) -> Story:
        """Return the customer's story of a job in a language, else the job's, else the shop's.

        Prices are told if the settings say so. Raises what `content.story` raises, and
        SettingsError for the shop's own terms.
        """
        chosen = language or job.language or self.settings.language
        terms = read_terms(self.settings.data_folder / "terms.toml")
        told_in = tongue(chosen, terms.get(chosen))
        prices = self.settings.print_prices
        return story(job, self.shop(), draft, prices=prices, tongue=told_in)

    def report(
        self, job: Job, out: Path, *, draft: bool, language: Language | None = None
    ) -> bytes:
        """Return the customer's story of a job in the form that a file's ending asks for.

        Raises what `story` and `printed` raise.
        """
        return self.printed(self.story(job, draft=draft, language=language), out)

    def printed(self, told: Story, out: Path) -> bytes:
        """Return a story in the form of a file's ending; raises what `forms.printed` raises."""
        return printed(told, self.photo_bytes, out, self.settings.page_size)

    def record(self, job_id: str, out: Path) -> None:
        """Write the job record as PDF or HTML, by the file's ending; raises OutputError."""
        job = self.load(job_id)
        told = record(job, self.shop(), self.earlier(job))
        write(out, printed(told, self.photo_bytes, out, self.settings.page_size))

    def of_machine(self, serial: str) -> tuple[Job, ...]:
        """Return every job of the machine of that serial number, whatever its case and marks."""
        wanted, found = _plain(serial), list[Job]()
        while wanted and (page := self.store.list(wanted, skip=len(found))):
            found += [self.load(summary.id) for summary in page]
        return tuple(job for job in found if _plain(job.machine.serial) == wanted)

    def earlier(self, job: Job) -> tuple[Job, ...]:
        """Return the jobs of a job's machine that were started before it."""
        others = self.of_machine(job.machine.serial)
        return tuple(other for other in others if other.created_at < job.created_at)

    def issued(self, job: Job, revision: int, files: Mapping[str, bytes], who: str = "") -> Version:
        """Keep a copy of each file of a report that was printed from a job, as one version of it.

        `files` are its forms by their names. Raises StaleJobError if the job moved on since that
        revision.
        """
        at, keep_file = datetime.now(UTC), self.media.keep_pieces
        kept = [Issued(at=at, name=n, sha256=keep_file([made], n)) for n, made in files.items()]
        said = self.story(job, draft=False).advice()
        advice = tuple(Advice(one.facts[0], one.text) for one in said)
        return note_issued(self.store, job, revision, kept, who, advice)

    def answered(self, job_id: str, version: int, said: Mapping[str, bool], who: str) -> Job:
        """Note what the customer says to recommendations of an issued version, by fact."""
        at = datetime.now(UTC)
        job, revision = self.store.load(job_id)
        for fact_id, yes in said.items():
            job = whole.answer(job, fact_id, who, at, yes, version)
        note_answers(self.store, job, revision)
        return job

    def set_up(self, changes: Mapping[str, str | int | bool], state: str) -> None:
        """Change the shop's settings from now on; raises as `settings.keep` does."""
        self.settings = keep(self.settings.data_folder, changes, state)

    def export(self, job_id: str, out: Path) -> None:
        """Write a job to a file whose ending says in which form; raises OutputError for others."""
        forms: dict[str, Callable[[Job], None]] = {
            ".json": lambda job: write(out, dump(job).encode()),
            ".csv": lambda job: write(out, billing_csv(job).encode()),
            ".zip": lambda job: pack(job, self.media, out),
        }
        by_ending(out, forms)(self.load(job_id))

    def export_all(self, folder: Path) -> None:
        """Write every job to a folder in each form; raises OutputError."""
        try:
            folder.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise OutputError(f"{folder} cannot be made: {error.strerror}.") from error
        skip = 0
        while page := self.store.list(skip=skip):
            skip += len(page)
            for summary, ending in product(page, (".json", ".csv", ".zip")):
                self.export(summary.id, folder / f"{quote(summary.id, safe='')}{ending}")

    def receive(self, bundle: Path) -> Job:
        """Take in the job of a bundle, whole or not at all; raises as `unpack.receive` does."""
        return receive(bundle, self.store, self.media)

    def problems(self) -> tuple[str, ...]:
        """Return what is wrong with the store and the originals, a sentence each."""
        return verify(self.store, self.media)


def open_desk(settings: Settings | None = None, tell: Tell | None = None) -> Desk:
    """Open the desk of the given settings, or of the data folder, which is made when missing.

    A dictation that a kill or a power cut ended is taken in, and `tell` is told of it. Raises
    SettingsError where the folder cannot be made, StoreError where the store does not open.
    """
    settings = settings or load()
    try:
        settings.data_folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise SettingsError(
            f"The data folder {settings.data_folder} cannot be made: {error.strerror}.",
            "Name another with JOBNOTES_HOME.",
        ) from error
    desk = Desk(
        settings, Store(settings.store_url), media_at(settings.media_place, settings.copies_folder)
    )
    if waits_in(settings.spool_folder):
        with held(settings.spool_folder) as alone:
            if alone:
                desk.take_dictations(tell or _to_nobody)
    return desk


def _to_nobody(_: str) -> None:
    """Tell nobody: the job's own flags say the same."""


def _plain(serial: str) -> str:
    """Return a serial number as it is compared: letters and figures only, without case."""
    return "".join(letter for letter in serial.casefold() if letter.isalnum())
