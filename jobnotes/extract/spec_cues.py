"""Whether a figure is what a value should be rather than what was found: cue, direction, source."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from jobnotes.extract.figures import Figure
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import rules, spelled_out, words
from jobnotes.numbers.phrases import Phrases

AFTER = 5  # tokens after a figure in which its cue must begin: "ninety is allowed"


@dataclass(frozen=True, slots=True)
class SpecCue:
    """Words at tokens `start` to `stop` that make a figure a spec; `direction` as in specs.toml."""

    start: int
    stop: int
    direction: str
    rule: str


@cache
def _lists(side: str) -> tuple[tuple[str, str, Phrases], ...]:
    return tuple(
        (
            entry["id"],
            entry["direction"],
            Phrases(spelled_out(entry["phrases"], rules("specs")["sets"])),
        )
        for entry in rules("specs")[side]
    )


@cache
def _never() -> tuple[tuple[str, str, Phrases], ...]:
    told = rules("specs")["never"]
    heads = [*told["bare"], *(f"{head} {verb}" for head in told["heads"] for verb in told["verbs"])]
    over = [f"{head} {word}" for head in heads for word in told["over"]]
    exceed = [f"{head} exceed" for head in told["heads"]]
    under = [f"{head} {word}" for head in heads for word in told["under"]]
    return ("never-over", "high", Phrases(over + exceed)), ("never-under", "low", Phrases(under))


@cache
def _plain(section: str, name: str = "phrases") -> Phrases:
    return Phrases(spelled_out(rules("specs")[section][name], rules("specs")["sets"]))


def spec_before(talk: Talk, start: int, stop: int) -> SpecCue | None:
    """Return the nearest cue within tokens start to stop that announces a spec."""
    found: SpecCue | None = None
    for cue in _cues(talk, start, stop):
        if found is None or cue.stop > found.stop:
            found = cue
    return found


def _cues(talk: Talk, start: int, stop: int) -> Iterator[SpecCue]:
    tokens = words(talk)
    place = start
    while place < stop:
        if tokens[place] not in _first_words():
            place += 1
            continue
        skipped = _plain("not").end(tokens, place)
        if skipped > place:
            place = skipped
            continue
        best = _longest(tokens, place, stop)
        if best is None:
            place += 1
            continue
        yield best
        place = best.stop


@cache
def _first_words() -> frozenset[str]:
    named = (*_lists("before"), *_never())
    lists = [*(phrases for _, _, phrases in named), _plain("not")]
    return frozenset(word for phrases in lists for word in phrases.first_words)


def _longest(tokens: tuple[str, ...], place: int, stop: int) -> SpecCue | None:
    best: SpecCue | None = None
    for name, direction, phrases in (*_lists("before"), *_never()):
        end = phrases.end(tokens, place)
        if place < end <= stop and (best is None or end > best.stop):
            best = SpecCue(place, end, direction, name)
    return best


def spec_after(talk: Talk, start: int, stop: int) -> SpecCue | None:
    """Return the cue right after a figure ("is the floor", "limit"), within the same clause."""
    tokens = words(talk)
    for place in range(start, min(stop, start + AFTER, len(tokens))):
        if tokens[place] in (",", ";", ".") and place > start:
            return None
        cue = _after_at(tokens, start, place, stop)
        if cue is not None:
            return cue
    return None


def _after_at(tokens: tuple[str, ...], start: int, place: int, stop: int) -> SpecCue | None:
    if not _nothing_said(tokens, start, place):
        return None
    for name, direction, phrases in _lists("after"):
        end = phrases.end(tokens, place)
        measured = not direction and "that" in tokens[start:place]  # "thirty, that's what it says"
        if place < end <= stop and _ends(tokens, end, place) and not measured:
            return SpecCue(place, end, direction, name)
    return None


def _ends(tokens: tuple[str, ...], end: int, place: int) -> bool:
    """Tell "and no more" from "and no more flicker"."""
    closed = end >= len(tokens) or tokens[end] in (",", ".", ";", "and", "so", "but", "or")
    return tokens[place] != "and" or closed or tokens[place + 1] not in ("no", "not", "nothing")


def _nothing_said(tokens: tuple[str, ...], start: int, stop: int) -> bool:
    """Pass over "of wear" and small words between a figure and its cue."""
    start += start < stop and tokens[start] == ","
    start += 2 * (start + 2 <= stop and tokens[start] == "of")
    return all(
        token in ("or", "so", "there", "on", "it", "that", "is", "'s", "a")
        for token in tokens[start:stop]
    )


def is_negated(talk: Talk, figure: Figure) -> bool:
    """Tell "nothing over two is okay", which turns the side of a limit round."""
    before = words(talk)[max(talk.starts[figure.utterance], figure.start - 6) : figure.start]
    return bool(set(before) & set(rules("specs")["never"]["negations"]))


def verdict_after(talk: Talk, figure: Figure) -> str:
    """Return "good" or "bad" for "under a hundred's okay" and "over ten is junk", or nothing."""
    tokens = words(talk)
    for name in ("good", "bad"):
        if _plain("judged", name).end(tokens, figure.stop) > figure.stop:
            return name
    return ""


def also_spec(talk: Talk, start: int, stop: int) -> SpecCue | None:
    """Return the remark that a figure measured or set is also what was called for."""
    tokens = words(talk)
    for place in range(start, min(stop, start + AFTER, len(tokens))):
        end = _plain("same").end(tokens, place)
        if end > place:
            return SpecCue(place, end, "", "same")
    return None


def source_in(talk: Talk, start: int, stop: int) -> str:
    """Return where a spec comes from ("book", "sticker") if the words say it."""
    sources = rules("specs")["sources"]
    for token in words(talk)[start:stop]:
        if token in sources:
            return str(sources[token])
    return ""
