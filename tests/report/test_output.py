"""Files written whole or not at all."""

import os
from pathlib import Path

import pytest

from jobnotes.errors import OutputError
from jobnotes.report.output import write, writing


def test_a_file_holds_what_was_written(tmp_path):
    write(tmp_path / "a.pdf", b"one")
    write(tmp_path / "a.pdf", b"two")
    assert (tmp_path / "a.pdf").read_bytes() == b"two"


def test_nothing_else_is_left_beside_it(tmp_path):
    write(tmp_path / "a.pdf", b"one")
    assert os.listdir(tmp_path) == ["a.pdf"]


def test_a_file_that_was_there_stays_if_the_new_one_is_not_finished(tmp_path):
    write(tmp_path / "a.pdf", b"one")
    with pytest.raises(KeyError):
        cut_short(tmp_path / "a.pdf")
    assert (tmp_path / "a.pdf").read_bytes() == b"one"
    assert os.listdir(tmp_path) == ["a.pdf"]


def cut_short(out: Path) -> None:
    with writing(out) as file:
        file.write(b"half")
        raise KeyError


@pytest.mark.parametrize("name", ["none/a.pdf", "."])
def test_a_place_that_cannot_be_written_is_named(tmp_path, name):
    with pytest.raises(OutputError, match=str(tmp_path)):
        write(tmp_path / name, b"one")


def test_a_pipe_is_written_to_and_stays_a_pipe(tmp_path):
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    reader = os.open(pipe, os.O_RDONLY | os.O_NONBLOCK)
    write(pipe, b"one")
    assert os.read(reader, 9) == b"one"
    os.close(reader)
    assert Path(pipe).is_fifo()
