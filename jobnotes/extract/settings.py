"""Settings told by the figure they were brought to: "nudged it to two thousand"."""

from collections.abc import Iterator

from jobnotes.extract.clauses import Clause
from jobnotes.extract.lexicon import Tag, tags
from jobnotes.extract.modality import told_as_done
from jobnotes.extract.nouns import Noun, antecedent, noun_at
from jobnotes.extract.talk import Talk
from jobnotes.extract.vocabulary import group, singular_of, words
from jobnotes.extract.worked import Done

VERBS = group("settings", "verbs")
BARE = group("settings", "bare")
VOLUMES = group("fills", "volumes")
SLIGHT = group("settings", "slight")
WAYS = group("settings", "ways")
LEAD = 3  # tokens before the verb ("so I've just")


def settings(talk: Talk, clause: Clause) -> Iterator[Done]:
    """Give the setting of what was spoken of, if the clause says to what figure it was brought."""
    texts = words(talk)
    stop = min(clause.start + LEAD, clause.stop)
    place = next((n for n in range(clause.start, stop) if texts[n] in VERBS | BARE), None)
    if place is None or texts[place + 1 : place + 2] not in (("it",), ("them",)):
        return
    poured = VOLUMES & set(texts[place : clause.stop])
    if poured or not _to_figure(talk, clause, place) or not told_as_done(talk, clause, place):
        return
    what = _measured(talk, clause)
    if what:
        tyre = singular_of(what.name.split()[-1]) in ("tyre", "tire")
        verb = "inflate" if tyre else "adjust"
        yield Done(verb, what, clause.start, clause.stop, "actions.set")


def _to_figure(talk: Talk, clause: Clause, place: int) -> bool:
    """Tell "it up to NUMBER" and "it in half a turn"; a bare figure only after "gave" or "made"."""
    texts, kinds = words(talk), tags(talk)
    after = place + 2
    while after < clause.stop and texts[after] in WAYS:
        after += 1
    led = after < clause.stop and texts[after] in ("to", "at", "by")
    slight = set(texts[after : clause.stop]) & SLIGHT
    bare = texts[place] in BARE
    after += led or (after < clause.stop and texts[after] in ("a", "an", "another", "about"))
    figure = after < clause.stop and bool(kinds[after] & Tag.NUMBER)
    return (led and figure) or (bare and figure) or (after > place + 2 and bool(slight))


def _measured(talk: Talk, clause: Clause) -> Noun | None:
    """Return what the utterance began by naming, or the component spoken of."""
    begin = talk.starts[clause.utterance]
    named = noun_at(talk, begin, clause.start) if begin < clause.start else None
    if named and tags(talk)[named.stop - 1] & (Tag.ASPECT | Tag.HEAD):
        return named
    meant = antecedent(talk, clause.start)
    if meant and clause.utterance - talk.utterance_of[meant.start] > 1:
        return None
    return Noun(meant.start, meant.stop, meant.name) if meant else None
