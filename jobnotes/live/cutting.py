"""Where running speech is cut, so that what has been said can be heard while more is spoken."""

from collections.abc import Sequence
from itertools import pairwise

from jobnotes.speech.engine import BREATH_S, Stretch
from jobnotes.speech.windows import LONGEST_S

KEPT_S = 0.5  # of silence before speech: a soft first sound lies in it
_MARGIN_S = 0.1  # which the detector adds to the end of a stretch


def cut_at(stretches: Sequence[Stretch], length_s: float) -> float:
    """Return the second up to which speech can be heard now, or 0.0 to wait for more.

    That is the middle of the last pause of a breath or more. Somebody who speaks for half a minute
    without one is cut at the longest pause there is.
    """
    if not stretches:
        return 0.0
    gaps = _gaps(stretches, length_s)
    pauses = [gap for gap in gaps if gap.length_s >= BREATH_S - _MARGIN_S]
    if pauses:
        return _middle(pauses[-1])
    return _middle(max(gaps, key=lambda gap: gap.length_s)) if length_s > LONGEST_S else 0.0


def silent_from(stretches: Sequence[Stretch], length_s: float) -> float:
    """Return the second up to which nobody speaks and nothing needs to be kept."""
    return max(0.0, (stretches[0].start_s if stretches else length_s) - KEPT_S)


def _gaps(stretches: Sequence[Stretch], length_s: float) -> list[Stretch]:
    """Return the silence after each stretch."""
    rest = Stretch(length_s, length_s)
    return [Stretch(one.end_s, after.start_s) for one, after in pairwise([*stretches, rest])]


def _middle(gap: Stretch) -> float:
    return (gap.start_s + gap.end_s) / 2
