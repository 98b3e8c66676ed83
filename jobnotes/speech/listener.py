"""Windows of speech through a Whisper model, with numbers in words or in figures."""

import tomllib
import unicodedata
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from enum import Enum
from functools import cache, partial
from importlib.resources import files
from itertools import chain, groupby
from pathlib import Path
from typing import Any, TypeVar

import numpy as np
from ctranslate2 import StorageView  # type: ignore[import-untyped]
from faster_whisper import WhisperModel  # type: ignore[import-untyped]
from faster_whisper.audio import pad_or_trim  # type: ignore[import-untyped]
from faster_whisper.tokenizer import Tokenizer  # type: ignore[import-untyped]

from jobnotes.errors import SpeechModelError
from jobnotes.record import Word
from jobnotes.speech.engine import Said, Samples
from jobnotes.speech.opinion import said_words
from jobnotes.speech.windows import Window

_BEAM = 3  # hypotheses kept: no worse than 5 on 3 hours of speech; 1 lost a line in ten
# Windows in one batch: encoding needs memory for each, decoding reads all weights for each token.
_ENCODED_AT_ONCE, _DECODED_AT_ONCE = 1, 4
_FRAMES_A_SECOND = 100
FILLED_S = 30.0  # what the models were trained on
_MOST_TOKENS = 224  # half the decoder's length; 28 s of quick speech are about 120
# A glance is filled up with silence to so many seconds; with less there was more misheard.
_GLANCE_S, _SILENCE_AFTER_S = 10.0, 1.0
_TOKENS_A_SECOND, _TOKENS_AT_LEAST = 8, 16  # of a glance; quick speech has about 4 a second


_T = TypeVar("_T")


class Way(Enum):
    """How a second opinion writes numbers: in words, or as the model likes, in figures."""

    WORDS = 1
    FIGURES = 2


@dataclass(frozen=True)
class Take:
    """What one window gave: words with seconds of the sound, and the model's own measures.

    `no_speech` is the probability of silence, `likelihood` the mean log probability of a token.
    `opinion` is the same sound heard once more, quickly, where that was asked for.
    """

    words: tuple[Word, ...]
    no_speech: float
    likelihood: float
    opinion: tuple[Said, ...] = ()


