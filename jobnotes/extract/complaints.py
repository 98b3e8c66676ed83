"""What the customer says is wrong, in short phrases of the speaker's own words."""

from collections.abc import Iterator
from dataclasses import replace

from jobnotes.extract.clauses import ENDS
from jobnotes.extract.cues import Announced, Cue, cues
from jobnotes.extract.lexicon import FUNCTION, Tag, tags
from jobnotes.extract.modality import withdrawn_tokens
from jobnotes.extract.private import private_utterances
from jobnotes.extract.sections import sections
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import group, once_a_talk, rules, words
from jobnotes.record import AnyFact, Complaint

OPENING = 2  # utterances; without a cue, a complaint is looked for only in the first of these
THEN = 8  # tokens after "and then" in which a fault of its own is told
LATEST = 8  # utterances; "the problem is" later than this names the fault found, not the complaint
SUBJECTS = group("complaints", "subjects")
GOES_ON = group("complaints", "goes_on")
QUALIFYING = group("complaints", "qualifying")
IDLE = group("complaints", "idle")
ELIDED = group("complaints", "elided")
WAYS = group("complaints", "ways")
UNENDED = group("complaints", "unended")


def find(talk: Talk, facts: tuple[AnyFact, ...]) -> tuple[AnyFact, ...]:
    """Return each complaint that the speaker passes on."""
    withdrawn = withdrawn_tokens(talk, facts)
    return tuple(
        Complaint(text=_text(talk, s), evidence=(talk.evidence(s.start, s.stop),), rule=s.rule)
        for s in _phrases(talk)
        if not withdrawn.issuperset(range(s.start, s.stop))
    )


@once_a_talk
def complaint_tokens(talk: Talk) -> frozenset[int]:
    """Return the tokens of all complaints, which no other finder reads as findings."""
    return frozenset(n for s in _stretches(talk) for n in range(s.lead, s.stop))


@once_a_talk
def _phrases(talk: Talk) -> tuple[Announced, ...]:
    found: list[Announced] = []
    for stretch in _stretches(talk):
        phrases = [p for p in _split(talk, stretch) if _says_something(talk, p)]
        found += phrases
    return tuple(found)


@once_a_talk
def _stretches(talk: Talk) -> list[Announced]:
    """Return what follows each cue to the end of its utterance, and an "and ..." right after."""
    found = list(_told(talk)) or list(_said_after(talk)) or list(_untold(talk))
    return [_before_work(talk, stretch) for stretch in found]


def _before_work(talk: Talk, stretch: Announced) -> Announced:
    """Cut a stretch at a sentence that tells work: "Leaks. Replaced the seal."."""
    other = Tag.FAULT | Tag.STATE | Tag.BEHAVIOUR | Tag.HEAD | Tag.MODIFIER | Tag.LINKING
    for place in range(stretch.start + 1, stretch.stop):
        kind = tags(talk)[place]
        ended = words(talk)[place - 1] == "."
        if ended and (kind & Tag.US or (kind & Tag.VERB and not kind & other)):
            return replace(stretch, stop=place)
    return stretch


def _told(talk: Talk) -> Iterator[Announced]:
    for section in sections(talk):
        if section.role == "complaint":
            yield from _by_utterance(talk, section.start, section.stop)
    used = -1
    for cue in _leads(talk):
        number = talk.utterance_of[cue.start]
        if number > used and _announces(talk, cue, number):
            lead = talk.starts[number] if number < OPENING else cue.start
            yield Announced(lead, cue.stop, talk.utterance(number).end, cue.rule)
            used = number
            for more in _going_on(talk, number):
                yield Announced(
                    talk.starts[more], talk.starts[more], talk.utterance(more).end, cue.rule
                )
                used = more


def _leads(talk: Talk) -> list[Cue]:
    rules_of = ("says", "names", "papers")
    found = [cue for rule in rules_of for cue in cues(talk, f"complaints.{rule}")]
    return sorted(found, key=lambda cue: (cue.start, -cue.stop))


def _announces(talk: Talk, cue: Cue, number: int) -> bool:
    """Tell whether a complaint follows a cue, early enough in the job."""
    start, stop = talk.starts[number], talk.utterance(number).end
    if number >= LATEST or stop - cue.stop < 2 or number in private_utterances(talk):
        return False
    if cues(talk, "sections.complaint", start, cue.stop):
        return False
    if cue.rule == "complaints.says" and not _by_person(talk, cue, start):
        return False
    return not cues(talk, "complaints.not_complaint", cue.start, stop) and _fits(talk, cue, stop)


