"""How the repair was seen to work: what runs well, and what no longer happens, after the work."""

from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass, replace

from jobnotes.extract.clauses import Clause, clauses
from jobnotes.extract.complaints import complaint_tokens
from jobnotes.extract.cues import cues
from jobnotes.extract.lexicon import Tag, tags
from jobnotes.extract.modality import in_section, is_private, withdrawn_tokens
from jobnotes.extract.nouns import antecedent, noun_at
from jobnotes.extract.proofs import is_proof
from jobnotes.extract.recommendations import advised_tokens
from jobnotes.extract.said import Seen
from jobnotes.extract.seen import seen
from jobnotes.extract.steps import holds_step, repair_span, step_starts
from jobnotes.extract.subjects import subject_of
from jobnotes.extract.talk import Talk
from jobnotes.extract.trials import on_trial
from jobnotes.extract.verbs import all_plain
from jobnotes.extract.vocabulary import group, once_a_talk, rules, words
from jobnotes.record import AnyFact, Verification

ELSEWHERE = (
    "complaint",
    "recommendations",
    "private",
    "labour",
    "caution",
    "parts",
    "findings",
    "cause",
)
STAYING = group("verifications", "staying")
BRIEF = 4  # tokens; a proof as short as "second pull actually" adds to the one before
UNFINISHED = group("verifications", "unfinished")
TIMES = group("verifications", "times")


@dataclass(frozen=True, slots=True)
class _Proof:
    start: int
    stop: int
    rule: str
    negated: bool
    utterance: int


def find(talk: Talk, facts: tuple[AnyFact, ...]) -> tuple[AnyFact, ...]:
    """Return what shows that the repair worked."""
    withdrawn = withdrawn_tokens(talk, facts)
    return tuple(
        Verification(
            text=talk.text(p.start, p.stop).strip(" ,.;:"),
            evidence=(talk.evidence(p.start, p.stop),),
            rule=p.rule,
        )
        for p in _widened(talk, tuple(_joined(_proofs(talk))))
        if not withdrawn.issuperset(range(p.start, p.stop))
    )


def _proofs(talk: Talk) -> Iterator[_Proof]:
    told = {one.clause.start: one for one in seen(talk)}
    context: Clause | None = None
    proved = -1
    for clause in clauses(talk):
        if context and context.utterance != clause.utterance:
            context = None
        if not _may_prove(talk, clause) or clause.start in advised_tokens(talk):
            continue
        one = told.get(clause.start)
        tried = context is not None or 0 <= clause.utterance - proved <= 1 <= proved
        rule = _rule_of_state(talk, one) if one else _rule(talk, clause, tried)
        if not one and not rule and proved == clause.utterance and _goes_on(talk, clause):
            rule = "verifications.goes-on"
        if rule and words(talk)[clause.stop - 1] not in UNFINISHED:
            proved = clause.utterance
            yield _proof(talk, clause, context, rule)
            context = None
        elif context is None and _tried(talk, clause):
            context = clause


def _proof(talk: Talk, clause: Clause, context: Clause | None, rule: str) -> _Proof:
    negated = any(kind & Tag.NEGATION for kind in tags(talk)[clause.start : clause.start + 3])
    start = context.start if context else clause.start
    if clause.stop - start == 1 and (meant := antecedent(talk, clause.start)):
        start = meant.start if talk.utterance_of[meant.start] == clause.utterance else start
    return _Proof(start, clause.stop, rule, negated, clause.utterance)


def _rule_of_state(talk: Talk, one: Seen) -> str:
    """Take a good state told after the work, or a leak not found at the end."""
    if is_proof(talk, one):
        return "verifications.state"
    if one.start > repair_span(talk)[1] and _works(talk, one.clause):
        return "verifications.works"
    ended = one.start > repair_span(talk)[1] and one.rule == "findings.none"
    return "verifications.state" if ended and tags(talk)[one.what.stop - 1] & Tag.FAULT else ""


