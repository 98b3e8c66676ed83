"""What the words of a running dictation mean, and what of it is new."""

from collections.abc import Callable, Iterable
from typing import NamedTuple

from jobnotes.extract.talk import talk_of
from jobnotes.photos.cues import cues
from jobnotes.record import (
    AnyFact,
    Job,
    Labour,
    Part,
    Private,
    Reading,
    Recording,
    Spec,
    Utterance,
    Withdrawn,
)
from jobnotes.speech.engine import Heard

LIVE = "live"  # the recording that the words belong to, until the files of it are taken in
_SHOWN = (Reading, Spec, Part, Labour, Private, Withdrawn)


class News(NamedTuple):
    """What a piece of speech brought: its words, whether some were not understood, its facts.

    `facts` are new or seen otherwise than before, `gone` are not seen any more; `photos` are what
    the spoken photo marks name.
    """

    at_s: float
    words: str
    lost: bool
    facts: tuple[AnyFact, ...]
    gone: tuple[AnyFact, ...]
    photos: tuple[str, ...]


class Understanding:
    """A job as far as it is understood while more is spoken; it is never stored."""

    def __init__(self, job: Job, understand: Callable[[Job], Job]) -> None:
        """Begin with what the job holds already, since a correction may be of that."""
        self._understand = understand
        self.job = understand(_with_live(job))

    def rest_on(self, job: Job) -> None:
        """Go on from the job as it is kept now: photos and recordings came while more was said."""
        words, breaths = self.job.words_of(LIVE), _breaths_of(self.job, LIVE)
        kept = _with_live(job)
        kept = kept.having(words=(*kept.words, *words), utterances=(*kept.utterances, *breaths))
        self.job = self._understand(kept)

    def hear(self, heard: Heard, at_s: float) -> News:
        """Add words that begin at a second of the dictation, and return what they brought."""
        before, self.job = self.job, self._understand(with_words(self.job, heard, at_s))
        return News(
            at_s,
            " ".join(word.text for word in heard.words),
            bool(heard.lost),
            _shown(self.job.facts, before.facts),
            _shown(before.facts, self.job.facts, by_words=True),
            _photos(self.job, len(before.words)),
        )


def _with_live(job: Job) -> Job:
    return job.having(recordings=(*job.recordings, Recording(id=LIVE, name=LIVE, format="wav")))


def _breaths_of(job: Job, recording: str) -> tuple[Utterance, ...]:
    return tuple(breath for breath in job.utterances if breath.recording == recording)


def with_words(job: Job, heard: Heard, at_s: float) -> Job:
    """Return the job with more words of the running dictation, which is its last recording."""
    from jobnotes.speech.transcribe import breaths

    first = len(job.words_of(LIVE))
    words = tuple(
        word.having(recording=LIVE, index=n, start_s=word.start_s + at_s, end_s=word.end_s + at_s)
        for n, word in enumerate(heard.words, first)
    )
    others = tuple(breath for breath in job.utterances if breath.recording != LIVE)
    known = job.having(words=(*job.words, *words))
    return known.having(utterances=(*others, *breaths(known.words_of(LIVE))))


def _shown(
    facts: Iterable[AnyFact], others: Iterable[AnyFact], by_words: bool = False
) -> tuple[AnyFact, ...]:
    """Return the facts with figures, and private remarks, that are not among the others.

    Facts rest on the same words where they have the same id.
    """
    known = {_looks(other, by_words) for other in others}
    return tuple(
        fact for fact in facts if isinstance(fact, _SHOWN) and _looks(fact, by_words) not in known
    )


def _looks(fact: AnyFact, by_words: bool) -> str:
    return fact.id if by_words else fact.model_dump_json(exclude={"evidence", "confidence"})


def _photos(job: Job, first: int) -> tuple[str, ...]:
    """Return what the photo marks among the words from position `first` on show."""
    talk = talk_of(job)
    found = (cue for cue in cues(talk) if talk.word_of[cue.start] >= first)
    return tuple(cue.said.caption if cue.said else "" for cue in found)
