"""What the customer is advised to do, and by when."""

from collections.abc import Iterator

from jobnotes.extract import verbs
from jobnotes.extract.advising import (
    is_done,
    is_limit,
    is_news,
    is_norm,
    is_past,
    leads_verb,
    points_back,
    to_be_done,
    unlisted_verb,
    wants,
)
from jobnotes.extract.clauses import ENDS
from jobnotes.extract.complaints import complaint_tokens
from jobnotes.extract.cues import Announced, Cue, cues
from jobnotes.extract.lexicon import Tag, tags
from jobnotes.extract.modality import withdrawn_tokens
from jobnotes.extract.nouns import antecedent, noun_at
from jobnotes.extract.private import private_utterances
from jobnotes.extract.sections import role_at, sections
from jobnotes.extract.steps import repair_span
from jobnotes.extract.talk import Talk
from jobnotes.extract.things import things_between
from jobnotes.extract.vocabulary import group, once_a_talk, words
from jobnotes.record import AnyFact, Recommendation

SURE = ("tells", "advises")
BARS = group("recommendations", "bars")
RECURRING = group("recommendations", "recurring")
LASTING = group("recommendations", "lasting")


def find(talk: Talk, facts: tuple[AnyFact, ...]) -> tuple[AnyFact, ...]:
    """Return each piece of advice."""
    withdrawn = withdrawn_tokens(talk, facts)
    return tuple(
        Recommendation(
            text=_text(talk, one),
            urgency=_urgency(talk, one),
            evidence=(talk.evidence(one.lead, max(one.stop, one.lead + 1)),),
            rule=one.rule,
        )
        for one in advice(talk)
        if not withdrawn.issuperset(range(one.start, one.stop))
    )


@once_a_talk
def advice(talk: Talk) -> tuple[Announced, ...]:
    """Return the stretches that give advice, in order."""
    found: list[Announced] = []
    for number in range(len(talk.starts)):
        if number not in private_utterances(talk):
            after = bool(found) and talk.utterance_of[found[-1].start] == number - 1
            found += list(_in_utterance(talk, number)) or list(_going_on(talk, number, after))
    return tuple(found)


def _going_on(talk: Talk, number: int, after: bool) -> Iterator[Announced]:
    """Read "and keep that filter oiled" right after other advice."""
    said = talk.utterance(number)
    start = said.start + 1
    if cues(talk, "labour.names", said.start, said.end):
        return
    links = words(talk)[said.start] in ("and", "also", "plus") and start < said.end
    if not links:
        start = said.start
    if start >= said.end:
        return
    named = tags(talk)[start] & (Tag.HEAD | Tag.MODIFIER)
    past = not links and words(talk)[start] in verbs.past_forms()
    if after and not named and not past and leads_verb(talk, start):
        yield Announced(said.start, start, said.end, "recommendations.goes-on")


def _in_utterance(talk: Talk, number: int) -> Iterator[Announced]:
    said = talk.utterance(number)
    if said.start in complaint_tokens(talk) or cues(talk, "labour.sure", said.start, said.end):
        return
    section = next(
        (
            s
            for s in sections(talk)
            if s.role == "recommendations" and s.start < said.end and s.stop > said.start
        ),
        None,
    )
    if section:
        start = max(section.start, said.start)
        yield from _split(talk, Announced(start, start, said.end, "sections.recommendations"))
        return
    one = (
        _addressed(talk, said.start, said.end)
        or _later_part(talk, said.start, said.end)
        or _after_cue(talk, said.start, said.end)
        or _before_cue(talk, said.start, said.end)
        or _bare(talk, said.start, said.end)
        or _needed(talk, said.start, said.end)
        or _timed_thing(talk, said.start, said.end)
        or _ahead(talk, said.start, said.end)
    )
    if one:
        yield from _split(talk, one)


def _addressed(talk: Talk, start: int, stop: int) -> Announced | None:
    """Read "for the customer: use the maker's charger", which opens an utterance."""
    for cue in cues(talk, "recommendations.addressed", start, stop):
        begin = cue.stop + (tags(talk)[min(cue.stop, stop - 1)] == Tag.PUNCTUATION)
        light = Tag.NUMBER | Tag.FILLER | Tag.PUNCTUATION
        first = all(kind & light for kind in tags(talk)[start : cue.start])
        if first and begin < stop and leads_verb(talk, begin):
            return Announced(start, begin, stop, cue.rule)
    return None