def _by_person(talk: Talk, cue: Cue, start: int) -> bool:
    """Tell "the landscaper says" from "book says" and "I said"."""
    first = words(talk)[cue.start]
    if first == "according" or (
        first in ELIDED and (cue.start == start or words(talk)[cue.start - 1] in ENDS)
    ):
        return True
    before = cue.start - 1
    while before > start and tags(talk)[before] & Tag.ADVERB:
        before -= 1
    kind = tags(talk)[before] if cue.start > start else FUNCTION
    if kind & Tag.PERSON:
        return True
    unlikely = rules("complaints")["no_person"]["words"].split()
    plain = kind & (FUNCTION | Tag.ADVERB | Tag.FILLER) or words(talk)[cue.start - 1] in unlikely
    return not plain and words(talk)[cue.start] in rules("complaints")["telling"]["words"].split()


def _going_on(talk: Talk, number: int) -> Iterator[int]:
    """Give the utterances after a complaint that go on with "and" and sound wrong too."""
    for more in range(number + 1, len(talk.starts)):
        start = talk.starts[more]
        later = words(talk)[start : start + 2] == ("after", "that")
        if not (words(talk)[start] in GOES_ON or later) or more in private_utterances(talk):
            return
        if not _sounds_wrong(talk, start, talk.utterance(more).end):
            return
        yield more


def _said_after(talk: Talk) -> Iterator[Announced]:
    """Read "seized solid, he reckons": what comes before words that name the speaker last."""
    for number in range(min(LATEST, len(talk.starts))):
        start, stop = talk.starts[number], talk.utterance(number).end
        for cue in cues(talk, "complaints.said_after", start + 1, stop):
            last = stop - cue.stop <= _slack(talk, cue)
            last = last and (
                number < OPENING or words(talk)[cue.start : cue.start + 2] == ("is", "what")
            )
            if last and number not in private_utterances(talk):
                begin, end = _before_speaker(talk, start, cue.start)
                yield Announced(begin, begin, end, cue.rule)
                return


def _slack(talk: Talk, cue: Cue) -> int:
    """Return how many words may follow a cue that comes last ("says the" landscaper)."""
    if words(talk)[cue.start] == "according":
        return 3
    return int(words(talk)[cue.stop - 1] == "the")


def _before_speaker(talk: Talk, start: int, stop: int) -> tuple[int, int]:
    """Return the complaint before "the hire desk says": from where it first sounds wrong."""
    parts = list(_between(talk, start, stop)) or [(start, stop)]
    if len(parts) > 1 and not _sounds_wrong(talk, *parts[-1]):
        parts.pop()
    wrong = next((part for part in parts if _sounds_wrong(talk, *part)), parts[-1])
    return wrong[0], parts[-1][1]


def _fits(talk: Talk, cue: Cue, stop: int) -> bool:
    """A cue that also has other uses ("in for", "the problem is") needs a symptom after it."""
    vague = words(talk)[cue.stop - 1] == "for"  # "in for Mrs Hale" names no complaint
    early = talk.utterance_of[cue.start] < OPENING and cue.rule != "complaints.papers" and not vague
    return early or _sounds_wrong(talk, cue.stop, stop)


def _sounds_wrong(talk: Talk, start: int, stop: int) -> bool:
    wrong = Tag.FAULT | Tag.NEGATION
    return bool(cues(talk, "complaints.symptom", start, stop)) or any(
        kind & wrong or (kind & Tag.STATE and not kind & Tag.GOOD)
        for kind in tags(talk)[start:stop]
    )


def _by_utterance(talk: Talk, start: int, stop: int) -> Iterator[Announced]:
    """Cut a section of the sheet into its utterances."""
    while start < stop:
        end = min(talk.utterance(talk.utterance_of[start]).end, stop)
        yield Announced(start, start, end, "sections.complaint")
        start = end


def _untold(talk: Talk) -> Iterator[Announced]:
    """Without a cue, the first utterance that sounds wrong after naming the machine is it."""
    for number in range(min(OPENING, len(talk.starts))):
        start, stop = talk.starts[number], talk.utterance(number).end
        if number in private_utterances(talk) or _tells_work(talk, start, stop):
            return
        for first, last in _between(talk, start, stop):
            spared = cues(talk, "complaints.not_complaint", first, last)
            if _is_symptom(talk, first, last) and not _measured(talk, first, last) and not spared:
                yield Announced(first, first, stop, "complaints.symptom")
                return


