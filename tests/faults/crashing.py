"""Kill an operation, or let the disk fail, at each of its write points; see what the shop holds."""

import hashlib
import os
import pickle
import shutil
import signal
import traceback
from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from functools import partial
from itertools import count
from pathlib import Path
from typing import Any, NamedTuple

from operations import Operation, Place
from write_points import KILL, TORN, Fault

from jobnotes.errors import BackupError, JobnotesError, KnownJobError
from jobnotes.pipeline import NAMES
from jobnotes.record import Job
from jobnotes.store.issued import issued_of
from jobnotes.store.store import Store

_STRAY = "is left over from a copy that was cut short; it may be deleted."
_MOMENTS = {"at", "created_at", "started_at"}  # when something happened differs each time
_LOCKS = ("lock", ".lock", "watch", "-wal", "-shm")
_CUT_SHORT = ".part"  # a hidden file that a kill may leave; it never has a name that is read


class Ended(NamedTuple):
    """How a child ended: its answer, the number of its signal, or its traceback."""

    answer: Any
    killed: int
    why: str


def in_child(work: Callable[[], Any]) -> Ended:
    """Run some work in a fork, which may be killed."""
    reader, writer = os.pipe()
    child = os.fork()
    if not child:
        os.close(reader)
        os._exit(_answered(work, writer))
    os.close(writer)
    with os.fdopen(reader, "rb") as told:
        said = told.read()
    _, status = os.waitpid(child, 0)
    if os.WIFSIGNALED(status):
        return Ended(None, os.WTERMSIG(status), "")
    answer, why = pickle.loads(said)
    return Ended(answer, 0, why)


def _answered(work: Callable[[], Any], writer: int) -> int:
    with os.fdopen(writer, "wb") as out:  # opened before any fault can come
        try:
            said = work(), ""
        except BaseException:  # noqa: BLE001 - the parent is told of whatever went wrong
            said = None, traceback.format_exc()
        out.write(pickle.dumps(said))
    return 0


def tried(
    operation: Operation, scratch: Path, kinds: Sequence[str], every: int = 1
) -> Iterator[list[str]]:
    """Let a fault of each kind come at every `every`-th point; yield what is wrong after each."""
    template = Place(scratch / "template")
    template.folder.mkdir()
    made = in_child(partial(_done, operation.prepare, template))
    assert not made.why, made.why
    before = _seen(_copy(template, scratch))
    once = _done_once(operation, template, scratch)
    for number in count(1, every):
        for kind in kinds:
            place = _copy(template, scratch)
            ended = in_child(partial(_struck, operation, place, Fault(kind, number)))
            if not ended.killed and not ended.why and not ended.answer:
                return
            yield [ended.why] if ended.why else _wrong(operation, place, before, once)


def _done(work: Callable[[Place], object], place: Place) -> None:
    work(place)


def _done_once(operation: Operation, template: Place, scratch: Path) -> dict[str, Any]:
    place = _copy(template, scratch)
    ended = in_child(partial(_done, operation.act, place))
    assert not ended.why, ended.why
    return _seen(place)


def _copy(template: Place, scratch: Path) -> Place:
    place = scratch / "place"
    shutil.rmtree(place, ignore_errors=True)
    shutil.copytree(template.folder, place)
    return Place(place)


def _struck(operation: Operation, place: Place, fault: Fault) -> bool:
    """Do the operation with a fault; return whether that came. An error of ours is as it should."""
    fault.install()
    with suppress(JobnotesError):
        operation.act(place)
    if fault.at == fault.seen + 1 and fault.kind in (KILL, TORN):
        os.kill(os.getpid(), signal.SIGKILL)  # all is done, and nobody has been told
    return fault.seen >= fault.at


def _wrong(
    operation: Operation, place: Place, before: dict[str, Any], once: dict[str, Any]
) -> list[str]:
    """Open the shop as the next command does, do the operation again where that is meant."""
    ended = in_child(partial(_after_kill, operation, place, before))
    if ended.why:
        return [ended.why]
    after, again, wrong = ended.answer
    wrong += [] if operation.erases else [f"{one} was lost" for one in _lost(before, after)]
    if operation.whole and not _alike(after, before) and not _alike(after, once):
        wrong.append(f"it is half done: {_difference(once, after)}")
    if again and not _alike(again, once):
        wrong.append(f"done again: {_difference(once, again)}")
    problems = (again or after)["problems"]
    return wrong + [problem for problem in problems if not problem.endswith(_STRAY)]