def _may_prove(talk: Talk, clause: Clause) -> bool:
    if (
        is_private(talk, clause)
        or in_section(talk, clause, *ELSEWHERE)
        or clause.start in complaint_tokens(talk)
    ):
        return False
    first, _ = repair_span(talk)
    said = talk.utterance(clause.utterance)
    if _of_person(talk, clause) or cues(talk, "cautions.warns", said.start, said.end):
        return False
    told = in_section(talk, clause, "verification") or clause.start > first
    return (
        told
        and not holds_step(talk, clause)
        and not cues(talk, "verifications.not_proof", clause.start, clause.stop)
    )


def _of_person(talk: Talk, clause: Clause) -> bool:
    """Tell "she's been running without it" from what the machine does."""
    said = words(talk)[clause.start : clause.stop]
    return said[0] in ("he", "she", "they", "customer") and "been" in said


def _rule(talk: Talk, clause: Clause, tried: bool) -> str:
    """Return the rule by which a clause shows that all is well, or nothing.

    Between two steps of the repair only what was tried, or is said to be so "now", proves anything.
    """
    said = talk.utterance(clause.utterance)
    ended = clause.start > repair_span(talk)[1] or in_section(talk, clause, "verification")
    announced = bool(cues(talk, "verifications.announced", said.start, said.end))
    now = cues(talk, "verifications.now", said.start + 1, said.end)
    if not (ended or tried or announced or now):
        return _rule_between(talk, clause)
    if _works(talk, clause):
        return "verifications.works"
    if (ended or announced or now) and (_few(talk, clause) or _gone(talk, clause)):
        return "verifications.few"
    if _ceased(talk, clause):
        return "verifications.ceased"
    if _is_figure(talk, clause) and not announced and not _counts(talk, clause):
        return ""
    if _behaves(talk, clause):
        return "verifications.behaves"
    return "verifications.good" if _good_thing(talk, clause) else ""


def _rule_between(talk: Talk, clause: Clause) -> str:
    """Between two steps only "works" beside a step, and a machine that runs, prove anything."""
    near = _near_step(talk, clause) or _tried(talk, clause)
    if _works(talk, clause) and near and not _is_figure(talk, clause):
        return "verifications.works"
    running = rules("verifications")["running"]["words"].split()
    runs = any(text in running for text in words(talk)[clause.start : clause.stop])
    return (
        "verifications.behaves"
        if runs and not _is_figure(talk, clause) and _behaves(talk, clause)
        else ""
    )


def _tried(talk: Talk, clause: Clause) -> bool:
    """Tell that the machine was tried: "ran it", or its work done, "ground a stump"."""
    if cues(talk, "verifications.tried", clause.start, clause.stop):
        return True
    return any(on_trial(talk, n, clause.stop) for n in range(clause.start, clause.stop))


def _works(talk: Talk, clause: Clause) -> bool:
    return bool(cues(talk, "verifications.works", clause.start, clause.stop))


def _near_step(talk: Talk, clause: Clause) -> bool:
    """Tell whether the clause stands in the utterance of a step ("popped the valve, works")."""
    said = talk.utterance(clause.utterance)
    place = bisect_left(step_starts(talk), said.start)
    return place < len(step_starts(talk)) and step_starts(talk)[place] < clause.start


def _is_figure(talk: Talk, clause: Clause) -> bool:
    """Tell a clause that states a figure; a time for which something held is no such figure."""
    kinds, texts = tags(talk), words(talk)
    numbers = [
        n
        for n in range(clause.start, clause.stop)
        if kinds[n] & Tag.NUMBER and not kinds[n] & (Tag.ADVERB | Tag.PRONOUN)
    ]
    timed = any(texts[n] in TIMES for n in range(clause.start, clause.stop))
    stays = any(texts[n] in STAYING for n in range(clause.start, clause.stop))
    return bool(numbers) and not (timed and stays)


