"""Which part of the job sheet the speaker is filling in, where that was said."""

from bisect import bisect_right
from dataclasses import dataclass

from jobnotes.extract.cues import cues
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import group, once_a_talk, rules, words

ROLES = (
    "complaint",
    "findings",
    "work",
    "parts",
    "verification",
    "recommendations",
    "labour",
    "private",
    "cause",
    "caution",
)

SHORT = group("sections", "short")
GOES_ON = group("sections", "goes_on")


@dataclass(frozen=True)
class Section:
    """From token `start` on, the speaker fills in the part of the sheet named by `role`."""

    start: int
    stop: int
    role: str


@once_a_talk
def sections(talk: Talk) -> tuple[Section, ...]:
    """Return the sections in order; `start` is the first token of content after the heading."""
    heads = sorted(
        (cue.start, cue.stop, role) for role in ROLES for cue in cues(talk, f"sections.{role}")
    )
    ends = [*(start for start, _, _ in heads), len(talk.doc)]
    return tuple(
        Section(_after_put(talk, stop), _end(talk, start, role, ends[place + 1]), role)
        for place, (start, stop, role) in enumerate(heads)
    )


def _end(talk: Talk, start: int, role: str, limit: int) -> int:
    """Short sections end with their utterance, or with those that go on with "and"."""
    if role not in SHORT:
        return limit
    number = talk.utterance_of[start]
    while number + 1 < len(talk.starts) and words(talk)[talk.starts[number + 1]] in GOES_ON:
        number += 1
    return min(limit, talk.utterance(number).end)


def role_at(talk: Talk, token: int) -> str:
    """Return the role of the section that a token stands in, or nothing."""
    place = bisect_right(sections(talk), token, key=lambda section: section.start)
    found = sections(talk)[place - 1] if place else None
    return found.role if found and token < found.stop else ""


def _after_put(talk: Talk, token: int) -> int:
    """Pass over the words of dictation after a heading: "put", a comma, "new line"."""
    skipped = {
        word
        for rule in ("put", "layout")
        for said in rules("sections")["cues"][rule]
        for word in said.split()
    }
    while token < len(talk.doc) and words(talk)[token] in skipped | {",", ":", "."}:
        token += 1
    return token
