from pathlib import Path

import numpy as np
import pytest

from jobnotes.errors import DictationError
from jobnotes.intake.audio import blocks
from jobnotes.live.source import Block, FileSource
from jobnotes.live.tape import Tape
from jobnotes.speech.voice import voice_in
from jobnotes.spool.spool import left_in

BLOCK = np.arange(1600, dtype=np.int16)


def test_each_block_can_be_read_back_as_soon_as_it_is_added(tmp_path):
    tape = Tape(tmp_path, "2026-0001")
    for count in (1, 2, 3):
        tape.add(Block(BLOCK))
        (left,) = left_in(tmp_path)
        assert left.length_s == pytest.approx(count / 10)


def test_an_ended_tape_says_so_and_one_that_was_left_does_not(tmp_path):
    for name in ("ended", "left"):
        (tmp_path / name).mkdir()
        tape = Tape(tmp_path / name, "2026-0001")
        tape.add(Block(BLOCK))
        tape.end() if name == "ended" else tape.leave()
        assert left_in(tmp_path / name)[0].ended == (name == "ended")


def test_a_fresh_file_begins_where_nobody_speaks(tmp_path, audio):
    tape = Tape(tmp_path, "2026-0001", fresh_s=5.0)
    for block in FileSource(audio / "readings.ogg", speed=1e6).blocks():
        tape.add(block)
    tape.end()
    first, *_ = files = left_in(tmp_path)
    assert first.ended
    assert 6.08 < first.length_s < 7.5  # the pause after the second sentence; tests/audio/README.md
    whole = next(blocks(audio / "readings.ogg", 60.0))
    spoken = [stretch for left in files for stretch in voice_in(next(blocks(left.path, 60.0)))]
    assert len(spoken) == len(voice_in(whole))


def test_no_sample_is_lost_or_doubled_between_two_files(tmp_path):
    tape, sound = Tape(tmp_path, "2026-0001", fresh_s=0.5), np.arange(24000, dtype=np.int16)
    for part in np.split(sound, 15):
        tape.add(Block(part))
    tape.end()
    files = left_in(tmp_path)
    read = np.concatenate([np.round(next(blocks(f.path, 60.0)) * 32768) for f in files])
    assert len(files) > 1
    assert np.array_equal(read.astype(np.int16), sound)


def test_lost_sound_ends_a_file_as_broken_off_and_begins_another(tmp_path):
    tape = Tape(tmp_path, "2026-0001")
    tape.add(Block(BLOCK))
    tape.add(Block(BLOCK, gap=True))
    tape.end()
    assert [left.ended for left in left_in(tmp_path)] == [False, True]


def test_a_folder_that_takes_nothing_is_told_in_plain_words(tmp_path: Path):
    with pytest.raises(DictationError, match="cannot be written"):
        Tape(tmp_path / "none", "2026-0001")
