"""Typed lines in place of a recording."""

from collections.abc import Iterator
from pathlib import Path

from jobnotes.errors import EmptyFileError, FormatError
from jobnotes.record import Job, Recording, Utterance, Word

TEXT_NAME = ".txt"
LONGEST = 300  # words of one utterance; nobody says more in a breath


def read_text(path: Path) -> str:
    """Return the text of a file; raises FormatError where it is not UTF-8."""
    try:
        return path.read_text("utf-8-sig")
    except UnicodeDecodeError as error:
        raise FormatError(f"{path.name} is not a text in UTF-8.") from error


def typed(job: Job, text: str, name: str = "typed", sha256: str = "") -> Job:
    """Add lines of text to a job as if spoken: an utterance a line, empty lines passed over.

    A line longer than anybody speaks in one breath becomes several utterances. Words are split at
    white space and have no seconds (0.0), since nobody spoke them. Raises EmptyFileError for a
    text without words.
    """
    lines = [breath for line in text.splitlines() for breath in _breaths(line.split())]
    if not lines:
        raise EmptyFileError("There is no word in the text.", "Write a line for each remark.")
    number = f"r{len(job.recordings) + 1}"
    recording = Recording(id=number, name=name, sha256=sha256, format="text")
    words = [
        Word(recording=recording.id, index=index, text=word, start_s=0.0, end_s=0.0)
        for index, word in enumerate(word for line in lines for word in line)
    ]
    return job.having(
        recordings=(*job.recordings, recording),
        words=(*job.words, *words),
        utterances=(*job.utterances, *_utterances(recording.id, lines)),
    )


def _breaths(words: list[str]) -> Iterator[list[str]]:
    """Part a line after at most LONGEST words, after a punctuation mark where there is one."""
    begin = 0
    while begin < len(words):
        end = begin + LONGEST
        if end < len(words):
            marks = (n for n in range(end, end - LONGEST // 2, -1) if words[n - 1][-1] in ".,;:!?")
            end = next(marks, end)
        yield words[begin:end]
        begin = end


def _utterances(recording: str, lines: list[list[str]]) -> list[Utterance]:
    utterances: list[Utterance] = []
    first = 0
    for index, line in enumerate(lines):
        last = first + len(line) - 1
        utterances.append(Utterance(recording=recording, index=index, first=first, last=last))
        first = last + 1
    return utterances