def _is_symptom(talk: Talk, start: int, stop: int) -> bool:
    told = cues(talk, "complaints.symptom", start, stop) or cues(talk, "findings.bad", start, stop)
    pointed = words(talk)[start] in ("it", "she", "he") and any(
        kind & Tag.STATE and not kind & Tag.GOOD for kind in tags(talk)[start:stop]
    )
    fails = any(_fails(talk, cue.start, cue.stop, stop) for cue in told)
    return fails or pointed or any(_does_wrong(talk, n, stop) for n in range(start, stop))


def _does_wrong(talk: Talk, place: int, stop: int) -> bool:
    kind = tags(talk)[place]
    return (
        bool(kind & Tag.FAULT)
        and not kind & (Tag.HEAD | Tag.MODIFIER)
        and _fails(talk, place, place + 1, stop)
    )


def _fails(talk: Talk, place: int, end: int, stop: int) -> bool:
    """Tell "smokes" from "two smoke", "slip thirty-one", "vibrating plate" and "leak down test"."""
    kinds, texts = tags(talk), words(talk)
    if end > place + 1:
        return True
    numbered = place > 0 and kinds[place - 1] & Tag.NUMBER and not kinds[place - 1] & Tag.ADVERB
    if (numbered and not texts[place].endswith("s")) or end >= stop:
        return not numbered
    if kinds[end] & Tag.NUMBER and not kinds[end] & (Tag.ADVERB | Tag.PRONOUN):
        return texts[place].endswith(("s", "ed"))
    named = texts[place].endswith("ing") and kinds[end] & Tag.HEAD and not kinds[end] & Tag.VERB
    return not named and texts[end] not in ("down", "test")


def _tells_work(talk: Talk, start: int, stop: int) -> bool:
    """Tell an utterance in which the technician is already at work."""
    first = tags(talk)[start]
    second = tags(talk)[start + 1] if start + 1 < stop else first
    acts = first & Tag.VERB and second & (Tag.DETERMINER | Tag.PRONOUN | Tag.HEAD | Tag.MODIFIER)
    opening = bool(acts) and not first & (Tag.HEAD | Tag.MODIFIER)
    return opening or any(kind & Tag.US for kind in tags(talk)[start:stop])


def _measured(talk: Talk, start: int, stop: int) -> bool:
    return any(
        kind & Tag.UNIT and tags(talk)[start + n - 1] & Tag.NUMBER
        for n, kind in enumerate(tags(talk)[start:stop])
        if n
    )


def _between(talk: Talk, start: int, stop: int) -> Iterator[tuple[int, int]]:
    first = start
    for place in range(start, stop):
        if words(talk)[place] in ENDS:
            if place > first:
                yield first, place
            first = place + 1
    if first < stop:
        yield first, stop


def _qualified(talk: Talk, start: int, stop: int) -> Iterator[tuple[int, int]]:
    """Cut at marks, but leave "worse when it's hot" with what it qualifies."""
    held: tuple[int, int] | None = None
    for first, last in _between(talk, start, stop):
        qualifies = words(talk)[first] in QUALIFYING and not _then_fails(talk, first, last)
        if held and (qualifies or words(talk)[held[1] - 1] in UNENDED):
            held = held[0], last
            continue
        if held:
            yield held
        held = first, last
    if held:
        yield held


def _split(talk: Talk, stretch: Announced) -> Iterator[Announced]:
    """Cut at marks, and at "and" or "but" where a complaint of another kind begins."""
    for first, last in _qualified(talk, stretch.start, stretch.stop):
        start = first
        for place in range(first + 1, last - 1):
            if words(talk)[place] in ("and", "plus") and _another(talk, start, place, last):
                yield _trimmed(talk, start, place, stretch.rule)
                start = place + 1
        yield _trimmed(talk, start, last, stretch.rule)


