"""Whether a clause tells what was done, or what is denied, advised, planned or done by another."""

from bisect import bisect_left

from jobnotes.extract.clauses import Clause
from jobnotes.extract.cues import cues
from jobnotes.extract.damages import others_act
from jobnotes.extract.lexicon import Tag, tags
from jobnotes.extract.private import private_utterances
from jobnotes.extract.sections import role_at
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import group, once_a_talk, words
from jobnotes.record import AnyFact, Withdrawn

LATER = 3  # tokens of "until it comes" before "I have sealed"
ADVISED = 12  # tokens back to the advice that a second verb shares
UNREAL = group("modality", "unreal")  # what these lead in was not done here


def told_as_done(talk: Talk, clause: Clause, verb: int) -> bool:
    """Tell whether the verb at token `verb` states work done here, not advised or denied."""
    if cues(talk, "actions.not_done_kept", clause.start, verb):
        return not _by_another(talk, clause, verb)
    said = talk.starts[clause.utterance]
    if words(talk)[verb].endswith("ing") and any(
        cues(talk, f"recommendations.{rule}", said, verb) for rule in ("advises", "tells")
    ):
        return False
    later = any(kind & Tag.US for kind in tags(talk)[clause.start + LATER : verb])
    if (words(talk)[clause.start] in UNREAL and not later) or clause.link in UNREAL:
        return False
    if clause.link in ("and", "or") and verb == clause.start and _advised_before(talk, clause):
        return False
    before = tags(talk)[clause.start : verb]
    if any(kind & (Tag.MODAL | Tag.NEGATION) for kind in before) or cues(
        talk, "actions.not_done", clause.start, verb + 1
    ):
        return False
    return not _by_another(talk, clause, verb)


def _advised_before(talk: Talk, clause: Clause) -> bool:
    """Tell "have the tank drained and cleaned", where the advice covers the second verb too."""
    begin = max(talk.starts[clause.utterance], clause.start - ADVISED)
    rules = ("recommendations.advises", "recommendations.tells")
    return any(cues(talk, rule, begin, clause.start) for rule in rules)


def _by_another(talk: Talk, clause: Clause, verb: int) -> bool:
    """Tell whether somebody outside the shop is the subject ("he swapped the plug himself")."""
    kinds, texts = tags(talk), words(talk)
    if verb == clause.start and others_act(talk, clause):
        return True
    for place in range(clause.start, verb):
        if kinds[place] & Tag.US:
            return False
        passive = texts[place] == "they" and bool(kinds[place + 1] & Tag.COPULA)
        beside = texts[max(place - 1, 0)] in ("for", "with", "to", "by")
        if kinds[place] & Tag.PERSON and not passive and not beside:
            return True
    return False


def is_private(talk: Talk, clause: Clause) -> bool:
    """Tell whether a clause belongs to a private remark."""
    return clause.utterance in private_utterances(talk)


def in_section(talk: Talk, clause: Clause, *roles: str) -> bool:
    """Tell whether a clause stands in one of the named sections of the job sheet."""
    return role_at(talk, clause.start) in roles


@once_a_talk
def _starts_of_words(talk: Talk) -> dict[tuple[str, int], int]:
    seats = [(word.recording, word.index) for word in talk.job.words]
    place: dict[tuple[str, int], int] = {}
    for token, position in enumerate(talk.word_of):
        place.setdefault(seats[position], token)
    return place


def tokens_of(talk: Talk, fact: AnyFact) -> tuple[int, int]:
    """Return the first and last token (stop excluded) of a fact's first evidence."""
    place = _starts_of_words(talk)
    said = fact.evidence[0]
    start = place[said.recording, said.first]
    stop = bisect_left(talk.word_of, talk.word_of[place[said.recording, said.last]] + 1)
    return start, stop


def withdrawn_tokens(talk: Talk, facts: tuple[AnyFact, ...]) -> frozenset[int]:
    """Return the tokens of everything that was taken back."""
    taken: set[int] = set()
    for fact in facts:
        if isinstance(fact, Withdrawn):
            taken.update(range(*tokens_of(talk, fact)))
    return frozenset(taken)