def _counts(talk: Talk, clause: Clause) -> bool:
    """Tell "starts ten times from ten", whose figure counts trials."""
    return "times" in words(talk)[clause.start : clause.stop]


def _few(talk: Talk, clause: Clause) -> bool:
    """Read "hardly any spatter" and "six times without fault"."""
    return any(
        not tags(talk)[min(cue.stop, clause.stop - 1)] & Tag.DETERMINER
        for cue in cues(talk, "verifications.few", clause.start, clause.stop)
    )


def _gone(talk: Talk, clause: Clause) -> bool:
    """Read "the hum is also gone" of what was complained of, or of a noise."""
    for cue in cues(talk, "verifications.gone", clause.start + 1, clause.stop):
        named = range(clause.start, cue.start)
        if any(tags(talk)[n] & Tag.FAULT or words(talk)[n] in _complained(talk) for n in named):
            return True
    return False


@once_a_talk
def _complained(talk: Talk) -> frozenset[str]:
    """Return the words of substance in all complaints, singular and without endings of verbs."""
    light = Tag.DETERMINER | Tag.PRONOUN | Tag.PREPOSITION | Tag.COPULA | Tag.CONJUNCTION
    said = {words(talk)[n] for n in complaint_tokens(talk) if not tags(talk)[n] & light}
    return frozenset(said | {word.removesuffix("s") for word in said})


def _ceased(talk: Talk, clause: Clause) -> bool:
    """Read what no longer happens: "never dropped out", "chain not creeping"."""
    kinds, texts = tags(talk), words(talk)
    if any(
        texts[n] == "without" and kinds[n + 1] & Tag.FAULT
        for n in range(clause.start, clause.stop - 1)
    ):
        return True
    subject = subject_of(talk, clause, None)
    place = subject.stop if subject else clause.start
    while (
        place < clause.stop
        and kinds[place] & (Tag.COPULA | Tag.ADVERB)
        and not kinds[place] & Tag.NEGATION
    ):
        place += 1
    if place >= clause.stop or not kinds[place] & Tag.NEGATION or texts[place] == "without":
        return False
    if texts[place] in ("nothing", "none"):
        return place + 1 < clause.stop and texts[place + 1].endswith("ed")
    if texts[place] == "no":
        found = noun_at(talk, place + 1, clause.stop)
        return (
            found is not None
            and found.start <= place + 3
            and not cues(talk, "findings.idioms", place, clause.stop)
        )
    after = kinds[place + 1] if place + 1 < clause.stop else 0
    if (
        place == clause.start
        and texts[place + 1 : place + 2]
        and _bids(texts[place], texts[place + 1])
    ):
        return False
    does = Tag.FAULT | Tag.BEHAVIOUR | Tag.OTHER_VERB | Tag.LINKING | Tag.VERB
    return bool(after & does) or after == Tag.UNKNOWN


def _bids(denial: str, verb: str) -> bool:
    """Tell "never run it indoors", which is advice, from "never bogged once"."""
    if denial in ("don't", "wouldn't", "shouldn't"):
        return not verb.endswith(("ed", "s"))
    return denial == "never" and not verb.endswith(("ed", "s")) and verb in all_plain()


def _behaves(talk: Talk, clause: Clause) -> bool:
    """Read what a sound machine does: "starts on the second pull", "breaker holds"."""
    kinds, texts = tags(talk), words(talk)
    subject = subject_of(talk, clause, None)
    place = subject.stop if subject else clause.start
    while (
        place < clause.stop
        and kinds[place] & (Tag.ADVERB | Tag.COPULA | Tag.FILLER)
        and not kinds[place] & Tag.BEHAVIOUR
    ):
        place += 1
    if place >= clause.stop or not kinds[place] & Tag.BEHAVIOUR:
        return False
    text = texts[place]
    if text.endswith("ing"):
        return bool(kinds[place - 1] & (Tag.COPULA | Tag.ADVERB)) and place > clause.start
    past = (text.endswith("ed") and not kinds[place] & Tag.WEAK) or text in (
        "ran",
        "held",
        "kept",
        "drove",
        "spun",
        "blew",
    )
    if past and texts[place + 1 : place + 2] and texts[place + 1] in ("it", "her", "him", "them"):
        return False
    named = subject is not None or text in rules("verifications")["running"]["words"].split()
    many = subject is not None and subject.nouns[-1].name.endswith("s")
    return (text.endswith("s") and not text.endswith("ss")) or (past and named) or many


