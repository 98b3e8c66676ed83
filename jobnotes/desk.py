"""The shop's desk: its settings, its jobs and its originals, opened together."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from jobnotes import pipeline
from jobnotes.checks.spec_book import BookedSpec, read_book
from jobnotes.errors import InputError, SettingsError
from jobnotes.intake.take_in import take_in
from jobnotes.photos.picture import for_print
from jobnotes.record import Job, Machine, Photo, Recording
from jobnotes.report.story import Shop
from jobnotes.settings import Settings, load
from jobnotes.store.media import Media
from jobnotes.store.store import Store, Summary
from jobnotes.store.verify import verify

Progress = Callable[[float], None]

PRINT_PX = 1400  # the longer side of a printed photo: 300 dots an inch at 118 mm


@dataclass(frozen=True)
class Desk:
    """Everything that a change to a job needs."""

    settings: Settings
    store: Store
    media: Media

    def new(self, machine: str = "", serial: str = "", customer: str = "") -> Job:
        """Start a job and return it with its number."""
        job = Job(
            id="",
            created_at=datetime.now(UTC),
            customer=customer,
            technician=self.settings.technician,
            machine=Machine(description=machine, serial=serial),
        )
        return self.store.create(job).job

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

    def add(
        self, job_id: str, paths: Sequence[Path], progress: Progress | None = None
    ) -> tuple[InputError, ...]:
        """Take files into a job, whose stages must then run again; return why any was refused."""
        job, revision = self.store.load(job_id)
        taken = take_in(job, paths, self.media, progress)
        if taken.job is not job:
            self.store.save(taken.job.having(stages=()), revision)
        return taken.refused

    def run(
        self, job_id: str, *, hear_again: bool = False, progress: Progress | None = None
    ) -> Job:
        """Run every stage of a job, saving after each."""
        job, revision = self.store.load(job_id)
        hearing = pipeline.hearing(
            self.audio_path,
            self.settings.speech_model,
            allow_hub=self.settings.allow_hub,
            hear_again=hear_again,
            progress=progress,
        )
        for step in (hearing, *pipeline.later_stages(self.spec_book())):
            job, revision = self.store.save(pipeline.run(job, [step]), revision)
        return job

    def spec_book(self) -> tuple[BookedSpec, ...]:
        """Return the shop's own specs; raises SettingsError for an entry that cannot be used."""
        return read_book(self.settings.data_folder / "spec_book.toml")

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

    def photo_bytes(self, photo: Photo) -> bytes:
        """Return a photo as it is printed: upright, marked, without any of the camera's data."""
        return for_print(self.media.path(photo.sha256), PRINT_PX, photo.marks)

    def problems(self) -> tuple[str, ...]:
        """Return what is wrong with the store and the originals, a sentence each."""
        return verify(self.store, self.media)


def open_desk(settings: Settings | None = None) -> Desk:
    """Open the desk of the given settings, or of the data folder, which is made when missing.

    Raises SettingsError where the folder cannot be made, StoreError where the store does not open.
    """
    settings = settings or load()
    try:
        settings.data_folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise SettingsError(
            f"The data folder {settings.data_folder} cannot be made: {error.strerror}.",
            "Name another with JOBNOTES_HOME.",
        ) from error
    return Desk(settings, Store(settings.store_url), Media(settings.media_folder))