def _after_kill(
    operation: Operation, place: Place, before: dict[str, Any]
) -> tuple[dict[str, Any], dict[str, Any] | None, list[str]]:
    after, again = _state(place), None
    wrong = operation.check(place)
    if operation.repeats or _alike(after, before):
        with suppress(KnownJobError, BackupError):  # all of it came in before the kill
            operation.act(place)
        _run_what_failed(place)
        again = _state(place)
        wrong += operation.check(place)
    return after, again, wrong


def _run_what_failed(place: Place) -> None:
    """Do what the program asks for where a stage of a job did not finish."""
    desk = place.desk()
    for line in desk.jobs():
        if any(not run.done and run.stage in NAMES for run in desk.load(line.id).stages):
            desk.run(line.id)


def _seen(place: Place) -> dict[str, Any]:
    """Open a shop as the next command does, and return all that it holds."""
    ended = in_child(partial(_state, place))
    assert not ended.why, ended.why
    return ended.answer


def _state(place: Place) -> dict[str, Any]:
    desk = place.desk()
    jobs = {line.id: desk.load(line.id) for line in desk.jobs()}
    return {
        "jobs": {name: _comparable(job) for name, job in jobs.items()},
        "issued": {name: _issued(desk.store, name) for name in jobs},
        "originals": {path.name for path in _files(desk.media.folder) if path.suffix != ".part"},
        "problems": desk.problems(),
        "beside": _beside(place),
        "given": {path.name: _hash(path) for path in _files(place.given)},
    }


def _issued(store: Store, job: str) -> list[tuple[int, str]]:
    return [(one.version, one.sha256) for one in issued_of(store, job)]


def _beside(place: Place) -> list[str]:
    """Return the files of a shop other than its store and its originals."""
    folder = place.settings.data_folder
    files = (path.relative_to(folder) for path in _files(folder))
    kept = (path for path in files if path.parts[0] not in ("originals", "jobs.db"))
    return sorted(str(path) for path in kept if not path.name.endswith((*_LOCKS, _CUT_SHORT)))


def _files(folder: Path) -> list[Path]:
    return sorted(path for path in folder.rglob("*") if path.is_file())


def _hash(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def _comparable(job: Job) -> Any:
    """Return a job as JSON, without what differs each time: moments, and what rests on them."""
    told = _without_moments(job.model_dump(mode="json"))
    for recording in told["recordings"]:
        if recording["name"].startswith("dictation-"):
            recording |= {"name": "dictation", "sha256": ""}
    for photo in told["photos"]:  # a stage that ran later adds its flags later
        photo["flags"].sort(key=lambda flag: (flag["by"], flag["code"]))
    return told


def _without_moments(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _without_moments(one) for key, one in value.items() if key not in _MOMENTS}
    return [_without_moments(one) for one in value] if isinstance(value, list) else value


def _lost(before: dict[str, Any], after: dict[str, Any]) -> list[str]:
    gone = sorted(before["originals"] - after["originals"])
    jobs = sorted(before["jobs"].keys() - after["jobs"].keys())
    given = [name for name, told in before["given"].items() if after["given"].get(name) != told]
    return [*gone, *jobs, *given]


def _alike(one: dict[str, Any], other: dict[str, Any]) -> bool:
    return all(one[name] == other[name] for name in ("jobs", "issued", "beside"))


def _difference(wanted: Any, found: Any, at: str = "") -> str:
    """Say where two states differ first."""
    if isinstance(wanted, dict) and isinstance(found, dict):
        for key in sorted({*wanted, *found}, key=str):
            if wanted.get(key) != found.get(key):
                return _difference(wanted.get(key), found.get(key), f"{at}/{key}")
    if isinstance(wanted, list) and isinstance(found, list) and len(wanted) == len(found):
        for n, (one, other) in enumerate(zip(wanted, found, strict=True)):
            if one != other:
                return _difference(one, other, f"{at}/{n}")
    return f"{at}: {str(wanted)[:300]} became {str(found)[:300]}"