def _goes_on(talk: Talk, clause: Clause) -> bool:
    """Read a past deed right after a proof ("starts first pull, threw the pile across the lot")."""
    first = tags(talk)[clause.start]
    return bool(first & (Tag.BEHAVIOUR | Tag.GOOD)) and not _is_figure(talk, clause)


def _good_thing(talk: Talk, clause: Clause) -> bool:
    """Read "good blue spark", "strong telltale", "clean chips"."""
    kinds = tags(talk)
    return (
        bool(kinds[clause.start] & Tag.GOOD)
        and not kinds[min(clause.start + 1, clause.stop - 1)] & Tag.DETERMINER
        and noun_at(talk, clause.start + 1, clause.stop) is not None
    )


def _widened(talk: Talk, proofs: tuple[_Proof, ...]) -> Iterator[_Proof]:
    """Take in how the machine was tried, told in the same breath before the first proof."""
    seen_in: set[int] = set()
    for place, proof in enumerate(proofs):
        first = proof.utterance not in seen_in
        seen_in.add(proof.utterance)
        following = proofs[place + 1] if place + 1 < len(proofs) else None
        alone = first and (following is None or following.utterance != proof.utterance)
        start = _from(talk, proof) if first else proof.start
        stop = _till(talk, proof) if alone else proof.stop
        yield replace(proof, start=start, stop=stop)


def _from(talk: Talk, proof: _Proof) -> int:
    """Return where the clauses begin that lead up to a proof without telling work or a fault."""
    start = proof.start
    for clause in reversed(_clauses_of(talk, proof.utterance)):
        if clause.start < start:
            if not _plain(talk, clause):
                break
            start = clause.start
    return start


def _till(talk: Talk, proof: _Proof) -> int:
    stop = proof.stop
    for clause in _clauses_of(talk, proof.utterance):
        if clause.start >= stop:
            if not _plain(talk, clause):
                break
            stop = clause.stop
    return stop


def _clauses_of(talk: Talk, utterance: int) -> tuple[Clause, ...]:
    first = bisect_left(clauses(talk), utterance, key=lambda clause: clause.utterance)
    last = bisect_left(clauses(talk), utterance + 1, key=lambda clause: clause.utterance)
    return tuple(clauses(talk)[first:last])


def _plain(talk: Talk, clause: Clause) -> bool:
    """Tell a clause that tells neither work nor advice nor what is wrong."""
    if holds_step(talk, clause) and not _tried(talk, clause):
        return False
    told = next((one for one in seen(talk) if one.clause.start == clause.start), None)
    return clause.start not in advised_tokens(talk) and (told is None or told.good)


def _joined(proofs: Iterator[_Proof]) -> Iterator[_Proof]:
    """Put together denials in a row ("no beeps, no flashes") and a deed right after a proof."""
    held: _Proof | None = None
    for proof in proofs:
        brief = proof.rule == "verifications.works" and proof.stop - proof.start <= BRIEF
        more = (
            proof.rule == "verifications.goes-on"
            or brief
            or (held and held.negated and proof.negated)
        )
        if held and more and held.utterance == proof.utterance:
            held = _Proof(held.start, proof.stop, held.rule, True, held.utterance)
            continue
        if held:
            yield held
        held = proof
    if held:
        yield held