def _after_cue(talk: Talk, start: int, stop: int) -> Announced | None:
    """Read what follows the first of "tell him to", "I'd", "recommend" that leads to advice."""
    barred = {
        n
        for cue in cues(talk, "recommendations.not_advice", start, stop)
        for n in range(cue.start, cue.stop)
    }
    for cue in _leads(talk, start, stop):
        name = cue.rule.split(".")[1]
        begin = _content(talk, cue, stop)
        if cue.start in barred or begin >= stop or role_at(talk, begin) in ("complaint", "private"):
            continue
        if name in SURE and is_news(talk, begin, stop):
            continue
        if name not in SURE and not _advises(talk, cue, begin, stop):
            continue
        if {"due", "be"} & set(words(talk)[cue.start : cue.stop]) and name == "ours":
            begin = _part_start(talk, cue.start, start)
        return _widened(talk, Announced(cue.start, begin, stop, cue.rule), start)
    return None


def _part_start(talk: Talk, token: int, start: int) -> int:
    """Return where the words between two marks begin that a token stands in."""
    while token > start and words(talk)[token - 1] not in ENDS:
        token -= 1
    return token


def _leads(talk: Talk, start: int, stop: int) -> list[Cue]:
    found = [
        c
        for name in ("tells", "advises", "should", "ours")
        for c in cues(talk, f"recommendations.{name}", start, stop)
    ]
    return sorted(found, key=lambda cue: (cue.start, -cue.stop))


def _content(talk: Talk, cue: Cue, stop: int) -> int:
    """Pass over "that" and "he should" after a cue; "keep an eye on" is content itself."""
    begin = (
        cue.stop
        if cue.rule != "recommendations.ours"
        or words(talk)[cue.start] in ("i", "we", "wouldn't", "it")
        else cue.start
    )
    for inner in _leads(talk, begin, min(begin + 4, stop)):
        if inner.start <= begin + 1 and inner.rule.endswith(("should", "tells", "advises")):
            begin = inner.stop
    while begin < stop and (
        tags(talk)[begin] & Tag.PUNCTUATION or words(talk)[begin] in ("to", "that", "is")
    ):
        begin += 1
    return begin


def _advises(talk: Talk, cue: Cue, begin: int, stop: int) -> bool:
    """Tell advice ("he should budget for a battery") from a figure or a wish."""
    kind = tags(talk)[begin]
    if is_past(talk, cue, begin) or is_limit(talk, max(begin, cue.stop), stop):
        return False
    owed = words(talk)[cue.start] == "ought" and cue.stop < stop
    if is_norm(talk, begin, stop) or (owed and tags(talk)[cue.stop] & Tag.NUMBER):
        return False
    if (
        kind & (Tag.NUMBER | Tag.UNIT)
        or words(talk)[begin] in ("be", "have", "been")
        and words(talk)[cue.stop - 1] != "be"
        and not cues(talk, "recommendations.when", begin, stop)
    ):
        return False
    if cue.rule == "recommendations.should":
        return not is_done(talk, begin, stop)
    timed = bool(cues(talk, "recommendations.when", cue.start, stop))
    watched = "due" in words(talk)[cue.start : cue.stop] or words(talk)[cue.start] in (
        "keep",
        "worth",
        "wouldn't",
        "watch",
        "look",
        "bring",
        "budget",
        "might",
        "next",
        "best",
        "good",
    )
    return (
        timed or watched or cue.stop - cue.start > 2 or words(talk)[cue.start] in ("i", "we")
    ) and not is_done(talk, begin, stop)


def _widened(talk: Talk, one: Announced, start: int) -> Announced:
    """Take in the clause before where the advice alone names little ("recommended a set")."""
    plain = (
        Tag.DETERMINER | Tag.PRONOUN | Tag.PREPOSITION | Tag.FILLER | Tag.PUNCTUATION | Tag.ADVERB
    )
    told = [kind for kind in tags(talk)[one.start : one.stop] if not kind & plain]
    comma = next((n for n in range(one.start, one.stop) if words(talk)[n] in ENDS), one.stop)
    short = len(told) < 3 or comma - one.start < 3 or points_back(talk, one, start)
    if short and one.lead - start > 1 and words(talk)[one.lead - 1] in ENDS | {"so", "and"}:
        return Announced(start, start, one.stop, one.rule)
    return one


