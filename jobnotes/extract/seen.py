"""Every state the speaker tells, in order: findings, and what proves the repair."""

from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from jobnotes.extract.clauses import Clause, clauses
from jobnotes.extract.cleared import blamed, cleared
from jobnotes.extract.complaints import complaint_tokens
from jobnotes.extract.cues import cues
from jobnotes.extract.damages import damaged
from jobnotes.extract.denials import denial
from jobnotes.extract.elided import just_named, named_before, shares_verb, starts_name
from jobnotes.extract.lexicon import Tag, tags
from jobnotes.extract.loose import loose
from jobnotes.extract.modality import in_section, is_private
from jobnotes.extract.nouns import Noun, noun_at
from jobnotes.extract.places import PLACE
from jobnotes.extract.predicates import state_of
from jobnotes.extract.said import Seen
from jobnotes.extract.same import same
from jobnotes.extract.states import State
from jobnotes.extract.steps import holds_step, step_starts
from jobnotes.extract.subjects import Subject, measurements, subject_of, topics
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import group, once_a_talk, rules, words
from jobnotes.extract.worked import fluids

SUPPOSED = group("seen", "supposed")
ELSEWHERE = ("complaint", "recommendations", "private", "labour", "caution", "parts")
OUTSIDERS = group("seen", "outsiders")

IT = group("seen", "it")
BOUNDING = group("seen", "bounding")
MACHINE = group("seen", "machine")
SPARED = group("seen", "spared")
ENGINE = group("seen", "engine")
GUESSED = ("findings.unlisted",)
JUDGED = 2  # utterances after a figure within which "so it's okay" judges it


@once_a_talk
def seen(talk: Talk) -> tuple[Seen, ...]:
    """Return every state told, in order; what adds to the one before is put together."""
    return tuple(_together(talk, _all(talk)))


def _all(talk: Talk) -> Iterator[Seen]:
    """Read clause by clause, keeping in mind the topic, what was measured, and the state before."""
    topic: Noun | None = None
    measured: Noun | None = None
    last: Seen | None = None
    here = -1
    for clause in map(partial(_past_told, talk), clauses(talk)):
        if clause.utterance != here:
            topic, here = None, clause.utterance
            last = last if last and last.clause.utterance == here - 1 else None
        if not _tells_state(talk, clause):
            yield from _harm(talk, clause)
            continue
        if holds_step(talk, clause):
            topic = last = None
            continue
        judged = measured if measured and _judges(talk, clause, measured) else topic
        found = list(_read(talk, clause, judged, last))
        yield from found
        last = found[-1] if found else last
        topic = topic if found else next(topics(talk, clause), topic)
        if not found:
            figure = topic if _has_figure(talk, clause) else None
            measured = next(measurements(talk, clause), figure or measured)


def _harm(talk: Talk, clause: Clause) -> Iterator[Seen]:
    """Give what an outsider harmed ("he stripped the thread"), though he tells no state."""
    outsider = words(talk)[clause.start] in OUTSIDERS and not _elsewhere(talk, clause)
    yield from damaged(talk, clause) if outsider else ()


def _has_figure(talk: Talk, clause: Clause) -> bool:
    """Tell a clause that begins with a figure: "compression, warm, eight point two bar"."""
    return bool(tags(talk)[clause.start] & Tag.NUMBER)


def _judges(talk: Talk, clause: Clause, measured: Noun) -> bool:
    """Tell "so it's okay" and "so they're fine", said of what was measured just before."""
    near = clause.utterance - talk.utterance_of[measured.start] <= JUDGED
    return (
        near
        and clause.link in ("so", "and so")
        and words(talk)[clause.start] in ("it", "they", "that")
    )


def _past_told(talk: Talk, clause: Clause) -> Clause:
    """Pass over "tell him", after which a finding may be told."""
    for cue in cues(talk, "recommendations.tells", clause.start, clause.stop):
        if cue.start == clause.start and cue.stop < clause.stop:
            return replace(clause, start=cue.stop)
    return clause


def _tells_state(talk: Talk, clause: Clause) -> bool:
    kinds, texts = tags(talk), words(talk)
    if _elsewhere(talk, clause):
        return False
    first = texts[_past_found(talk, clause).start]
    if clause.link in SUPPOSED or first in OUTSIDERS | SUPPOSED:
        return False
    if (
        clause.link == "so"
        and texts[clause.start] in ("it", "they", "that")
        and _purpose(talk, clause)
    ):
        return False
    advised = any(_is_modal(talk, n) for n in range(clause.start, clause.stop))
    photo = any(
        kind & Tag.PHOTO for kind in kinds[clause.start : min(clause.start + 3, clause.stop)]
    )
    fine = cues(talk, "findings.fine", clause.start, clause.stop)
    return (
        (bool(fine) or not advised)
        and not photo
        and not cues(talk, "findings.hearsay", clause.start, clause.stop)
    )


def _elsewhere(talk: Talk, clause: Clause) -> bool:
    """Tell whether a clause stands where no finding is told."""
    return (
        is_private(talk, clause)
        or in_section(talk, clause, *ELSEWHERE)
        or clause.start in complaint_tokens(talk)
    )


