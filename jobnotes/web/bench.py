"""The bench's pages and what its phone sends: pieces of sound, their end, photos."""

import hashlib
import re
from pathlib import Path
from typing import Any

from pydantic import ValidationError
from starlette.exceptions import HTTPException
from starlette.responses import JSONResponse, Response

from jobnotes.desk import Desk
from jobnotes.web import incoming, pieces, shown
from jobnotes.web.pieces import Piece, TakeEnd
from jobnotes.web.site import Ask, go, page
from jobnotes.web.understood import cards, photo_doubts

PART_S = 180
"""Seconds after which the phone starts its recorder anew: what is lost if its file breaks."""

MOST_JOBS = 12
MOST_LINES = 30
_UNSAFE = re.compile(r"[^\w .()-]")


def start(ask: Ask) -> Response:
    """Offer a new job and the newest jobs, and get ready to hear which."""
    ask.site.listening.warm_up()
    return page(ask, "bench_start.html", jobs=ask.desk.store.list(limit=MOST_JOBS))


def start_job(ask: Ask) -> Response:
    """Start a job in the name of whoever holds the phone."""
    machine = ask.form.get("machine", "").strip()[:200]
    return go(f"/bench/{ask.desk.new(machine).id}")


def bench(ask: Ask) -> Response:
    """Show the one job on the bench, with the control to record."""
    ask.site.listening.warm_up()
    return page(ask, "bench.html", **heard_now(ask), part_s=PART_S)


def heard(ask: Ask) -> Response:
    """Show what was heard so far, as a part of the page that the phone asks for anew."""
    return page(ask, "heard.html", **heard_now(ask))


def heard_now(ask: Ask) -> dict[str, Any]:
    """Return what the page shows of a job: as far as it is spoken, where somebody speaks."""
    job, worker = ask.desk.load(ask.part("job")), ask.site.worker
    take = ask.site.listening.of(job.id)
    known = (take and take.job) or job
    return {
        "job": job,
        "live": take is not None,
        "lines": shown.lines(known)[-MOST_LINES:],
        "cards": cards(known),
        "questions": known.questions,
        "photos": photo_doubts(job),
        "busy": worker.busy(job.id),
        "said": worker.said.get(job.id, "") or (take.told if take else ""),
    }


def keep_piece(ask: Ask) -> Response:
    """Keep one piece and acknowledge it; the same piece may come again."""
    job = ask.desk.load(ask.part("job"))
    folder = pieces.take_folder(_data(ask.desk), job.id, ask.part("take"))
    offset = ask.request.headers.get("x-offset", "")
    if not re.fullmatch(r"[0-9]{1,12}", offset):
        raise HTTPException(422, "X-Offset must tell the bytes before this piece.")
    sha256 = ask.request.headers.get("x-sha256", "")
    part, number = int(ask.part("part")), int(ask.part("number"))
    if max(part, number) >= pieces.MOST_PIECES:
        raise HTTPException(422, "There are too many pieces.")
    pieces.keep(folder, Piece(part, number, int(offset), sha256), ask.body)
    ask.site.listening.add(ask.desk, job.id, folder, part)
    return JSONResponse({"part": part, "number": number, "sha256": sha256})


def end_take(ask: Ask) -> Response:
    """Close a take if every piece is here, and have it taken in; else say which are missing."""
    job = ask.desk.load(ask.part("job"))
    folder = pieces.take_folder(_data(ask.desk), job.id, ask.part("take"))
    try:
        end = TakeEnd.model_validate_json(ask.body)
    except ValidationError as error:
        raise HTTPException(422, error.errors()[0]["msg"]) from error
    if not any(part.pieces for part in end.parts) or pieces.is_taken_in(folder):
        return JSONResponse({"missing": []}, 202)
    if gaps := pieces.missing(folder, end):
        return JSONResponse({"missing": gaps}, 409)
    pieces.close(folder, end)
    ask.site.listening.end(folder)
    incoming.queue_take(ask.site, job.id, folder)
    return JSONResponse({"missing": []}, 202)


def keep_photo(ask: Ask) -> Response:
    """Keep a photo among what waits for the worker, under its hash; it may come again."""
    job, sha256 = ask.desk.load(ask.part("job")), ask.part("sha256")
    if hashlib.sha256(ask.body).hexdigest() != sha256:
        raise HTTPException(422, "The photo arrived damaged. It is sent again from the phone.")
    name = safe_name(ask.request.headers.get("x-name", ""), "photo.jpg")
    incoming.keep_files(ask.site, job.id, {name: ask.body})
    return JSONResponse({"sha256": sha256}, 201)


def add_files(ask: Ask) -> Response:
    """Take in files that were sent with an ordinary form, from the office or the bench."""
    job = ask.desk.load(ask.part("job"))
    names = [safe_name(one.filename or "", f"file-{n}") for n, one in enumerate(ask.files)]
    contents = [one.file.read() for one in ask.files]
    incoming.keep_files(ask.site, job.id, dict(zip(names, contents, strict=True)))
    office = ask.session is not None and ask.session.role == "office"
    return go(f"/jobs/{job.id}" if office else f"/bench/{job.id}")


def run_stages(ask: Ask) -> Response:
    """Have the stages run again."""
    job = ask.desk.load(ask.part("job"))
    incoming.queue_run(ask.site, job.id)
    return go(f"/jobs/{job.id}")


def safe_name(name: str, otherwise: str) -> str:
    """Return the last part of a name with nothing in it that a file system or page minds."""
    last = _UNSAFE.sub("_", name.replace("\\", "/").rpartition("/")[2])[-80:].lstrip(". ")
    return last or otherwise


def _data(desk: Desk) -> Path:
    return desk.settings.data_folder