def _bare(talk: Talk, start: int, stop: int) -> Announced | None:
    """Read "should grease the pivot weekly", whose subject is left out."""
    for cue in cues(talk, "recommendations.bare", start, stop):
        barred = words(talk)[start] in BARS and start > repair_span(talk)[0]
        timed = barred or cues(talk, "recommendations.when", cue.stop, stop)
        acts = cue.stop < stop and (
            leads_verb(talk, cue.stop) or (barred and unlisted_verb(talk, cue.stop))
        )
        if cue.start == start and timed and acts:
            return Announced(start, start if barred else cue.stop, stop, cue.rule)
    return _instruction(talk, start, stop)


def _later_part(talk: Talk, start: int, stop: int) -> Announced | None:
    """Read "hoses are going soft, replace them at the next service", told after the work."""
    for place in range(start + 1, stop - 1):
        opens = words(talk)[place - 1] in ENDS or words(talk)[place - 1] == "so"
        if opens and place > repair_span(talk)[1]:
            found = _bare(talk, place, stop)
            if found:
                return found
    return None


def _instruction(talk: Talk, start: int, stop: int) -> Announced | None:
    """Read "change the oil at the annual inspection", told after the work."""
    opens = start == talk.starts[talk.utterance_of[start]] and words(talk)[start] in LASTING
    opens = opens and words(talk)[start + 1 : start + 2] != ("this",)
    timed = opens or cues(talk, "recommendations.when", start, stop)
    plain = words(talk)[start] in verbs.plain_forms() or words(talk)[start] in LASTING | {"get"}
    base = plain and words(talk)[start] not in verbs.past_forms()
    if timed and base and start > repair_span(talk)[1] and not tags(talk)[start] & Tag.HEAD:
        return Announced(start, start, stop, "recommendations.instruction")
    return None


def _timed_thing(talk: Talk, start: int, stop: int) -> Announced | None:
    """Read "impeller every two seasons", a thing with its time, told after the work."""
    what = noun_at(talk, start, stop) if start > repair_span(talk)[1] else None
    if what is None or what.stop >= stop or not tags(talk)[what.stop - 1] & Tag.HEAD:
        return None
    for cue in cues(talk, "recommendations.when", what.stop, stop):
        if cue.start == what.stop and words(talk)[cue.start] in RECURRING:
            return Announced(start, start, stop, "recommendations.instruction")
    return None


def _ahead(talk: Talk, start: int, stop: int) -> Announced | None:
    """Read "the hoses won't see him through, new ones by spring", told of a time to come."""
    if start <= repair_span(talk)[1] or not cues(talk, "recommendations.ahead", start, stop):
        return None
    kinds = tags(talk)[start:stop]
    ours = any(kind & Tag.US for kind in kinds)
    done = any(kind & Tag.VERB and not kind & (Tag.HEAD | Tag.STATE) for kind in kinds)
    return None if ours or done else Announced(start, start, stop, "recommendations.ahead")


def _before_cue(talk: Talk, start: int, stop: int) -> Announced | None:
    """Read advice that is named as such after it ("..., put that on the bill as advice")."""
    for cue in cues(talk, "recommendations.after", start + 2, stop):
        if words(talk)[cue.start - 1] in ENDS and cue.stop >= stop - 1:
            return Announced(start, start, cue.start - 1, cue.rule)
    return None