def _is_modal(talk: Talk, place: int) -> bool:
    """Tell "can" and "should" from "a can" and from "won't", which tells a state."""
    kind = tags(talk)[place]
    noun = place > 0 and words(talk)[place - 1] in ("a", "the")
    going = words(talk)[place] == "going" and words(talk)[place + 1 : place + 2] != ("to",)
    return bool(kind & Tag.MODAL) and not kind & Tag.NEGATION and not noun and not going


def _purpose(talk: Talk, clause: Clause) -> bool:
    """Tell "set the tension so it slips", which says what a step was for."""
    place = bisect_left(step_starts(talk), clause.start) - 1
    stepped = place >= 0 and talk.utterance_of[step_starts(talk)[place]] == clause.utterance
    after = tags(talk)[clause.start + 1 : clause.start + 2]
    return stepped and not any(kind & Tag.COPULA for kind in after)


def _read(talk: Talk, clause: Clause, topic: Noun | None, last: Seen | None) -> Iterator[Seen]:
    """Try the ways of telling a state, the surest first."""
    blame = list(blamed(talk, clause))
    if blame:
        yield from blame
        return
    denied = cleared(talk, _past_found(talk, clause)) or denial(talk, clause, topic, last)
    if denied:
        yield denied
        return
    harmed = list(damaged(talk, clause))
    if harmed:
        yield from harmed
        return
    clause = _past_found(talk, clause)
    again = same(talk, clause, last)
    if again:
        yield again
        return
    free = loose(talk, clause) if _starts_with_doing(talk, clause) else None
    if free:
        yield free
        return
    cleft = _cleft(talk, clause)
    if cleft:
        yield cleft
        return
    subject = subject_of(talk, clause, _meant_by_it(talk, clause, topic, last))
    told = list(_told(talk, clause, subject)) if subject else []
    if told:
        yield from told
        return
    elided = _elided(talk, clause, topic, last)
    if elided:
        yield elided
        return
    free = loose(talk, clause)
    if free:
        yield free


def _cleft(talk: Talk, clause: Clause) -> Seen | None:
    """Read "it's only the idler that's noisy"."""
    texts, kinds = words(talk), tags(talk)
    if texts[clause.start] not in ("it", "that") or clause.start + 1 >= clause.stop:
        return None
    place = clause.start + 1
    while place < clause.stop and kinds[place] & (Tag.COPULA | Tag.ADVERB):
        place += 1
    what = noun_at(talk, place, clause.stop) if place > clause.start + 1 else None
    if what is None or words(talk)[what.stop : what.stop + 1] != ("that",):
        return None
    state = state_of(talk, what.stop + 1, clause)
    return _seen(talk, clause, what, state) if state else None


def _starts_with_doing(talk: Talk, clause: Clause) -> bool:
    """Tell "dripping from the weep hole" and "oil leaking from the plug"."""
    texts, kinds = words(talk), tags(talk)
    place = clause.start + (texts[clause.start] in fluids())
    placed = kinds[clause.start] & Tag.DEFECT and texts[clause.start + 1 : clause.start + 2]
    if placed and placed[0] in PLACE and clause.start + 1 < clause.stop:
        return not kinds[clause.start] & Tag.HEAD
    return place < clause.stop and texts[place].endswith("ing") and bool(kinds[place] & Tag.FAULT)


def _meant_by_it(talk: Talk, clause: Clause, topic: Noun | None, last: Seen | None) -> Noun | None:
    """Return what a pronoun means: the thing told of just before, else the topic."""
    here = last is not None and last.clause.utterance == clause.utterance
    return last.what if last and here and words(talk)[clause.start] in IT else topic


def _past_found(talk: Talk, clause: Clause) -> Clause:
    """Pass over "found", "there's", "I can see" at the head of a clause."""
    for cue in cues(talk, "findings.found", clause.start, clause.stop):
        led = tags(talk)[clause.start : cue.start]
        if cue.stop < clause.stop and all(
            kind & (Tag.US | Tag.ADVERB | Tag.FILLER) for kind in led
        ):
            return replace(clause, start=cue.stop)
    return _past_adverbs(talk, _past_place(talk, clause))


def _past_place(talk: Talk, clause: Clause) -> Clause:
    """Pass over "in the sight glass" before "the oil is white" or "there's sludge"."""
    if words(talk)[clause.start] not in PLACE | {"with"}:
        return clause
    what = noun_at(talk, clause.start + 1, clause.stop)
    if what is None or what.stop >= clause.stop:
        return clause
    if words(talk)[what.stop] == "there":
        return _past_found(talk, replace(clause, start=what.stop))
    named = words(talk)[what.stop] in ("the", "its", "his", "her")
    return replace(clause, start=what.stop) if named else clause


def _past_adverbs(talk: Talk, clause: Clause) -> Clause:
    """Pass over "sure enough" before an article."""
    place = clause.start
    while place < clause.stop and tags(talk)[place] == Tag.ADVERB:
        place += 1
    named = place > clause.start and place < clause.stop and tags(talk)[place] & Tag.DETERMINER
    return replace(clause, start=place) if named else clause


