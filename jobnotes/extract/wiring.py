"""Connections as spoken: from where to where, the wire's colour, its connector, what it is for."""

from functools import cache

from jobnotes.extract.clauses import ENDS
from jobnotes.extract.complaints import complaint_tokens
from jobnotes.extract.cues import Cue, cues
from jobnotes.extract.modality import withdrawn_tokens
from jobnotes.extract.private import private_utterances
from jobnotes.extract.talk import Talk
from jobnotes.extract.things import heard
from jobnotes.extract.vocabulary import rules, words
from jobnotes.record import AnyFact, Wiring

FARTHEST = 7  # words that name one end of a wire


def find(talk: Talk, facts: tuple[AnyFact, ...]) -> tuple[AnyFact, ...]:
    """Return the connections; a measurement between two points is none."""
    withdrawn = withdrawn_tokens(talk, facts)
    found = (
        _in_utterance(talk, n) for n in range(len(talk.starts)) if n not in private_utterances(talk)
    )
    return tuple(
        wire for wires in found for wire in wires if not withdrawn.issuperset(_tokens(talk, wire))
    )


def _tokens(talk: Talk, wire: Wiring) -> range:
    said = wire.evidence[0]
    return range(said.first, said.last + 1)


def _in_utterance(talk: Talk, number: int) -> tuple[Wiring, ...]:
    said = talk.utterance(number)
    if said.start in complaint_tokens(talk) or cues(talk, "wiring.measured", said.start, said.end):
        return ()
    found = []
    for start, stop in _stretches(talk, said.start, said.end):
        wire = _wire_in(talk, start, stop)
        if wire:
            found.append(wire)
    return tuple(found)


def _stretches(talk: Talk, start: int, stop: int) -> list[tuple[int, int]]:
    """Cut at marks before each colour, so that a list of wires gives one stretch each."""
    cuts = [start]
    for place in range(start + 1, stop):
        joined = words(talk)[place - 1] == "and" and words(talk)[place - 2] in _set("colours")
        parted = words(talk)[place - 1] in ENDS | {"and"} and not joined
        if parted and _colour_stop(talk, place, stop) > place:
            cuts.append(place)
    return list(zip(cuts, [*cuts[1:], stop], strict=True))


@cache
def _set(name: str) -> frozenset[str]:
    return frozenset(rules("wiring")[name].split())


def _colour_stop(talk: Talk, place: int, stop: int) -> int:
    """Return where a colour ("blue with a white stripe") that begins at `place` ends."""
    texts = words(talk)
    place += texts[place] in ("the", "a")
    if place >= stop or texts[place] not in _set("colours"):
        return place - 1
    end = place + 1
    while end < stop and texts[end] in _set("colours") | _set("joined") | {"a", "/"}:
        end += 1
    while end > place + 1 and texts[end - 1] in ("a", "and", "with"):
        end -= 1
    return end


def _wire_in(talk: Talk, start: int, stop: int) -> Wiring | None:
    texts = words(talk)
    at = next((n for n in range(start, stop) if _colour_stop(talk, n, stop) > n), None)
    named = at is not None or any(text in _set("wires") for text in texts[start:stop])
    goes = next(iter(cues(talk, "wiring.goes", start, stop)), None) or _colour_to(talk, at, stop)
    if not named or goes is None or not _of_wire(talk, goes, start):
        return None
    first, second = _ends(talk, goes, start, stop)
    if not second:
        return None
    colour = _colour(talk, at, stop) if at is not None else ""
    return Wiring(
        from_point=first,
        to_point=second,
        colour=colour,
        connector=_connector(talk, start, stop),
        purpose=_purpose(talk, goes.stop, stop),
        evidence=(talk.evidence(start, _without_mark(talk, start, stop)),),
        rule=goes.rule,
    )