def _needed(talk: Talk, start: int, stop: int) -> Announced | None:
    """Read "deck wants blades" of a part that was not put in during this job."""
    for cue in cues(talk, "recommendations.needs", start, stop):
        begin = cue.stop
        if (
            begin >= stop
            or cue.start == start
            and words(talk)[cue.start] in ("wants", "needs", "want", "need")
        ):
            continue
        led = words(talk)[cue.start - 1] if cue.start > start else ""
        if led in ("we", "i", "you", "to") or tags(talk)[cue.start - 1] & Tag.NEGATION:
            continue
        if cue.start > start and to_be_done(talk, begin):
            return Announced(start, start, stop, cue.rule)
        named = things_between(talk, begin, stop)
        figure = begin + 1 < stop and tags(talk)[begin + 1] & (Tag.NUMBER | Tag.UNIT | Tag.HEAD)
        if (
            words(talk)[begin] == "one"
            and not figure
            and words(talk)[begin + 1 : begin + 2] != ("to",)
        ):
            return Announced(start, start, stop, cue.rule)
        soon = begin < stop and named and named[0].start <= begin + 2
        if soon and not tags(talk)[begin] & Tag.NUMBER and not is_done(talk, begin, stop):
            return Announced(start, start, stop, cue.rule)
    return None


def _split(talk: Talk, one: Announced) -> Iterator[Announced]:
    """Cut at "and" before another thing to do ("keep a cover on it and run it once a month")."""
    start, texts = one.start, words(talk)
    for place in range(one.start + 1, one.stop - 1):
        joined = leads_verb(talk, place + 1) and leads_verb(talk, start)
        joined = joined or (texts[place + 1].endswith("ing") and texts[start].endswith("ing"))
        listed = texts[place] == "," and joined and texts[start] not in ("tell", "let")
        if listed or (texts[place] == "and" and (joined or _another(talk, place + 1, one.stop))):
            if not (one.rule == "recommendations.tells" and is_news(talk, start, place)):
                yield Announced(one.lead if start == one.start else start, start, place, one.rule)
            start = place + 1
    yield Announced(one.lead if start == one.start else start, start, one.stop, one.rule)


def _another(talk: Talk, place: int, stop: int) -> bool:
    """Tell "and the new impeller before the season", "and an electrician to look at it"."""
    told = cues(talk, "recommendations.tells", place, stop)
    wanted = cues(talk, "recommendations.should", place, stop)
    if any(cue.start == place for cue in (*told, *wanted)) or wants(talk, place):
        return True
    named = tags(talk)[place] & Tag.DETERMINER and noun_at(talk, place, stop)
    if not named:
        return False
    timed = cues(talk, "recommendations.when", named.stop, stop)
    return words(talk)[named.stop : named.stop + 1] == ("to",) or bool(
        timed and timed[0].start == named.stop
    )


def _text(talk: Talk, one: Announced) -> str:
    """Say it as an instruction: "not to" becomes "don't", and a leading "it" is named."""
    texts = words(talk)
    start = one.start
    denied = ""
    if (
        texts[start] == "not"
        or texts[start - 1 : start + 1] == ("not", "to")
        or (start >= 2 and texts[start - 2 : start] == ("not", "to"))
    ):
        denied = "don't "
        start += texts[start] == "not"
        start += texts[start] == "to"
    said = talk.text(start, one.stop).strip(" ,.;:")
    return denied + _named(talk, said, start)


def _named(talk: Talk, said: str, start: int) -> str:
    """Put the thing meant in place of "it" right after the first word ("change it before ...")."""
    spoken = said.split()
    if spoken[0].lower() in ("it", "they") and (meant := antecedent(talk, start)):
        return " ".join(["the", meant.name, *spoken[1:]])
    if (
        len(spoken) < 2
        or spoken[1] not in ("it", "them", "that", "those")
        or spoken[1] == "that"
        and len(spoken) > 2
        and tags(talk)[start + 2] & (Tag.HEAD | Tag.MODIFIER)
    ):
        return said
    meant = antecedent(talk, start)
    if meant and talk.utterance_of[meant.start] != talk.utterance_of[start]:
        return said
    return " ".join([spoken[0], "the", meant.name, *spoken[2:]]) if meant else said


def _urgency(talk: Talk, one: Announced) -> str:
    """Return the words that say by when or how often."""
    for cue in cues(talk, "recommendations.when", one.start, one.stop):
        end = next((n for n in range(cue.stop, one.stop) if words(talk)[n] in ENDS), one.stop)
        return talk.text(cue.start, end).strip(" ,.;:")
    return ""


@once_a_talk
def advised_tokens(talk: Talk) -> frozenset[int]:
    """Return the tokens of all advice, with the words that announce it."""
    return frozenset(n for one in advice(talk) for n in range(one.lead, one.stop))