def _told(talk: Talk, clause: Clause, subject: Subject) -> Iterator[Seen]:
    told = _names_component(talk, subject) or _just_holds(talk, clause, subject)
    state = state_of(talk, subject.stop, clause, told)
    state = None if state and _is_limit(talk, state) else state
    said = set(words(talk)[subject.stop : clause.stop])
    pointed = {"it", "that", "she"} & set(words(talk)[clause.start : subject.stop])
    denied = any(kind & Tag.NEGATION for kind in tags(talk)[subject.stop : subject.stop + 2])
    if not subject.own and pointed and said & (SPARED if denied else MACHINE):
        return  # "it died" tells of the machine, not of the part named last
    if state and not subject.own and said & ENGINE:
        engine = Noun(clause.start, subject.stop, "engine")
        yield _seen(talk, clause, engine, state)
        return
    if state and state.rule in GUESSED and not all(_is_component(talk, n) for n in subject.nouns):
        return
    if state and words(talk)[clause.start] == "neither":
        name = subject.nouns[0]
        text = "not " + talk.text(state.start, state.stop).strip(" ,.;:")
        rule = state.rule
        yield Seen(name, text, clause.start, state.stop, rule, not state.good, True, clause)
        return
    if state and not (not subject.own and clause.start == subject.stop):
        for what in (n for n in subject.nouns if not _is_tool(n) and not _is_person(talk, n)):
            yield _seen(talk, clause, what, state)


def _is_limit(talk: Talk, state: State) -> bool:
    """Tell "scrap under six" and "no good over ten", which give a limit."""
    kinds, texts = tags(talk), words(talk)
    return any(
        texts[n] in BOUNDING and kinds[n - 1] & Tag.STATE and kinds[n + 1] & Tag.NUMBER
        for n in range(state.start + 1, state.stop - 1)
    )


def _just_holds(talk: Talk, clause: Clause, subject: Subject) -> bool:
    """Tell "it holds", said of what this breath named."""
    short = clause.stop - subject.stop == 1 and not subject.own
    return short and talk.utterance_of[subject.nouns[-1].start] == clause.utterance


def _names_component(talk: Talk, subject: Subject) -> bool:
    return subject.own and bool(tags(talk)[subject.nouns[-1].stop - 1] & Tag.HEAD)


def _is_component(talk: Talk, what: Noun) -> bool:
    """Tell a component from a kettle: a state of no list counts only of the first."""
    return bool(tags(talk)[what.stop - 1] & (Tag.HEAD | Tag.ASPECT | Tag.DEFECT)) or what.count > 0


def _is_person(talk: Talk, what: Noun) -> bool:
    return any(kind & Tag.PERSON for kind in tags(talk)[what.start : what.stop])


def _is_tool(what: Noun) -> bool:
    """Tell the gauge from what is gauged."""
    return what.name.split()[-1] in rules("findings")["tools"]["words"].split()


def _seen(talk: Talk, clause: Clause, what: Noun, state: State) -> Seen:
    start = min(what.start, state.start) if what.start >= clause.start else state.start
    text = talk.text(state.start, state.stop).strip(" ,.;:")
    text = "not the cause" if state.rule == "findings.innocent" else text
    tight = what.name.split()[-1] in rules("findings")["dry_things"]["words"].split()
    good = state.good or (tight and not state.negated and "dry" in text.split())
    return Seen(what, text, start, state.stop, state.rule, good, state.negated, clause)


def _elided(talk: Talk, clause: Clause, topic: Noun | None, last: Seen | None) -> Seen | None:
    """Read a state without its thing ("not sheared") as said of the thing before."""
    here = last if last and last.clause.utterance == clause.utterance else None
    what = here.what if here else topic or just_named(talk, clause)
    what = what or named_before(talk, clause)
    state = state_of(talk, clause.start, clause) if what else None
    if what is None or state is None or starts_name(talk, clause) or _is_limit(talk, state):
        return None
    if shares_verb(talk, clause, state.start):
        return None
    return _seen(talk, clause, what, state)


def _together(talk: Talk, found: Iterator[Seen]) -> Iterator[Seen]:
    """Join states told of one thing in a row: "good" and "not sheared"."""
    held: Seen | None = None
    for one in found:
        if held and _goes_with(talk, held, one):
            held = replace(
                held, state=f"{held.state}, {one.state}", stop=one.stop, good=held.good and one.good
            )
            continue
        if held:
            yield held
        held = one
    if held:
        yield held


def _goes_with(talk: Talk, held: Seen, one: Seen) -> bool:
    """Tell whether a state adds to the one before; what came after more work does not."""
    if one.what != held.what or one.clause.utterance != held.clause.utterance:
        return False
    if one.negated and one.good and not held.good and one.rule in ("findings.alone", "findings.is"):
        return False
    worked = bisect_left(step_starts(talk), held.stop) != bisect_left(step_starts(talk), one.start)
    return (
        one.rule != "findings.same"
        and not worked
        and (
            held.good == one.good
            or one.negated
            or one.clause.link == "but"
            or one.stop - one.start == 1
        )
    )
