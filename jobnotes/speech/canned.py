"""A recogniser that hears what it is told to: for tests, and for trying things without weights."""

from dataclasses import dataclass

from jobnotes.record import Word
from jobnotes.speech.engine import Heard, Samples


@dataclass(frozen=True)
class CannedRecogniser:
    """Hears the given words in every sound, whatever is in it."""

    words: tuple[Word, ...]

    @classmethod
    def saying(cls, text: str, breath_s: float = 1.0, word_s: float = 0.4) -> "CannedRecogniser":
        """Make one from lines of text: each line a breath, words `word_s` long, pauses between."""
        words: list[Word] = []
        now = 0.0
        for line in text.splitlines():
            for said in line.split():
                words.append(_word(len(words), said, now, now + word_s))
                now += word_s
            now += breath_s
        return cls(tuple(words))

    def hear(self, samples: Samples) -> Heard:
        """Return the given words."""
        return Heard(self.words)


def _word(index: int, text: str, start_s: float, end_s: float) -> Word:
    return Word(recording="", index=index, text=text, start_s=start_s, end_s=end_s)