class Listener:
    """A loaded model; the same sound always gives the same words (no sampling)."""

    def __init__(self, folder: Path, workers: int) -> None:
        """Load the weights of a folder, 8-bit, for `workers` batches heard at the same time.

        Each has one thread: many threads in one batch wait for each other a fifth of their time.
        """
        self._workers = workers
        try:
            self._model = WhisperModel(
                str(folder), device="cpu", compute_type="int8", cpu_threads=1, num_workers=workers
            )
        except (RuntimeError, ValueError) as error:
            raise SpeechModelError(f"The speech weights in {folder} do not load.") from error
        multilingual = self._model.model.is_multilingual
        self._tokenizer = Tokenizer(
            self._model.hf_tokenizer, multilingual, task="transcribe", language="en"
        )
        marks = set(self._tokenizer.non_speech_tokens)
        self._marks = sorted(marks)
        self._marks_and_figures = sorted(marks | set(_figure_tokens(self._tokenizer)))

    def listen(self, samples: Samples, windows: Sequence[Window]) -> list[Take]:
        """Hear each window with care, numbers in words, and once more quickly in figures."""
        return self._in_batches(partial(self._takes, samples), windows)

    def opine(self, samples: Samples, windows: Sequence[Window]) -> list[tuple[Said, ...]]:
        """Hear each window quickly, numbers in words."""
        return self._in_batches(partial(self._opinions_of, samples), windows)

    def glance(self, samples: Samples, window: Window) -> Take:
        """Hear a window once, greedily, numbers in words, in time that goes with its length.

        The window is not filled up to the 30 s that the model was trained on.
        """
        filled_s = max(_GLANCE_S, window.length_s + _SILENCE_AFTER_S)
        sound = self._encoded(samples, [window], filled_s)
        most = _TOKENS_AT_LEAST + int(_TOKENS_A_SECOND * window.length_s)
        (found,) = self._generate(sound, 1, Way.WORDS, beam=1, most=most)
        (words,) = self._timed(sound, [window], [found])
        said = said_words(self._tokenizer, found.sequences_ids[0], found.logits[0])
        return Take(_as_sure(words, said), found.no_speech_prob, found.scores[0])

    def _in_batches(
        self, hear: Callable[[Sequence[Window]], list[_T]], windows: Sequence[Window]
    ) -> list[_T]:
        size = min(_DECODED_AT_ONCE, -(-len(windows) // self._workers)) or 1
        batches = [windows[start : start + size] for start in range(0, len(windows), size)]
        with ThreadPoolExecutor(self._workers) as pool:
            return list(chain.from_iterable(pool.map(hear, batches)))

    def _encoded(
        self, samples: Samples, windows: Sequence[Window], filled_s: float = FILLED_S
    ) -> Any:
        """Encode windows, each filled up with silence to `filled_s` seconds."""
        extract, frames = self._model.feature_extractor, _frames(filled_s)
        cuts = [extract(window.cut(samples))[..., :-1] for window in windows]
        features = [pad_or_trim(cut, frames) for cut in cuts]
        firsts = range(0, len(features), _ENCODED_AT_ONCE)
        parts = [np.stack(features[n : n + _ENCODED_AT_ONCE]) for n in firsts]
        sounds = [np.array(self._model.encode(part)) for part in parts]
        return StorageView.from_array(np.concatenate(sounds))

    def _takes(self, samples: Samples, windows: Sequence[Window]) -> list[Take]:
        sound = self._encoded(samples, windows)
        found = self._generate(sound, len(windows), Way.WORDS, beam=_BEAM)
        timed = self._timed(sound, windows, found)
        opinions = self._opinions(sound, len(windows), Way.FIGURES)
        return [
            Take(words, one.no_speech_prob, one.scores[0], opinion)
            for words, one, opinion in zip(timed, found, opinions, strict=True)
        ]

    def _opinions_of(self, samples: Samples, windows: Sequence[Window]) -> list[tuple[Said, ...]]:
        return self._opinions(self._encoded(samples, windows), len(windows), Way.WORDS)

    def _opinions(self, sound: Any, count: int, way: Way) -> list[tuple[Said, ...]]:
        found = self._generate(sound, count, way, beam=1)
        return [said_words(self._tokenizer, one.sequences_ids[0], one.logits[0]) for one in found]

    def _generate(
        self, sound: Any, count: int, way: Way, beam: int, most: int = _MOST_TOKENS
    ) -> list[Any]:
        tokenizer, before = self._tokenizer, _said_before() if way is Way.WORDS else ""
        prompt = [tokenizer.sot_prev, *tokenizer.encode(f" {before}")] if before else []
        prompt += [*tokenizer.sot_sequence, tokenizer.no_timestamps]
        found: list[Any] = self._model.model.generate(
            sound,
            [prompt] * count,
            beam_size=beam,
            suppress_tokens=self._marks_and_figures if way is Way.WORDS else self._marks,
            return_scores=True,
            return_no_speech_prob=True,
            return_logits_vocab=beam == 1,
            max_length=len(prompt) + most,
        )
        return found

    def _timed(
        self, sound: Any, windows: Sequence[Window], found: Sequence[Any]
    ) -> list[tuple[Word, ...]]:
        """Tie the words of each window to seconds, by the attention of the decoder."""
        tokens = [[t for t in one.sequences_ids[0] if t < self._tokenizer.eot] for one in found]
        frames = [int(window.length_s * _FRAMES_A_SECOND) for window in windows]
        aligned = self._model.find_alignment(self._tokenizer, tokens, sound, frames)
        return [_words(window, pieces) for window, pieces in zip(windows, aligned, strict=True)]


def _frames(length_s: float) -> int:
    """Return the frames of some seconds: an even number, as the encoder halves them."""
    return min(int(FILLED_S * _FRAMES_A_SECOND), 2 * int(length_s * _FRAMES_A_SECOND / 2))


@cache
def _said_before() -> str:
    text = files("jobnotes.speech").joinpath("style.toml").read_text(encoding="utf-8")
    return str(tomllib.loads(text)["said_before"])


def _figure_tokens(tokenizer: Any) -> list[int]:
    """Every token that writes a figure, or a mark which goes with figures."""
    decode = tokenizer.tokenizer.decode
    return [token for token in range(tokenizer.eot) if any(map(_is_figure, decode([token])))]


def _is_figure(sign: str) -> bool:
    return sign in "%°" or sign.isnumeric() or unicodedata.category(sign) == "Sc"


def _words(window: Window, pieces: Sequence[dict[str, Any]]) -> tuple[Word, ...]:
    """Join the pieces of a word; one that has no space before it belongs to the last."""
    number = 0
    numbered: list[tuple[int, dict[str, Any]]] = []
    for piece in pieces:
        number += piece["word"].startswith(" ")
        numbered.append((number, piece))
    groups = [[p for _, p in group] for _, group in groupby(numbered, key=lambda pair: pair[0])]
    said = [group for group in groups if any(_is_said(piece) for piece in group)]
    return tuple(_word(n, window, group) for n, group in enumerate(said))


def _as_sure(words: Sequence[Word], said: Sequence[Said]) -> tuple[Word, ...]:
    """Give words the probabilities with which they were chosen.

    Those of the alignment count figures, which were not to be had, among the rivals of a number.
    """
    if [word.text for word in words] != [one.text for one in said]:
        return tuple(words)
    pairs = zip(words, said, strict=True)
    return tuple(word.having(probability=one.probability) for word, one in pairs)


def _is_said(piece: dict[str, Any]) -> bool:
    return any(sign.isalnum() for sign in piece["word"])


def _word(index: int, window: Window, pieces: Sequence[dict[str, Any]]) -> Word:
    """Make a word; its seconds leave out punctuation, which reaches over the pause that follows."""
    said = [piece for piece in pieces if _is_said(piece)]
    start_s, end_s = window.place(float(said[0]["start"]), float(said[-1]["end"]))
    return Word(
        recording="",
        index=index,
        text="".join(piece["word"] for piece in pieces).strip(),
        start_s=round(start_s, 2),
        end_s=round(end_s, 2),
        probability=round(min(float(piece["probability"]) for piece in said), 3),
    )
