"""Decoding in a process of its own: a file can do no more than end that process."""

import os
import signal
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from PIL import Image

from jobnotes.contained import child, parent
from jobnotes.contained.parent import answer, answers
from jobnotes.errors import DamagedFileError, TooLargeError

pytestmark = pytest.mark.skipif(os.name != "posix", reason="only a POSIX system limits a process")


@pytest.fixture(autouse=True)
def _fresh() -> Iterator[None]:
    parent._end_idle()
    yield
    parent._end_idle()


@pytest.fixture
def photo(tmp_path: Path) -> Path:
    path = tmp_path / "a.jpg"
    Image.effect_noise((320, 240), 80).convert("RGB").save(path)
    return path


def look(path: Path) -> bytes:
    return answer("look", path.name, str(path), path.name)


def process_id() -> int:
    return parent._idle.queue[-1].pid


def test_one_process_answers_one_after_another(photo: Path) -> None:
    first = look(photo)
    asked = process_id()
    assert look(photo) == first
    assert process_id() == asked


def test_a_process_that_was_ended_meanwhile_is_started_anew(photo: Path) -> None:
    first = look(photo)
    os.kill(process_id(), signal.SIGKILL)
    parent._idle.queue[-1].wait()
    assert look(photo) == first


def test_what_needs_too_much_memory_is_refused_and_the_next_is_read(
    photo: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(parent, "MEMORY", 1 << 30)
    large = tmp_path / "large.png"
    Image.new("L", (14_000, 13_000)).save(large, compress_level=1)
    with pytest.raises((TooLargeError, DamagedFileError)):
        answer("print", large.name, str(large), 100, [])
    assert look(photo)


class Hostile:
    """Stands in for a library that meets a file which breaks it."""

    def __init__(self, folder: Path, does: str) -> None:
        (folder / "hostile.py").write_text(
            f"import os, time\ndef work(name):\n    {does}\n    yield b''\n"
        )
        code = (
            f"import sys; sys.path.insert(0, {str(folder)!r})\n"
            "from jobnotes.contained import child\n"
            "child.WORKS['hostile'] = 'hostile:work'\n"
            "child.CPU_S = child.WAIT_S = 1\n"
            "child.main()"
        )
        self.command = [sys.executable, "-P", "-c", code]


@pytest.mark.parametrize(
    ("does", "error"),
    [
        ("os.kill(os.getpid(), 11)", DamagedFileError),
        ("os._exit(0)", DamagedFileError),
        ("raise KeyError(name)", DamagedFileError),
        ("time.sleep(30)", TooLargeError),
        ("[0 for n in iter(int, 1)]", TooLargeError),
        ("bytearray(2 << 30)", TooLargeError),
        (
            "open('/dev/shm/x' if os.path.exists('/dev/shm') else 'x', 'w').write('x' * 9999)",
            DamagedFileError,
        ),
    ],
)
def test_a_file_that_breaks_its_decoder_is_refused_by_name(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, photo: Path, does: str, error: type[Exception]
) -> None:
    with monkeypatch.context() as patch:
        patch.setattr(parent, "_COMMAND", Hostile(tmp_path, does).command)
        patch.setattr(parent, "MEMORY", 1 << 30)
        with pytest.raises(error):
            answer("hostile", "bad.wav", "bad.wav")
    assert look(photo)


def test_an_answer_that_nobody_reads_to_its_end_leaves_the_next_one_whole(photo: Path) -> None:
    sound = Path(__file__).parents[1] / "audio" / "readings.ogg"
    blocks = answers("blocks", sound.name, str(sound), "ogg", 0.1)
    next(blocks)
    blocks.close()
    assert look(photo)


@pytest.mark.skipif(not Path("/proc/self/limits").exists(), reason="only Linux tells the limits")
def test_the_process_may_write_no_file_and_has_its_share_of_memory(photo: Path) -> None:
    look(photo)
    told = Path(f"/proc/{process_id()}/limits").read_text()
    limits = {line[:26].strip(): line[26:].split()[0] for line in told.splitlines()}
    assert limits["Max file size"] == "0"
    assert limits["Max address space"] == str(parent.MEMORY)


def test_every_piece_of_work_is_there() -> None:
    assert all(callable(child._function(work)) for work in child.WORKS)