def _colour_to(talk: Talk, at: int | None, stop: int) -> Cue | None:
    """Read "black to negative" in an utterance that says something was wired."""
    if at is None:
        return None
    end = _colour_stop(talk, at, stop)
    said = talk.utterance(talk.utterance_of[at])
    wired = cues(talk, "wiring.wired", said.start, said.end)
    joined = end + 1 < stop and words(talk)[end] == "to"
    return Cue(end, end + 1, "wiring.wired") if wired and joined else None


def _of_wire(talk: Talk, goes: Cue, start: int) -> bool:
    """A bare "from" or "between" tells a connection only right after the wire is named."""
    if words(talk)[goes.start] not in ("from", "between") or goes.stop - goes.start > 1:
        return True
    light = _set("colours") | _set("joined") | {"the", "a"}
    if set(words(talk)[start : goes.start]) <= light:
        return True
    return any(
        text in _set("wires") for text in words(talk)[max(goes.start - 2, start) : goes.start]
    )


def _without_mark(talk: Talk, start: int, stop: int) -> int:
    while stop > start + 1 and words(talk)[stop - 1] in ENDS | {"and"}:
        stop -= 1
    return stop


def _colour(talk: Talk, at: int, stop: int) -> str:
    at += words(talk)[at] in ("the", "a")
    return heard(talk, at, _colour_stop(talk, at, stop))


def _ends(talk: Talk, goes: Cue, start: int, stop: int) -> tuple[str, str]:
    """Return both ends: "from A to B", "between A and B", or what the wire itself goes to."""
    texts = words(talk)
    link = "and" if texts[goes.start] == "between" else "to"
    begins = goes.stop if texts[goes.stop - 1] in ("from", "between", "off") else None
    if begins is not None:
        middle = next((n for n in range(begins + 1, stop) if texts[n] == link), None)
        first = _point(talk, begins, middle if middle is not None else stop)
        return (
            (first, _point(talk, middle + 1, stop))
            if middle is not None
            else (first, _subject(talk, start, goes.start))
        )
    return _subject(talk, start, goes.start), _point(talk, goes.stop, stop)


def _point(talk: Talk, start: int, stop: int) -> str:
    """Return the words for one end of the wire, without the article."""
    texts = words(talk)
    start += start < stop and texts[start] in ("the", "a", "its")
    end = next(
        (
            n
            for n in range(start, min(start + FARTHEST, stop))
            if texts[n] in ENDS | {"for", "which", "and", "that", "with"}
        ),
        min(start + FARTHEST, stop),
    )
    return heard(talk, start, end)


def _subject(talk: Talk, start: int, stop: int) -> str:
    """Return what the wire starts at; the wire itself (colour and "wire") is no point."""
    texts = words(talk)
    light = (
        _set("colours")
        | _set("joined")
        | _set("wires")
        | {"the", "a", "wired", "connected", "hooked", "is", "'s", "it", "that", "one", "and", ","}
    )
    kept = [n for n in range(start, stop) if texts[n] not in light]
    return heard(talk, kept[0], kept[-1] + 1) if kept else ""


def _connector(talk: Talk, start: int, stop: int) -> str:
    """Return the connector with what tells it ("four pin connector", "pin two")."""
    texts = words(talk)
    for place in range(start, stop):
        if texts[place] in _set("connectors"):
            begin = place
            while (
                begin > start
                and begin > place - 4
                and texts[begin - 1]
                not in {"the", "a", "to", "at", "in", "on", "from", "of", *ENDS}
            ):
                begin -= 1
            return heard(talk, begin, place + 1)
        if texts[place] == "pin" and place + 1 < stop:
            return heard(talk, place, place + 2)
    return ""


def _purpose(talk: Talk, start: int, stop: int) -> str:
    for cue in cues(talk, "wiring.purpose", start, stop):
        end = next((n for n in range(cue.stop, stop) if words(talk)[n] in ENDS), stop)
        return heard(talk, cue.stop, end)
    return ""
