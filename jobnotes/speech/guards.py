"""Guards against what recognisers invent, repeat, or leave out."""

from collections.abc import Iterable, Sequence

from jobnotes.record import Flag, Word
from jobnotes.speech.engine import BREATH_S, Stretch
from jobnotes.speech.listener import Take

# A window that is likely silence and unlikely as text holds none: the limits of Whisper's authors.
_NO_SPEECH, _LIKELIHOOD = 0.6, -1.0
_LOOP_WORDS = 8  # the longest phrase that is looked for as a loop
_SHORT_ENOUGH_S = 0.5  # of voice; below that it may be a knock or a cough
_SLOWEST = 0.7  # words a second of voice; digit by digit dictation has about 1.5
_REPEATED = Flag(
    by="speech",
    code="repetition-removed",
    why="The recogniser wrote these words over and over; the repeats were left out.",
)


def is_silence(take: Take) -> bool:
    """Tell whether the model itself took the window for silence."""
    return take.no_speech > _NO_SPEECH and take.likelihood < _LIKELIHOOD


def loop_in(words: Sequence[Word]) -> tuple[int, int, int] | None:
    """Find a phrase said over and over: where it starts, its length, where the repeats stop.

    One word must come six times running, a longer phrase four times: "four four four four" can be
    a part number.
    """
    said = [word.text.lower().strip(".,!?-") for word in words]
    for start in range(len(said)):
        for length in range(1, _LOOP_WORDS + 1):
            stop = start + length
            while said[stop : stop + length] == said[start : start + length]:
                stop += length
            if (stop - start) // length >= (6 if length == 1 else 4):
                return start, length, stop
    return None


def without_repeats(words: Sequence[Word]) -> list[Word]:
    """Return the words with a loop in them cut down to its phrase, which is flagged."""
    loop = loop_in(words)
    if loop is None:
        return list(words)
    start, length, stop = loop
    kept = [word.having(flags=(_REPEATED,)) for word in words[start : start + length]]
    return [*words[:start], *kept, *words[stop:]]


def uncovered(stretches: Sequence[Stretch], words: Sequence[Word]) -> list[Stretch]:
    """Return the breaths of speech, from first to last second, that too few words cover.

    Whole breaths are counted, as the seconds of single words are not exact to the stretch.
    """
    thin = []
    for breath in _breaths(stretches):
        whole = Stretch(breath[0].start_s, breath[-1].end_s)
        voiced_s = sum(stretch.length_s for stretch in breath)
        if voiced_s >= _SHORT_ENOUGH_S and len(within(whole, words)) < _SLOWEST * voiced_s:
            thin.append(whole)
    return thin


def _breaths(stretches: Sequence[Stretch]) -> list[list[Stretch]]:
    breaths: list[list[Stretch]] = []
    for stretch in stretches:
        if breaths and stretch.start_s - breaths[-1][-1].end_s < BREATH_S:
            breaths[-1].append(stretch)
        else:
            breaths.append([stretch])
    return breaths


def within(stretch: Stretch, words: Iterable[Word]) -> list[Word]:
    """Return the words whose middle lies in a stretch."""
    return [w for w in words if stretch.start_s <= (w.start_s + w.end_s) / 2 <= stretch.end_s]