def _another(talk: Talk, start: int, place: int, stop: int) -> bool:
    """Tell whether another subject or kind of phrase follows: "low pressure and it surges"."""
    texts, kinds = words(talk), tags(talk)
    following = texts[place + 1]
    if _hangs_together(talk, start, place):
        return False
    if following in SUBJECTS or following in (
        "half",
        "lots",
        "loads",
        "plenty",
        "no",
        "there",
        "there's",
        "sometimes",
        "now",
        "all",
        "some",
    ):
        return True
    left, right = _is_verbal(talk, _content(talk, start, place)), _is_verbal(talk, place + 1)
    if left != right:
        return not (kinds[place + 1] & Tag.STATE and kinds[place - 1] & Tag.STATE)
    if left and right and _finite(talk, place + 1):
        return place - start > 2
    if kinds[place + 1] & Tag.STATE and not kinds[place - 1] & Tag.STATE:
        return not left
    return (
        not left
        and place - start > 2
        and any(
            kind & (Tag.COPULA | Tag.FAULT | Tag.BEHAVIOUR | Tag.MODAL)
            for kind in kinds[place + 2 : stop]
        )
    )


def _hangs_together(talk: Talk, start: int, place: int) -> bool:
    """Tell "up and down", "cranks and cranks", "and then" and "you pull and it kicks"."""
    before, after = words(talk)[place - 1], words(talk)[place + 1]
    ways = before in WAYS and after in WAYS
    then = after == "then" and not _then_fails(talk, place + 1, place + THEN)
    repeated = before == after and after not in SUBJECTS
    return ways or repeated or then or words(talk)[start] == "you"


def _then_fails(talk: Talk, start: int, stop: int) -> bool:
    """Tell "then it's lumpy", a complaint of its own, from "then it comes back"."""
    said = talk.utterance(talk.utterance_of[start])
    return words(talk)[start] == "then" and _is_symptom(talk, start + 1, min(stop, said.end))


def _finite(talk: Talk, place: int) -> bool:
    """Tell "won't build past thirty" and "goes again", which stand for a whole statement."""
    kind, text = tags(talk)[place], words(talk)[place]
    denied = kind & Tag.MODAL and kind & Tag.NEGATION and text not in ("no", "not", "never")
    does = kind & (Tag.LINKING | Tag.FAULT) and not kind & Tag.HEAD
    return bool(denied) or (text.endswith("s") and bool(does))


def _content(talk: Talk, start: int, stop: int) -> int:
    while start < stop - 1 and words(talk)[start] in IDLE:
        start += 1
    return start


def _is_verbal(talk: Talk, place: int) -> bool:
    """Tell whether a phrase begins with a verb ("surges", "won't crank")."""
    kind, text = tags(talk)[place], words(talk)[place]
    if kind & (Tag.MODAL | Tag.COPULA | Tag.LINKING | Tag.HAVE) and text != "no":
        return True
    return bool(kind & (Tag.FAULT | Tag.BEHAVIOUR | Tag.VERB)) or (
        text.endswith("s") and not kind & (Tag.HEAD | FUNCTION) and not text.endswith("ss")
    )


def _trimmed(talk: Talk, start: int, stop: int, rule: str) -> Announced:
    texts = words(talk)
    while start < stop - 1 and (
        texts[start] in IDLE
        or tags(talk)[start] & Tag.FILLER
        or texts[start] in ("'s", "is", "was")
    ):
        start += 1
    while stop - 1 > start and tags(talk)[stop - 1] & Tag.FILLER:
        stop -= 1
    return Announced(start, start, stop, rule)


def _says_something(talk: Talk, phrase: Announced) -> bool:
    light = Tag.PRONOUN | Tag.DETERMINER | Tag.PREPOSITION | Tag.COPULA
    plain = Tag.FILLER | Tag.PUNCTUATION | Tag.NUMBER | light
    said = tags(talk)[phrase.start : phrase.stop]
    wrong = _sounds_wrong(talk, phrase.start, phrase.stop)
    praised = bool(said) and bool(said[0] & Tag.GOOD) and not wrong
    return any(not kind & plain for kind in said) and not _sound(said) and not praised


def _sound(said: tuple[int, ...]) -> bool:
    """Tell "engine runs", which complains of nothing."""
    named = Tag.HEAD | Tag.MODIFIER | Tag.DETERMINER | Tag.PRONOUN
    last = said[-1] if len(said) < 3 or not said[-1] & (Tag.GOOD | Tag.ADVERB) else said[-2]
    denied = any(kind & (Tag.NEGATION | Tag.CONJUNCTION) for kind in said)
    begun = 1 < len(said) < 5 and said[0] & named and not denied
    return bool(begun and last & Tag.BEHAVIOUR and not last & (Tag.STATE | Tag.FAULT | Tag.HEAD))


def _text(talk: Talk, phrase: Announced) -> str:
    return talk.text(phrase.start, phrase.stop).rstrip(",.;:")
