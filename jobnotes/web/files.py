"""Sound, photos and reports, served as what they are and as nothing else."""

from functools import lru_cache
from pathlib import Path

from starlette.exceptions import HTTPException
from starlette.responses import FileResponse, Response

from jobnotes.photos.apart import for_print
from jobnotes.record import Issued, Job, Mark
from jobnotes.store.issued import Version, issued_of
from jobnotes.web.site import Ask

SOUND_TYPES = {
    "wav": "audio/wav", "mp3": "audio/mpeg", "m4a": "audio/mp4", "ogg": "audio/ogg",
    "flac": "audio/flac", "webm": "audio/webm",
}  # fmt: skip
"""The types that are ever sent with an original, by what its bytes were seen to be."""

FORMS = ("pdf", "html")
"""The forms in which a report is issued."""

REPORT_CSP = (
    "default-src 'none'; img-src data:; style-src 'unsafe-inline'; base-uri 'none'; "
    "form-action 'none'; frame-ancestors 'none'"
)
SCREEN_PX = 1000  # sharp at the 480 px of the page's column on a screen of twice the density


def sound(ask: Ask) -> Response:
    """Serve a recording of the job, whole or the ranges asked for (RFC 9110, 14)."""
    job = ask.desk.load(ask.part("job"))
    for recording in job.recordings:
        if recording.id == ask.part("recording") and recording.format in SOUND_TYPES:
            path = ask.desk.audio_path(recording)
            name = f"{job.id}-{recording.id}.{recording.format}"
            return FileResponse(path, media_type=SOUND_TYPES[recording.format], filename=name)
    raise HTTPException(404, "This job has no such recording.")


def photo(ask: Ask) -> Response:
    """Serve a photo drawn anew as JPEG, so that nothing of the file that came in is passed on."""
    job = ask.desk.load(ask.part("job"))
    for one in job.photos:
        if one.id == ask.part("photo"):
            path = ask.desk.media.path(one.sha256)
            marks = () if ask.query("whole") else one.marks
            return Response(_screen(path, marks), media_type="image/jpeg")
    raise HTTPException(404, "This job has no such photo.")


@lru_cache(maxsize=200)
def _screen(path: Path, marks: tuple[Mark, ...]) -> bytes:
    return for_print(path, SCREEN_PX, marks)


def issued_file(ask: Ask) -> Response:
    """Serve a form of an issued report exactly as it was frozen."""
    job = ask.desk.load(ask.part("job"))
    for one in issued_of(ask.desk.store, job.id):
        if str(one.version) == ask.part("version"):
            return frozen_answer(ask, job, one, ask.part("form"))
    raise HTTPException(404, "This job has no such report.")


def forms_of(job: Job, version: Version) -> dict[str, Issued]:
    """Return the files of an issued version by their form, as far as it was issued in that."""
    files = {Path(one.name).suffix.lstrip("."): one for one in job.reports if one.at == version.at}
    return {form: files[form] for form in FORMS if form in files}


def frozen_answer(ask: Ask, job: Job, version: Version, form: str) -> Response:
    """Return a form of an issued version; the HTML may run nothing, whatever it holds."""
    file = forms_of(job, version).get(form)
    if file is None:
        raise HTTPException(404, "This job has no such report.")
    frozen = ask.desk.media.path(file.sha256).read_bytes()
    if form == "pdf":
        return pdf_answer(frozen, f"{job.id}-report-{version.version}.pdf")
    return report_answer(frozen)


def pdf_answer(printed: bytes, name: str) -> Response:
    """Return a PDF; its name holds only what a job's number holds."""
    safe = "".join(letter for letter in name if letter.isalnum() or letter in "-._")
    head = {"Content-Disposition": f'inline; filename="{safe.encode("ascii", "ignore").decode()}"'}
    return Response(printed, media_type="application/pdf", headers=head)


def report_answer(page: bytes) -> Response:
    """Return a report's own HTML page, which holds its style and pictures and runs nothing."""
    return Response(page, media_type="text/html", headers={"Content-Security-Policy": REPORT_CSP})
