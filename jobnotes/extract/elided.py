"""A state told without its thing: "not sheared", "Milky.", "..., broken"."""

from jobnotes.extract.clauses import Clause
from jobnotes.extract.cues import cues
from jobnotes.extract.lexicon import Tag, tags
from jobnotes.extract.nouns import Noun, antecedent
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import words

SHORT = 2  # words of a state that may follow at some distance ("..., broken")
ALONE = 4  # tokens; an utterance so short may tell only a state


def just_named(talk: Talk, clause: Clause) -> Noun | None:
    """Return what the clause before is about, for a bare word that says what is wrong with it."""
    meant = antecedent(talk, clause.start)
    short = clause.stop - clause.start <= SHORT
    told = cues(talk, "findings.bad", clause.start, min(clause.start + SHORT, clause.stop))
    bare = (short or told) and not tags(talk)[clause.start] & Tag.GOOD
    if meant is None or not bare or talk.utterance_of[meant.start] != clause.utterance:
        return None
    return Noun(meant.start, meant.stop, meant.name)


def named_before(talk: Talk, clause: Clause) -> Noun | None:
    """Return what an utterance that says nothing but a state ("Milky.") is about."""
    said = talk.utterance(clause.utterance)
    meant = antecedent(talk, clause.start)
    whole = clause.start == said.start and said.end - clause.stop <= 1 and len(said) <= ALONE
    if not whole or meant is None or clause.utterance - talk.utterance_of[meant.start] != 1:
        return None
    return Noun(meant.start, meant.stop, meant.name)


def starts_name(talk: Talk, clause: Clause) -> bool:
    """Tell "torn diaphragm" and "good blue spark", where the state belongs to what follows it."""
    kinds = tags(talk)[clause.start + 1 : clause.stop]
    return any(kind & Tag.HEAD for kind in kinds[:2]) and not tags(talk)[clause.start] & (
        Tag.NEGATION | Tag.COPULA
    )


def shares_verb(talk: Talk, clause: Clause, start: int) -> bool:
    """Tell "stripped and cleaned it", which is work, from a state at token `start`."""
    shared = words(talk)[clause.stop : clause.stop + 1] == ("and",)
    return shared and bool(tags(talk)[start] & Tag.VERB)
