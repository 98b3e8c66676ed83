"""Marks on a photo: the page to draw them, by pointer or by typed places, and their two steps."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from starlette.exceptions import HTTPException
from starlette.responses import Response

from jobnotes.errors import ReviewError
from jobnotes.photos.marks import lines, part
from jobnotes.record import Job, Mark, Photo
from jobnotes.review import events
from jobnotes.web.site import Ask, page

SHAPES = ("circle", "arrow", "box", "crop")
ENDS = ("left", "top", "right", "bottom")
MOST = 12
"""Marks on one photo: more would hide it; no source."""

LEAST = 1.0  # percent of the picture: a slip of the finger draws less


@dataclass(frozen=True)
class Drawn:
    """A mark as the page shows it: its SVG path over the whole photo, and its ends in percent."""

    shape: str
    path: str
    ends: tuple[int, ...]


def marks_page(
    ask: Ask,
    photo_id: str,
    status: int = 200,
    wrong: str = "",
    form: Mapping[str, str] | None = None,
) -> Response:
    """Show a whole photo under its marks, and the form for one more."""
    job, revision = ask.desk.store.load(ask.part("job"))
    photo = next((one for one in job.photos if one.id == photo_id), None)
    if photo is None:
        raise HTTPException(404, "This job has no such photo.")
    return page(
        ask, "marks.html", status, job=job, revision=revision, photo=photo, drawn=drawn(photo),
        shapes=SHAPES, ends=ENDS, wrong=wrong, typed=form or {}, chosen="",
        full=len(photo.marks) >= MOST,
    )  # fmt: skip


def show(ask: Ask) -> Response:
    """Show the page of a photo's marks."""
    return marks_page(ask, ask.part("photo"))


def drawn(photo: Photo) -> tuple[Drawn, ...]:
    """Return the marks of a photo, each over the whole of it; a crop is the box that it keeps."""
    return tuple(
        Drawn(
            mark.shape, _path(_seen(mark), photo), tuple(round(100 * _end(mark, e)) for e in ENDS)
        )
        for mark in photo.marks
    )


@dataclass(frozen=True)
class View:
    """What a page shows of a photo: the size that a crop leaves, and the marks as one SVG path."""

    width: int
    height: int
    path: str


def view(photo: Photo) -> View:
    """Return a photo as a page shows it."""
    kept = part(photo.marks)
    width, height = (
        max(1, round(side * share))
        for side, share in ((photo.width, kept.wide), (photo.height, kept.tall))
    )
    return View(width, height, _svg(lines(photo.marks, width, height)))


def _seen(mark: Mark) -> Mark:
    return mark.having(shape="box") if mark.shape == "crop" else mark


def _path(mark: Mark, photo: Photo) -> str:
    return _svg(lines([mark], photo.width, photo.height))


def _svg(drawn_lines: Sequence[Sequence[tuple[float, float]]]) -> str:
    return " ".join("M" + "L".join(f"{x:.0f} {y:.0f}" for x, y in line) for line in drawn_lines)


def _end(mark: Mark, name: str) -> float:
    value: float = getattr(mark, name)
    return value


def add(job: Job, photo_id: str, form: Mapping[str, str], who: str, at: datetime) -> Job:
    """Put one more mark on a photo; a new crop takes the place of the old."""
    shape, photo = form.get("shape", ""), _photo(job, photo_id)
    if shape not in SHAPES:
        raise ReviewError(f"There is no mark '{shape}'.", "Load the page anew.")
    left, top, right, bottom = (_percent(form, name) for name in ENDS)
    flat = abs(right - left) < LEAST or abs(bottom - top) < LEAST
    if flat if shape != "arrow" else (left, top) == (right, bottom):
        raise ReviewError("The mark has no extent.", "Draw it larger.")
    new = Mark(
        shape=shape,
        left=left / 100, top=top / 100, right=right / 100, bottom=bottom / 100,
    )  # fmt: skip
    kept = [one for one in photo.marks if shape != "crop" or one.shape != "crop"]
    if len(kept) >= MOST:
        raise ReviewError(f"The photo has {MOST} marks already.", "Take one off first.")
    return events.mark(job, photo_id, who, at, (*kept, new))


def take_off(job: Job, photo_id: str, form: Mapping[str, str], who: str, at: datetime) -> Job:
    """Take one mark off a photo, by its number from 0."""
    told, marks = form.get("number", ""), _photo(job, photo_id).marks
    number = int(told) if told.isascii() and told.isdigit() and len(told) < 4 else len(marks)
    if number >= len(marks):
        raise ReviewError("The photo has no such mark.", "Load the page anew.")
    return events.mark(job, photo_id, who, at, (*marks[:number], *marks[number + 1 :]))


def _photo(job: Job, photo_id: str) -> Photo:
    for photo in job.photos:
        if photo.id == photo_id:
            return photo
    raise ReviewError(f"Job {job.id} has no photo '{photo_id}'.")


def _percent(form: Mapping[str, str], name: str) -> float:
    try:
        value = float(form.get(name, ""))
    except ValueError:
        value = -1.0
    if not 0 <= value <= 100:
        raise ReviewError(f"'{name}' is no place on the photo.", "Type 0 to 100.")
    return value
